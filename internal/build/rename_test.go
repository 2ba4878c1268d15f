package build_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/exchange"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/testkit"
)

// renamed gives a build with another id for one of its records.
func renamed(t interface{ Fatal(...any) }, b build.Build, kind build.Kind, i int, to string) (build.Build, string) {
	var row any
	var k build.Key
	var was string
	switch kind {
	case build.TaskKind:
		r := b.Tasks.Rows[i%b.Tasks.Len()]
		k, was = b.Tasks.Keys[i%b.Tasks.Len()], string(r.ID)
		r.ID = id.Task(to)
		row = r
	case build.ItemKind:
		r := b.Items.Rows[i%b.Items.Len()]
		k, was = b.Items.Keys[i%b.Items.Len()], string(r.ID)
		r.ID = id.Item(to)
		row = r
	case build.PlaceKind:
		r := b.Places.Rows[i%b.Places.Len()]
		k, was = b.Places.Keys[i%b.Places.Len()], string(r.ID)
		r.ID = id.Place(to)
		row = r
	case build.PartKind:
		r := b.Parts.Rows[i%b.Parts.Len()]
		k, was = b.Parts.Keys[i%b.Parts.Len()], string(r.ID)
		r.ID = id.Part(to)
		row = r
	case build.ResourceKind:
		r := b.Resources.Rows[i%b.Resources.Len()]
		k, was = b.Resources.Keys[i%b.Resources.Len()], string(r.ID)
		r.ID = id.Resource(to)
		row = r
	case build.OptionKind:
		r := b.Options.Rows[i%b.Options.Len()]
		k, was = b.Options.Keys[i%b.Options.Len()], string(r.ID)
		r.ID = id.Option(to)
		row = r
	}
	next, err := b.Apply(build.Change{Edits: append([]build.Edit{b.Editing(kind, k, row)}, b.Carrying(kind, k, row)...)})
	if err != nil {
		t.Fatal(fmt.Sprintf("rename %s %s to %s: %v", kind, was, to, err))
	}
	return next, was
}

func file(t interface{ Fatal(...any) }, b build.Build) string {
	var out strings.Builder
	if err := exchange.WriteJSON(&out, b); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// Whatever is renamed in the demonstration build, it stays in order, no mention of the old id is
// left as a whole word, and renaming back gives the build byte for byte.
func TestRenamesAreCarriedThrough(t *testing.T) {
	whole := demo.Build(testkit.Now)
	before := file(t, whole)
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]build.Kind{build.TaskKind, build.ItemKind, build.PlaceKind, build.PartKind, build.ResourceKind, build.OptionKind}).Draw(t, "kind")
		i := rapid.IntRange(0, 200).Draw(t, "record")
		next, was := renamed(t, whole, kind, i, "quite-another-name")
		if kind == build.ResourceKind && was == "builder" {
			return // tasks that say nothing use the builder by this name
		}
		back, _ := renamedByName(t, next, kind, "quite-another-name", was)
		if diff := cmp.Diff(before, file(t, back)); diff != "" {
			t.Fatalf("%s %s there and back:\n%s", kind, was, diff)
		}
		n, m := strings.Count(before, `"`+was+`"`), strings.Count(file(t, next), `"quite-another-name"`)
		if n != m+strings.Count(file(t, next), `"`+was+`"`) {
			t.Fatalf("%s %s was named %d times, the new name %d times", kind, was, n, m)
		}
	})
}

// renamedByName renames the record that has a name.
func renamedByName(t interface{ Fatal(...any) }, b build.Build, kind build.Kind, name, to string) (build.Build, string) {
	for i := range 300 {
		if next, was := renamed(t, b, kind, i, to); was == name {
			return next, was
		}
	}
	t.Fatal("no " + name)
	return b, ""
}
