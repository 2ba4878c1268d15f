package screen

import (
	"fmt"
	"slices"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

// Designs shows the options of each choice side by side, and beneath them what getting at
// all that is serviced costs in a year. The zero Designs has no data yet.
type Designs struct {
	data Data
	on   id.Option   // under the cursor; empty: the first
	list widget.List // of the burden
}

// Scope is DesignsScope.
func (s Designs) Scope() string { return DesignsScope }

// With shows other data.
func (s Designs) With(d Data) Screen {
	s.data = d
	if d.View == nil || d.Burden == nil {
		return s
	}
	s.list = s.list.WithRows(s.rows()).Sized(max(1, d.Lines/4))
	return s
}

func (s Designs) rows() []widget.Row {
	rows := make([]widget.Row, len(s.data.Burden.Items))
	for i, b := range s.data.Burden.Items {
		rows[i] = widget.Row{ID: string(b.ID), Text: s.data.thing(string(b.ID)), Note: burdenNote(b)}
		if b.MinutesPerYear == nil {
			rows[i].Tone = widget.Bad
		}
	}
	return rows
}

func burdenNote(b answer.Burdened) string {
	if b.MinutesPerYear == nil || b.ReachMin == nil {
		return "cannot be reached"
	}
	return fmt.Sprintf("%s a year: %.4g × %s", yearly(*b.MinutesPerYear), b.PerYear, minutesOf(*b.ReachMin))
}

// options gives the options choice by choice, in the order in which choices first come.
func (s Designs) options() []build.Option {
	var choices []string
	of := map[string][]build.Option{}
	for _, o := range s.data.View.Build.Options.Rows {
		if len(of[o.Choice]) == 0 {
			choices = append(choices, o.Choice)
		}
		of[o.Choice] = append(of[o.Choice], o)
	}
	var out []build.Option
	for _, c := range choices {
		out = append(out, of[c]...)
	}
	return out
}

// cursor gives the options, and which of them is under the cursor; -1 where there are none.
func (s Designs) cursor() ([]build.Option, int) {
	options := s.options()
	at := slices.IndexFunc(options, func(o build.Option) bool { return o.ID == s.on })
	if at < 0 && len(options) > 0 {
		at = 0
	}
	return options, at
}

// Do goes along the options and the list beneath, and asks for an option to be chosen.
func (s Designs) Do(a Action) (Screen, Effect) {
	if k, ok := movement(a); ok {
		s.list, _ = s.list.Key(k)
		return s, nil
	}
	if s.data.View == nil {
		return s, nil
	}
	options, at := s.cursor()
	if at < 0 {
		return s, nil
	}
	switch a {
	case OptionBefore:
		s.on = options[max(0, at-1)].ID
	case OptionAfter:
		s.on = options[min(at+1, len(options)-1)].ID
	case ChooseOption:
		if options[at].Chosen {
			return s, Refuse{Text: optionTitle(options[at]) + " is chosen already"}
		}
		return s, Choose{Option: options[at].ID}
	}
	return s, nil
}

func optionTitle(o build.Option) string {
	if o.Name == "" {
		return string(o.ID)
	}
	return o.Name
}

// Typed has no use for letters.
func (s Designs) Typed(widget.Key) (Screen, Effect, bool) { return s, nil, false }

// Focus is the serviced item under the cursor, in the finished van.
func (s Designs) Focus() Focus {
	row, ok := s.list.Selected()
	if !ok {
		return Focus{}
	}
	return Focus{Targets: []string{row.ID}, Fitted: answer.FittedAll}
}
