package find

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func things() []Thing {
	return []Thing{
		{Kind: "task", ID: "mount-pump", Title: "Mount the pump board"},
		{Kind: "task", ID: "test-pump", Title: "Pump test", More: "pressure held for an hour"},
		{Kind: "item", ID: "pump", Title: "Water pump"},
		{Kind: "item", ID: "sump", Title: "Grey water sump"},
		{Kind: "place", ID: "tank-bay", Title: "Tank bay"},
		{Kind: "entry", ID: "7", Title: "Strap the tank", More: "Größe M8, pump hose short"},
		{Kind: "part", ID: "p-9", Title: "Inverter 2000 W"},
	}
}

func ids(hits []Hit) []string {
	var out []string
	for _, h := range hits {
		out = append(out, h.ID)
	}
	return out
}

func TestFind(t *testing.T) {
	x := New(things())
	for query, want := range map[string][]string{
		"pump":             {"pump", "mount-pump", "test-pump", "7"}, // the id, then words of the title, then notes
		"pu":               {"test-pump", "pump", "mount-pump", "7"}, // begins the title, a word of it, a note
		"water":            {"pump", "sump"},
		"ump":              {"mount-pump", "test-pump", "pump", "sump", "7"},
		"PUMP board":       {"mount-pump"},
		"board pump":       {"mount-pump"},
		"groesse":          {"7"},
		"größe":            {"7"},
		"  tank\tbay ":     {"tank-bay"},
		"2000":             {"p-9"},
		"":                 nil,
		"  ":               nil,
		"pump nothingness": nil,
	} {
		hits, all := x.Find(query, 10)
		if got := ids(hits); !slices.Equal(got, want) || all != len(want) {
			t.Errorf("%q finds %q (%d), want %q", query, got, all, want)
		}
	}
}

// A slip of the fingers: a letter missing, too much, another, or two swapped.
func TestSlips(t *testing.T) {
	x := New(things())
	for query, want := range map[string]string{"invrter": "p-9", "invertter": "p-9", "invorter": "p-9", "ivnerter": "p-9", "presure": "test-pump", "strpa": "7"} {
		hits, _ := x.Find(query, 10)
		if len(hits) == 0 || hits[0].ID != want || !hits[0].Guess {
			t.Errorf("%q finds %+v, want %s as a guess", query, hits, want)
		}
	}
	if hits, _ := x.Find("zzzz", 10); len(hits) > 0 {
		t.Errorf("zzzz finds %+v", hits)
	}
}

// Only so many are given, the best, and all are counted.
func TestMost(t *testing.T) {
	var many []Thing
	for i := range 1000 {
		many = append(many, Thing{Kind: "entry", ID: fmt.Sprint(i), Title: "cut", More: "pump"})
	}
	many = append(many, Thing{Kind: "item", ID: "pump", Title: "Pump"})
	hits, all := New(many).Find("pump", 5)
	if got := ids(hits); all != 1001 || !slices.Equal(got, []string{"pump", "0", "1", "2", "3"}) {
		t.Errorf("%q of %d", got, all)
	}
}

// What is found has every word, nothing that has them is left out, and asking for fewer gives the
// first of those that asking for all gives.
func TestFindIsWhatHasTheWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[abc]{1,3}`)
		var all []Thing
		for i := range rapid.IntRange(1, 30).Draw(t, "things") {
			all = append(all, Thing{ID: fmt.Sprint("t", i), Title: strings.Join(rapid.SliceOfN(word, 0, 3).Draw(t, "title"), " "),
				More: strings.Join(rapid.SliceOfN(word, 0, 3).Draw(t, "more"), " ")})
		}
		query := rapid.SliceOfN(word, 1, 3).Draw(t, "query")
		hits, n := New(all).Find(strings.Join(query, " "), 100)
		want := 0
		for _, x := range all {
			text := x.ID + " " + x.Title + " " + x.More
			if !slices.ContainsFunc(query, func(w string) bool { return !strings.Contains(text, w) }) {
				want++
				if !slices.ContainsFunc(hits, func(h Hit) bool { return h.ID == x.ID && !h.Guess }) {
					t.Fatalf("%q leaves out %q", query, text)
				}
			}
		}
		if want > 0 && (n != want || len(hits) != want) {
			t.Fatalf("%q finds %d, there are %d", query, n, want)
		}
		few, m := New(all).Find(strings.Join(query, " "), 3)
		if m != n || !slices.Equal(ids(few), ids(hits[:min(3, len(hits))])) {
			t.Fatalf("%q: the first are %q of %q", query, ids(few), ids(hits))
		}
	})
}

// BenchmarkKey looks for what is typed letter by letter among 50,000 entries and 1,000 other
// things: a letter that is in all of them, words, and a slip.
func BenchmarkKey(b *testing.B) {
	words := strings.Fields("strap tank hose clip pump board frame left right tested torque photo glue edge panel screw roof vent cable lug")
	var all []Thing
	for i := range 51_000 {
		title := fmt.Sprintf("%s the %s %d", words[i%20], words[i/20%20], i%160)
		all = append(all, Thing{Kind: "entry", ID: fmt.Sprint(i), Title: title,
			More: fmt.Sprintf("%s %s %s, 12.%d N·m pump-%d.jpg", words[i%7], words[i%11], words[i%13], i%10, i)})
	}
	x := New(all)
	for _, query := range []string{"t", "ta", "tank h", "strap pump clip", "51", "tnak"} {
		b.Run(strings.ReplaceAll(query, " ", "_"), func(b *testing.B) {
			for b.Loop() {
				x.Find(query, 200)
			}
		})
	}
}
