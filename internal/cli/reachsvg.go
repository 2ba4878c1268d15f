package cli

import (
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/id"
)

// draw writes the way as a drawing, to a file or to stdout.
func (v *reachVerb) draw(view *answer.View, r reached) error {
	return v.drawInto(v.svg, draw.ReachSVG(sceneOf(view, r.Reach), captionOf(view, r)))
}

// sceneOf gives the van with the way in it. Only the items that the way names are in it: a
// van full of marks shows nothing.
func sceneOf(view *answer.View, r answer.Reach) draw.Scene {
	s := draw.Scene{Vehicle: view.Build.Head.Vehicle, Places: view.Live.Places}
	for _, name := range r.Targets {
		s.Selected = append(s.Selected, markAt(view, name))
	}
	named := map[id.Item]bool{}
	for i, step := range r.Steps {
		at := draw.Target{Place: id.Place(step.Place), Item: id.Item(step.Item)}
		s.Way = append(s.Way, draw.Mark{Step: i + 1, Target: at})
		named[at.Item] = true
	}
	s.Items = slices.DeleteFunc(slices.Clone(view.Live.Items), func(x access.Item) bool { return !named[x.ID] })
	return s
}

// markAt gives where a target is: a name that is both is the item.
func markAt(view *answer.View, name string) draw.Target {
	if _, item := view.Live.ItemAt[id.Item(name)]; item {
		return draw.Target{Item: id.Item(name)}
	}
	return draw.Target{Place: id.Place(name)}
}

// captionOf gives the words under the drawing; how an item is refitted stands at its step.
func captionOf(view *answer.View, r reached) draw.Caption {
	var titles []string
	for _, name := range r.Targets {
		titles = append(titles, title(view, name))
	}
	c := draw.Caption{Title: "The way to " + strings.Join(titles, ", "), Summary: summary(r.Reach)}
	for _, caution := range r.Cautions {
		c.Cautions = append(c.Cautions, caution.Text)
	}
	back := map[string]string{}
	for _, s := range r.Refit {
		back[s.Item] = "; back: " + refitText(view, s)
	}
	for i, s := range r.Steps {
		text := stepText(view, s)
		if s.Do == string(access.Open) {
			text += back[s.Item]
		}
		c.Legend = append(c.Legend, draw.StepText{Step: i + 1, Text: text})
	}
	return c
}

func summary(r answer.Reach) string {
	text := fmt.Sprintf("%s in and back, 1 person", mins(r.CostMin))
	if r.Persons > 1 {
		text = fmt.Sprintf("%s in and back, %d persons", mins(r.CostMin), r.Persons)
	}
	if len(r.Tools) > 0 {
		text += "; tools: " + strings.Join(r.Tools, ", ")
	}
	return text
}
