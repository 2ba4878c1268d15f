package tui

import (
	"strings"

	"example.com/vanlog/internal/reckon"
	"example.com/vanlog/internal/sums"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// sumsMenu lists the sums at the bench.
func sumsMenu() listing {
	p := listing{title: "The sums at the bench"}
	p.has = newListed("")
	for _, s := range sums.All() {
		p.has.row(widget.Row{ID: s.Name, Text: s.About}, screen.Focus{}, openPage{newSumPage(s)})
	}
	p.list = widget.NewList(p.has.rows, "")
	return p
}

// sumPage asks for what a sum needs, with the answer live beneath.
type sumPage struct {
	sum    sums.Sum
	form   widget.Form
	answer sums.Answer
	wrong  string
}

func newSumPage(s sums.Sum) sumPage {
	var fields []widget.Field
	for _, f := range s.Fields {
		field := widget.Field{Name: f.Name, Label: f.Label, Hint: f.Hint, Value: f.Default}
		if len(f.Words) > 0 {
			field.Asks, field.Words = widget.Choose, f.Words
		}
		fields = append(fields, field)
	}
	return sumPage{sum: s, form: widget.NewForm(s.About, fields...)}.reckoned()
}

func (p sumPage) Scope() string                                   { return formScope }
func (p sumPage) Do(screen.Action) (screen.Screen, screen.Effect) { return p, nil }
func (p sumPage) With(screen.Data) screen.Screen                  { return p }

// Typed fills in, and works the sum out anew; esc goes back at once: there is nothing to keep.
func (p sumPage) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	if k.Name == "esc" {
		return p, closePage{}, true
	}
	form, out := p.form.Key(k)
	if out == widget.Cancelled {
		return p, closePage{}, true
	}
	p.form = form
	return p.reckoned(), nil, true
}

func (p sumPage) reckoned() sumPage {
	typed := map[string]string{}
	for _, f := range p.sum.Fields {
		typed[f.Name] = p.form.Value(f.Name)
	}
	a, err := p.sum.Of(typed)
	p.answer, p.wrong = a, ""
	if err != nil {
		p.wrong = err.Error()
	}
	return p
}

// View draws the form, and beneath it the answer with where it is from.
func (p sumPage) View(st widget.Styles, w, h int) string {
	facts := []screen.Fact{{Text: p.wrong, Tone: widget.Warn}}
	if p.wrong == "" {
		facts = nil
		for i, line := range p.answer.Lines {
			facts = append(facts, screen.Fact{Label: []string{"answer", ""}[min(i, 1)], Text: line, Tone: widget.Good})
		}
		n := p.answer.Note
		facts = append(facts, screen.Fact{Label: "formula", Text: n.Formula}, screen.Fact{Label: "source", Text: n.Source},
			screen.Fact{Label: "caution", Text: strings.TrimSpace(n.Caution + " " + reckon.Standing), Tone: widget.Warn})
	}
	foot := screen.Facts(st, w, facts...)
	foot = foot[:min(len(foot), max(0, h*3/5))]
	if h < 8 {
		foot = nil
	}
	return widget.Cells(p.form.View(st, w, h-len(foot))+"\n"+strings.Join(foot, "\n"), w, h)
}
