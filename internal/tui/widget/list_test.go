package widget

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func vanRows() []Row {
	return []Row{
		{Text: "Tank bay", Head: true},
		{ID: "pump", Text: "Mount the pump board", Note: "4 h"},
		{ID: "tank", Text: "Strap the tank", Note: "2 h"},
		{Text: "Roof", Head: true},
		{ID: "fan", Text: "Fit the roof fan", Note: "3 h"},
	}
}

func TestListKeys(t *testing.T) {
	for _, tt := range []struct {
		script, on string
		out        Outcome
	}{
		{"", "pump", Stay},
		{"down", "tank", Stay},
		{"down down", "fan", Stay},
		{"down down down", "fan", Stay},
		{"down down up", "tank", Stay},
		{"end", "fan", Stay},
		{"end home", "pump", Stay},
		{"pgdown", "fan", Stay},
		{"up", "pump", Stay},
		{"down enter", "tank", Submitted},
		{"esc", "pump", Cancelled},
		{"'x", "pump", Unused},
		{"f1", "pump", Unused},
	} {
		l, out := drive(NewList(vanRows(), "").Sized(10), tt.script)
		if row, _ := l.Selected(); row.ID != tt.on || out != tt.out {
			t.Errorf("%q: on %q, %v; want %q, %v", tt.script, row.ID, out, tt.on, tt.out)
		}
	}
}

func TestListSearch(t *testing.T) {
	for _, tt := range []struct {
		script string
		shown  []string
	}{
		{"'fan", []string{"Roof", "Fit the roof fan"}},
		{"'mpb", []string{"Tank bay", "Mount the pump board"}},
		{"'TANK", []string{"Tank bay", "Strap the tank"}},
		{"'zz", nil},
		{"'zz esc", []string{"Tank bay", "Mount the pump board", "Strap the tank", "Roof", "Fit the roof fan"}},
		{"'fan backspace backspace backspace", []string{"Tank bay", "Mount the pump board", "Strap the tank", "Roof", "Fit the roof fan"}},
	} {
		l, _ := drive(NewList(vanRows(), "").Searched(), tt.script)
		var shown []string
		for _, at := range l.shown {
			shown = append(shown, l.rows[at].Text)
		}
		if !slices.Equal(shown, tt.shown) {
			t.Errorf("%s: %q, want %q", tt.script, shown, tt.shown)
		}
	}
	l, out := drive(NewList(vanRows(), "").Searched(), "'zz enter")
	if _, on := l.Selected(); on || out != Stay {
		t.Errorf("enter on nothing = %v", out)
	}
	if _, out := drive(l, "esc esc"); out != Cancelled {
		t.Errorf("the second esc = %v, want Cancelled", out)
	}
}

func TestListKeepsItsRowWhenRowsChange(t *testing.T) {
	l, _ := drive(NewList(vanRows(), ""), "down")
	l = l.WithRows(append([]Row{{ID: "new", Text: "New"}}, vanRows()...))
	if row, _ := l.Selected(); row.ID != "tank" {
		t.Errorf("on %q, want tank", row.ID)
	}
	l = l.WithRows(vanRows()[:2])
	if row, _ := l.Selected(); row.ID != "pump" {
		t.Errorf("its row gone: on %q, want pump", row.ID)
	}
	if _, on := l.WithRows(nil).Selected(); on {
		t.Error("a row is selected in an empty list")
	}
}

func TestListView(t *testing.T) {
	l, _ := drive(NewList(vanRows(), ""), "down")
	want := strings.Join([]string{
		"Tank bay                 ",
		"  Mount the pump bo…  4 h",
		"> Strap the tank      2 h",
		"Roof                    ↓",
	}, "\n")
	if got := l.View(plainStyles(), 25, 4); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestListCursorIsAlwaysSeen: whatever is pressed at whatever height, one line has the ">".
func TestListCursorIsAlwaysSeen(t *testing.T) {
	var rows []Row
	for i := range 100 {
		rows = append(rows, Row{ID: fmt.Sprint(i), Text: fmt.Sprintf("row %d", i), Head: i%7 == 0})
	}
	for _, h := range []int{1, 2, 3, 10, 200} {
		l := NewList(rows, "").Sized(h)
		for i, k := range keys(strings.Repeat("down down pgdown up pgdown end up pgup home ", 3)) {
			l, _ = l.Key(k)
			if got := l.View(plainStyles(), 30, h); strings.Count(got, "> row") != 1 {
				t.Fatalf("height %d, key %d (%s):\n%s", h, i, k.Name, got)
			}
		}
	}
}

func TestMatch(t *testing.T) {
	texts := []string{"Split charge relay", "Strap the tank", "tank-outlet", "Mount the tank sensor", "Water tank strainer", "Grey water hose"}
	for _, tt := range []struct {
		query string
		want  []string
	}{
		{"tank", []string{"tank-outlet", "Strap the tank", "Water tank strainer", "Mount the tank sensor"}},
		{"scr", []string{"Split charge relay"}},
		{"wts", []string{"Water tank strainer"}},
		{"ater", []string{"Grey water hose", "Water tank strainer"}},
		{"TANK OUT", []string{"tank-outlet"}},
		{"spltrly", []string{"Split charge relay"}},
		{"zebra", nil},
	} {
		var got []string
		for _, i := range Rank(tt.query, texts) {
			got = append(got, texts[i])
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("Rank(%q) = %q, want %q", tt.query, got, tt.want)
		}
	}
	if got := Rank("", texts); !slices.Equal(got, []int{0, 1, 2, 3, 4, 5}) {
		t.Errorf("nothing typed: %v", got)
	}
}

// prefixesSlowly tries every way to make q of beginnings of the words of text, in their order.
func prefixesSlowly(q string, words []string) bool {
	if q == "" {
		return true
	}
	if len(words) == 0 {
		return false
	}
	for n := 0; n <= min(len(q), len(words[0])); n++ {
		if q[:n] == words[0][:n] && prefixesSlowly(q[n:], words[1:]) {
			return true
		}
	}
	return false
}

func TestByPrefixesIsWhatItSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching("[ab]{1,4}"), 1, 6).Draw(t, "words")
		q := rapid.StringMatching("[ab]{1,7}").Draw(t, "q")
		letters, begins := squeeze(nil, nil, strings.Join(words, " "))
		if got, want := byPrefixes([]rune(q), letters, begins), prefixesSlowly(q, words); got != want {
			t.Errorf("byPrefixes(%q, %q) = %v, want %v", q, words, got, want)
		}
	})
}

// matchText is match for a query and a text as they were typed.
func matchText(query, text string) (score int, ok bool) {
	q, _ := squeeze(nil, nil, query)
	t, begins := squeeze(nil, nil, text)
	return match(q, t, begins)
}

func TestALongQueryIsNotSoughtAmongBeginnings(t *testing.T) {
	text := strings.Repeat("a ", 100)
	if _, ok := matchText(strings.Repeat("a", 64), text); !ok {
		t.Error("64 letters are not found")
	}
	if _, ok := matchText(strings.Repeat("a", 101), text); ok {
		t.Error("more letters are found than there are")
	}
}

// TestAnIndexFindsWhatMatchFinds: each text by itself, with the ones that only scattered letters
// speak for left out where there are better ones.
func TestAnIndexFindsWhatMatchFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		texts := rapid.SliceOfN(rapid.StringMatching("[abÄß ]{0,8}"), 0, 12).Draw(t, "texts")
		q := rapid.StringMatching("[abä]{1,3}").Draw(t, "q")
		best := -1 << 30
		for _, s := range texts {
			if score, ok := matchText(q, s); ok {
				best = max(best, score)
			}
		}
		got := NewIndex(texts).Rank(q)
		for i, s := range texts {
			score, ok := matchText(q, s)
			if want := ok && (best < close || score >= close); slices.Contains(got, i) != want {
				t.Errorf("%q in %q: found %v, want %v", q, s, !want, want)
			}
		}
		for i := 1; i < len(got); i++ {
			a, _ := matchText(q, texts[got[i-1]])
			b, _ := matchText(q, texts[got[i]])
			if a < b || a == b && got[i-1] > got[i] {
				t.Errorf("%q stands before %q", texts[got[i-1]], texts[got[i]])
			}
		}
	})
}

// TestASearchWithoutLettersShowsEverythingOnce, heads too.
func TestASearchWithoutLettersShowsEverythingOnce(t *testing.T) {
	l := NewList([]Row{{Head: true, Text: "Head"}, {ID: "a", Text: "First"}, {ID: "b", Text: "Second"}}, "").Searched()
	l, _ = l.Key(Key{Name: "-", Text: "-"})
	view := l.View(plainStyles(), 40, 8)
	for _, want := range []string{"Head", "First", "Second"} {
		if strings.Count(view, want) != 1 {
			t.Errorf("%s is not there once:\n%s", want, view)
		}
	}
}

// TestASearchFollowsOtherRows: the letters of rows that are gone are forgotten.
func TestASearchFollowsOtherRows(t *testing.T) {
	l := NewList([]Row{{ID: "a", Text: "Pump"}}, "").Searched()
	l, _ = l.Key(Key{Name: "p", Text: "p"})
	l = l.WithRows([]Row{{ID: "b", Text: "Hose"}, {ID: "c", Text: "Plug"}})
	if row, ok := l.Selected(); !ok || row.ID != "c" {
		t.Errorf("%+v is selected, want the plug", row)
	}
}

func TestPicker(t *testing.T) {
	from := []Choice{{"tank-bay", "Tank bay"}, {"wader-locker", "Wader locker"}, {"roof", ""}}
	for _, tt := range []struct {
		several bool
		begin   []string
		script  string
		want    []string
		out     Outcome
	}{
		{false, nil, "enter", []string{"tank-bay"}, Submitted},
		{false, nil, "'wad enter", []string{"wader-locker"}, Submitted},
		{false, []string{"roof"}, "enter", []string{"roof"}, Submitted},
		{false, []string{"roof"}, "esc", []string{"roof"}, Cancelled},
		{false, nil, "'zz enter", nil, Stay},
		{true, nil, "'_ down down '_ enter", []string{"tank-bay", "roof"}, Submitted},
		{true, []string{"roof"}, "'wad enter", []string{"roof", "wader-locker"}, Stay},
		{true, []string{"roof"}, "'wad enter enter", []string{"roof", "wader-locker"}, Submitted},
		{true, []string{"roof"}, "'_ enter", nil, Submitted},
	} {
		p, out := drive(NewPicker("Place", from, tt.several, tt.begin...), tt.script)
		if got := p.Chosen(); !slices.Equal(got, tt.want) || out != tt.out {
			t.Errorf("%v %s: %q, %v; want %q, %v", tt.begin, tt.script, got, out, tt.want, tt.out)
		}
	}
}

func BenchmarkListView(b *testing.B) {
	var rows []Row
	for i := range 10_000 {
		rows = append(rows, Row{ID: fmt.Sprintf("row-%d", i), Text: fmt.Sprintf("Mount the pump board %d", i), Note: "4 h"})
	}
	l, st := NewList(rows, "").Searched().Sized(40), plainStyles()
	b.Run("down", func(b *testing.B) {
		for b.Loop() {
			l, _ = l.Key(Key{Name: "down"})
			_ = l.View(st, 120, 40)
		}
	})
	b.Run("search", func(b *testing.B) {
		for b.Loop() {
			m, _ := l.Key(Key{Name: "p", Text: "p"})
			_ = m.View(st, 120, 40)
		}
	})
}
