package sums

import (
	"fmt"
	"strings"

	"example.com/vanlog/internal/reckon"
)

func cures() Sum {
	return Sum{Name: "cures", About: "how long glues, sealants and paints cure, by class", Fields: []Field{
		{Name: "class", Label: "Class", Hint: "some letters of it, such as epoxy; empty: all"},
	}, work: func(a asked) (Answer, error) {
		out := Answer{Note: reckon.Note{Caution: "The sheet of the tube prevails. Cold and dry air slow everything that needs moisture."}}
		for _, c := range reckon.CureClasses() {
			if strings.Contains(strings.ToLower(c.Name), strings.ToLower(a.text["class"])) {
				out.Lines = append(out.Lines, fmt.Sprintf("%s: %s; full %s; %s (%s)", c.Name, c.Handling, c.Full, c.Warmth, c.Source))
			}
		}
		if len(out.Lines) == 0 {
			return out, fmt.Errorf("class: no class has %q in its name", a.text["class"])
		}
		return out, nil
	}}
}

func rules() Sum {
	return Sum{Name: "rules", About: "rules for fuses, terminals, batteries and cables, borrowed from small craft", Fields: []Field{
		{Name: "about", Label: "About", Hint: "some letters, such as battery; empty: all"},
	}, work: func(a asked) (Answer, error) {
		out := Answer{Note: reckon.Note{Caution: "Vans have no single rule of their own: these are borrowed. Mains work is for licensed people."}}
		for _, r := range reckon.WiringRules() {
			if strings.Contains(strings.ToLower(r.Text), strings.ToLower(a.text["about"])) {
				out.Lines = append(out.Lines, fmt.Sprintf("%s (%s)", r.Text, r.Source))
			}
		}
		if len(out.Lines) == 0 {
			return out, fmt.Errorf("about: no rule says %q", a.text["about"])
		}
		return out, nil
	}}
}
