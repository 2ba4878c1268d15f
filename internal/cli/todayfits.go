package cli

import (
	"fmt"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/units"
)

// fits prints what fits into the hours at hand, place by place.
func (v *todayVerb) fits(view *answer.View, f answer.Fits, hours float64) {
	v.say("")
	hand := units.Minutes(units.RoundMinutes(hours))
	if len(f.Groups) == 0 {
		v.say("no task fits into %s", hand)
	} else {
		v.say("fits into %s, in %s:", hand, units.Minutes(f.Minutes))
	}
	for i, g := range f.Groups {
		v.wrap(fmt.Sprintf("%2d. ", i+1), groupHead(view, g))
		for _, t := range g.Tasks {
			left := units.Minutes(view.Live.Tasks[view.Live.TaskAt[t]].LeftMinutes())
			v.wrap(fmt.Sprintf("    %7s  ", left), fmt.Sprintf("%s: %s", t, v.title(view, t)))
		}
		if len(g.Tools) > 0 {
			v.wrap("      tools: ", strings.Join(g.Tools, ", "))
		}
		if len(g.Parts) > 0 {
			v.wrap("      parts: ", partTitles(view, g))
		}
	}
	if b := f.Begin; b != nil {
		v.wrap("then: ", fmt.Sprintf("begin %s: %s, %s of work%s", b.Task, v.title(view, b.Task), units.Minutes(b.Minutes),
			accessText(b.AccessMin)))
	}
}

func groupHead(view *answer.View, g answer.Fit) string {
	place := "anywhere"
	if i, ok := view.Live.PlaceAt[g.Place]; ok {
		place = view.Live.Places[i].Title()
	}
	text := fmt.Sprintf("%s, %s%s", place, units.Minutes(g.Minutes), accessText(g.AccessMin))
	if g.SavedMin > 0 {
		text += fmt.Sprintf(", %s less than one by one", mins(g.SavedMin))
	}
	if g.Persons > 1 {
		text += fmt.Sprintf("; takes %d people to open", g.Persons)
	}
	return text
}

func accessText(min float64) string {
	if min == 0 {
		return ""
	}
	return ", with " + mins(min) + " to get at it"
}

func partTitles(view *answer.View, g answer.Fit) string {
	var names []string
	for _, p := range g.Parts {
		names = append(names, view.Live.Parts[view.Live.PartAt[p]].Title())
	}
	return strings.Join(names, ", ")
}
