package sums

import (
	"fmt"

	"example.com/vanlog/internal/reckon"
)

func torque() Sum {
	return Sum{Name: "torque", About: "torque of a bolt from its force: T = K × d × F", Fields: []Field{
		{Name: "k", Label: "Nut factor K", Hint: "about 0.20 dry, 0.15 oiled", Default: "0.20"},
		{Name: "d", Label: "Diameter", Hint: "of the thread, such as 8 mm", Needed: true},
		{Name: "force", Label: "Force", Hint: "in the bolt, such as 15.9 kN", Needed: true},
	}, work: func(a asked) (Answer, error) {
		k, err := a.number("k")
		if err != nil {
			return Answer{}, err
		}
		q, err := a.quantities("d", "force")
		if err != nil {
			return Answer{}, err
		}
		v, err := reckon.BoltTorque(k, q[0], q[1])
		return valued(v, err, "torque", 1, "lbf·ft", "lbf·in")
	}}
}

func class88() Sum {
	return Sum{Name: "class88", About: "torques of steel bolts of class 8.8, from four sources that differ", Fields: []Field{sizeField()},
		work: func(a asked) (Answer, error) { return tables(reckon.Class88(), a.text["size"]) }}
}

func lugs() Sum {
	return Sum{Name: "lugs", About: "typical torques of electrical lugs", Fields: []Field{sizeField()},
		work: func(a asked) (Answer, error) { return tables(reckon.LugTorques(), a.text["size"]) }}
}

func sizeField() Field {
	return Field{Name: "size", Label: "Size", Hint: "such as M8; empty: all sizes"}
}

// tables gives the rows of a size, or all, each with its source.
func tables(from []reckon.TorqueTable, size string) (Answer, error) {
	out := Answer{}
	for _, t := range from {
		for _, r := range t.Rows {
			if size != "" && r.Size != size {
				continue
			}
			text := fmt.Sprintf("%s: %.4g N·m", r.Size, r.Low)
			if r.High != r.Low {
				text = fmt.Sprintf("%s: %.4g to %.4g N·m", r.Size, r.Low, r.High)
			}
			out.Lines = append(out.Lines, fmt.Sprintf("%s (%s; %s; %s)", text, t.Name, t.Condition, t.Note.Source))
			out.Note.Caution = t.Note.Caution
		}
	}
	if len(out.Lines) == 0 {
		return out, fmt.Errorf("size: %q is in no table, want for example M6 or M8", size)
	}
	return out, nil
}

func crowfoot() Sum {
	return Sum{Name: "crowfoot", About: "what to set on a torque wrench with an extension across its arm", Fields: []Field{
		{Name: "wanted", Label: "Torque wanted", Hint: "at the bolt, such as 40 N·m", Needed: true},
		{Name: "arm", Label: "Arm", Hint: "from the middle of the grip to the drive, such as 400 mm", Needed: true},
		{Name: "extension", Label: "Extension", Hint: "from the drive to the bolt, such as 50 mm", Needed: true},
		{Name: "angle", Label: "Angle", Hint: "degrees: 0 in line with the arm, 90 square to it", Default: "0"},
	}, work: func(a asked) (Answer, error) {
		angle, err := a.number("angle")
		if err != nil {
			return Answer{}, err
		}
		q, err := a.quantities("wanted", "arm", "extension")
		if err != nil {
			return Answer{}, err
		}
		v, err := reckon.CrowFoot(q[0], q[1], q[2], angle)
		return valued(v, err, "set the wrench to", 1, "lbf·ft", "lbf·in")
	}}
}
