package answer

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// Caution is a usual warning of the trade about something that is about to be done.
type Caution struct {
	Ref    string `json:"ref"`  // the item or place it is about
	Kind   string `json:"kind"` // persons, mass, hot, single-use, gas, mains
	Text   string `json:"text"`
	Source string `json:"source,omitempty"`
}

// oneLifts is the most that one person should lift, in kilograms: the load constant of the
// revised NIOSH lifting equation, which holds under the best conditions only.
const oneLifts = 23

// bentLifts is the mass from which a load that is lifted in another posture than upright wants
// a look of its own, in kilograms: the least of the zones of the HSE lifting filter at
// arm's length for men, from memory; the filter itself assumes an upright, stable posture.
const bentLifts = 5

const (
	nioshSource = "revised NIOSH lifting equation, Publication 94-110, load constant 23 kg"
	hseSource   = "Publication 94-110 and HSE L23 assume an upright, stable posture"
	practice    = "common practice"
)

// Cautions gives the usual warnings about what a way opens and leads to, each once, in the
// order of its steps. It never gives nil.
func (v *View) Cautions(r Reach) []Caution {
	out := []Caution{}
	for _, s := range r.Steps {
		if s.Item != "" {
			out = joined(out, v.ItemCautions(id.Item(s.Item)))
		}
		if s.Do == string(access.At) {
			out = joined(out, v.licensed(cmp.Or(s.Item, s.Place)))
		}
	}
	return out
}

// ItemCautions gives the usual warnings about opening, lifting and touching an item. It
// never gives nil.
func (v *View) ItemCautions(x id.Item) []Caution {
	out := []Caution{}
	at, ok := v.Live.ItemAt[x]
	if !ok {
		return out
	}
	title, o := v.itemTitle(x), v.Live.Items[at].Opening
	if o != nil && o.Persons >= 2 {
		out = append(out, Caution{Ref: string(x), Kind: "persons", Text: fmt.Sprintf("%s: opening it takes %d people", title, o.Persons)})
	}
	if o != nil && o.SingleUse {
		out = append(out, Caution{Ref: string(x), Kind: "single-use", Text: title + ": cannot be refitted, have a new one at hand"})
	}
	return append(out, v.lifting(x)...)
}

// lifting gives the warnings about the load and the heat of an item.
func (v *View) lifting(x id.Item) []Caution {
	var out []Caution
	item := v.Live.Items[v.Live.ItemAt[x]]
	if item.MassKg > oneLifts {
		out = append(out, Caution{Ref: string(x), Kind: "mass", Source: nioshSource, Text: fmt.Sprintf(
			"%s: %s kg, above the %d kg that one person lifts under the best conditions; less when bent or at arm's length",
			item.Title(), kilograms(item.MassKg), oneLifts)})
	}
	if posture := v.posture(item.Place); item.MassKg >= bentLifts && !upright(posture) {
		out = append(out, Caution{Ref: string(x), Kind: "mass", Source: hseSource, Text: fmt.Sprintf(
			"%s: %s kg (posture there: %s); lifting guidelines assume an upright one, so this load wants a look of its own",
			item.Title(), kilograms(item.MassKg), posture)})
	}
	if item.RunsHot {
		out = append(out, Caution{Ref: string(x), Kind: "hot", Source: practice, Text: item.Title() + ": runs hot, let it cool down first"})
	}
	return out
}

// kilograms gives a mass to the gram.
func kilograms(kg float64) string { return strconv.FormatFloat(math.Round(kg*1000)/1000, 'f', -1, 64) }

func (v *View) posture(p id.Place) string {
	if at, ok := v.Live.PlaceAt[p]; ok {
		return v.Live.Places[at].Posture
	}
	return ""
}

// upright reports whether a person stands in a posture; where it is not said, one does.
func upright(posture string) bool {
	return posture == "" || strings.HasPrefix(strings.ToLower(posture), "stand")
}

// licensed gives the warnings about the trades of the tasks at a target, item or place.
func (v *View) licensed(target string) []Caution {
	var out []Caution
	for _, t := range v.Live.Tasks {
		at := t.Place == id.Place(target)
		if _, item := v.Live.ItemAt[id.Item(target)]; item {
			at = slices.Contains(t.Fits, id.Item(target)) || slices.Contains(t.Reaches, id.Item(target))
		}
		if at {
			out = joined(out, tradeCautions(target, t.Trade+" "+t.Name))
		}
	}
	return out
}

// tradeCautions gives the warnings about a piece of work, by the words in its trade and name.
func tradeCautions(ref, work string) []Caution {
	var out []Caution
	words := strings.FieldsFunc(strings.ToLower(work), func(r rune) bool { return !unicode.IsLetter(r) })
	has := func(any ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(any, w) })
	}
	if has("gas", "lpg", "propane", "butane") {
		out = append(out, Caution{Ref: ref, Kind: "gas", Source: practice,
			Text: "gas: local rules and licensed practice prevail; leaks by soap, never by flame"})
	}
	if has("mains", "shore", "electrics", "electrical", "electricity") {
		out = append(out, Caution{Ref: ref, Kind: "mains", Source: practice,
			Text: "electrics: isolate and prove dead; on mains, licensed practice prevails"})
	}
	return out
}
