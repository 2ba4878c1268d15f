package sums

import (
	"strings"
	"testing"
)

// What is asked as a person types it, and what the published or reckoned value beside it is.
func TestAnswers(t *testing.T) {
	for _, tt := range []struct {
		sum    string
		typed  map[string]string
		lines  []string
		source string
	}{
		// ISO 898-1 (from memory), T = K × d × F: M8, 75 % of proof, 15.9 kN, K 0.20: 25.5 N·m.
		{"torque", map[string]string{"d": "8 mm", "force": "15.921 kN"}, []string{"torque 25.5 N·m", "that is 18.8 lbf·ft"}, "formula"},
		{"torque", map[string]string{"k": "0.15", "d": "8 mm", "force": "15.921 kN"}, []string{"torque 19.1 N·m"}, ""},
		// Lever law: 25 N·m with an arm of 400 mm and 50 mm in line is 22.2 N·m on the wrench; square to it 25.
		{"crowfoot", map[string]string{"wanted": "25 N·m", "arm": "400 mm", "extension": "50 mm"}, []string{"set the wrench to 22.2 N·m"}, "lever law"},
		{"crowfoot", map[string]string{"wanted": "25 N·m", "arm": "400 mm", "extension": "50 mm", "angle": "90"}, []string{"set the wrench to 25.0 N·m"}, ""},
		// IEC 60228 class 5: 12 V, 5 A, 4.5 m in 2.5 mm² drops 0.359 V, 2.99 %, at 20 °C, 3.59 % at 70 °C.
		{"drop", map[string]string{"current": "5 A", "length": "4.5 m", "size": "2.5"}, []string{"in size 2.5: 0.359 V, 2.99 %", "IEC 60228 class 5"}, "20 °C"},
		{"drop", map[string]string{"current": "5 A", "length": "4.5 m", "size": "2.5", "celsius": "70"}, []string{"3.59 %"}, "70 °C"},
		{"wire", map[string]string{"current": "5 A", "length": "4.5 m", "celsius": "70"}, []string{"smallest size 4:"}, ""},
		// ASTM B258: 10 AWG is 5.261 mm², 2.588 mm across, 10 383 circular mils.
		{"awg", map[string]string{"size": "10"}, []string{"5.261 mm², 2.588 mm across", "10383 circular mils"}, "B258"},
		{"class88", map[string]string{"size": "M8"}, []string{"M8: 25.5 N·m (reckoned", "M8: 22 to 28 N·m"}, ""},
		{"lugs", map[string]string{"size": "M10"}, []string{"M10: 13 to 16 N·m"}, ""},
		// NIST SP 811, Appendix B: 25 N·m are 221.3 lbf·in and 18.44 lbf·ft.
		{"crowfoot", map[string]string{"wanted": "25 N·m", "arm": "400 mm", "extension": "0 mm"}, []string{"25.0 N·m", "that is 18.4 lbf·ft", "that is 221.3 lbf·in"}, ""},
		// A seventh of 40 1/2 in is 5 11/14 in, on a ruler of 1/32 in 5 25/32, 146.96 mm.
		{"length", map[string]string{"sum": "40 1/2 in / 7"}, []string{"5 11/14 in", "that is 146.957 mm", "1/32 in: 5 25/32 in"}, ""},
		// Fractions, exact: 96 in less four of 23 1/2 and three kerfs of 1/8 leaves 1 5/8 in, 41.275 mm.
		{"length", map[string]string{"sum": "96 in - 4 × 23 1/2 in - 3 × 1/8 in"}, []string{"1 5/8 in", "that is 41.275 mm"}, "SP 811"},
		{"length", map[string]string{"sum": "3 5/8 in + 1 7/16 in"}, []string{"5 1/16 in"}, ""},
		{"length", map[string]string{"sum": "17 3/8 in / 2"}, []string{"8 11/16 in"}, ""},
		{"length", map[string]string{"sum": "1234 mm"}, []string{"1/16 in: 48 9/16 in (-0.51 mm)", "1/32 in: 48 19/32 in (+0.28 mm)", "1/64 in: 48 37/64 in (-0.12 mm)"}, ""},
		{"length", map[string]string{"sum": "- 10 mm + 25 mm"}, []string{"15 mm"}, ""},
		{"recess", map[string]string{"panel": "18 mm", "depth": "13 mm"}, []string{"left behind it: 5.00 mm", "enough for a handle"}, ""},
		{"recess", map[string]string{"panel": "15 mm", "depth": "12 mm"}, []string{"3.00 mm", "too little for a handle"}, ""},
		{"recess", map[string]string{"panel": "15 mm", "depth": "12 mm", "backed": "yes"}, []string{"enough for a handle"}, ""},
		// 3 mm in 24 h: 6 mm in four times that.
		{"bead", map[string]string{"depth": "6 mm"}, []string{"cured after 96.0 h"}, "square root"},
		{"cures", map[string]string{"class": "EPOXY"}, []string{"2-part epoxy", "10 days at 15 °C"}, "sheet of the tube prevails"},
		{"rules", map[string]string{"about": "battery cables"}, []string{"every 450 mm", "ISO 10133"}, "borrowed"},
		{"pieces", map[string]string{"bar": "96 in", "piece": "24 in", "kerf": "1/8 in"}, []string{"3 pieces, 23 5/8 in left"}, ""},
		{"expansion", map[string]string{"length": "3 m"}, []string{"it grows by 2.11 mm"}, ""},
	} {
		s, ok := Find(tt.sum)
		if !ok {
			t.Fatalf("no sum %s", tt.sum)
		}
		a, err := s.Of(tt.typed)
		all := strings.Join(a.Lines, "\n")
		for _, want := range tt.lines {
			if err != nil || !strings.Contains(all, want) {
				t.Errorf("%s %v: %q, %v; want %q in it", tt.sum, tt.typed, a.Lines, err, want)
			}
		}
		if note := a.Note.Formula + a.Note.Source + a.Note.Caution; !strings.Contains(note, tt.source) {
			t.Errorf("%s: the note %q does not say %q", tt.sum, note, tt.source)
		}
	}
}

// Each sum says what is missing or wrong, by the word that the person sees.
func TestWrongIsNamed(t *testing.T) {
	for _, tt := range []struct {
		sum   string
		typed map[string]string
		says  string
	}{
		{"torque", nil, "diameter is missing"},
		{"torque", map[string]string{"k": "dry", "d": "8 mm", "force": "1 kN"}, `nut factor k: "dry" is no number`},
		{"torque", map[string]string{"d": "8 lb", "force": "1 kN"}, "diameter"},
		{"crowfoot", map[string]string{"wanted": "25 lb", "arm": "400 mm", "extension": "50 mm"}, "torque wanted"},
		{"class88", map[string]string{"size": "M7"}, `"M7" is in no table`},
		{"wire", map[string]string{"current": "5 A", "length": "4 m", "table": "gold"}, "gold"},
		{"wire", map[string]string{"current": "5 A", "length": "4 m", "celsius": "warm"}, "temperature"},
		{"wire", map[string]string{"current": "5 A", "length": "4 m", "percent": "none"}, "drop allowed"},
		{"drop", map[string]string{"current": "5 A", "length": "4 m", "size": "huge"}, "wire size"},
		{"awg", map[string]string{"size": "99"}, "99"},
		{"length", map[string]string{"sum": "12 N·m"}, "is no length"},
		{"length", map[string]string{"sum": "half × 3 mm"}, "no whole number of times"},
		{"length", map[string]string{"sum": "3 mm / x"}, "no whole number of parts"},
		{"length", map[string]string{"sum": "3 mm / 0"}, "divided by 0"},
		{"length", map[string]string{"sum": "+"}, "sum"},
		{"recess", map[string]string{"panel": "12 mm", "depth": "13 mm"}, "goes through"},
		{"cures", map[string]string{"class": "gold"}, "no class has"},
		{"rules", map[string]string{"about": "gold"}, "no rule says"},
		{"expansion", map[string]string{"length": "3 m", "rise": "hot"}, "rise"},
	} {
		s, _ := Find(tt.sum)
		if a, err := s.Of(tt.typed); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s %v: %v, %v; want an error that says %q", tt.sum, tt.typed, a.Lines, err, tt.says)
		}
	}
	if _, ok := Find("gold"); ok {
		t.Error("there is a sum gold")
	}
}

// Every sum has a formula or a source, and its defaults are good.
func TestEverySumSaysWhereItIsFrom(t *testing.T) {
	for _, s := range All() {
		if s.About == "" || len(s.Fields) == 0 {
			t.Errorf("%s says nothing of itself", s.Name)
		}
		names := map[string]bool{}
		for _, f := range s.Fields {
			if names[f.Name] || f.Label == "" || f.Hint == "" {
				t.Errorf("%s: the field %s is not asked for well", s.Name, f.Name)
			}
			names[f.Name] = true
		}
	}
}
