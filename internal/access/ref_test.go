package access_test

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// asRef is a van as the reference reads it, with the questions put to it.
type asRef struct {
	Places  []access.Place `json:"places"`
	Items   []access.Item  `json:"items"`
	Targets []string       `json:"targets"`
	Visits  int            `json:"visits"`
}

// refDriver reads vans and answers each with nothing, what is now, and everything fitted,
// by the rules of the reference's own command line.
const refDriver = `
import importlib.util, json, math, sys
spec = importlib.util.spec_from_file_location("ref", sys.argv[1])
ref = importlib.util.module_from_spec(spec)
spec.loader.exec_module(ref)
out = []
for raw in json.load(sys.stdin):
    b = ref.Build(raw)
    targets = {("item", x) if x in b.items else ("place", x) for x in raw["targets"] or []}
    row = []
    for F in (set(), b.fitted_now(), set(b.items)):
        cost, opened = b.reach(targets, F - {x for k, x in targets if k == "item"}, raw["visits"])
        row.append(None if math.isinf(cost) else cost)
    out.append(row)
json.dump(out, sys.stdout)
`

// The costs of random vans are those of the slow reference, with nothing, some and all
// items fitted.
func TestCostEqualsReference(t *testing.T) {
	ref := reference(t)
	var vans []asRef
	for seed := range uint64(150) {
		vans = append(vans, forRef(newSmall(rand.New(rand.NewPCG(seed, 4)))))
	}
	in, err := json.Marshal(vans)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("python3", "-c", refDriver, ref)
	cmd.Stdin, cmd.Stderr = bytes.NewReader(in), os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("run %s: %v", ref, err)
	}
	var want [][]*float64
	if err := json.Unmarshal(out, &want); err != nil {
		t.Fatal(err)
	}
	for i, v := range vans {
		v.compare(t, want[i])
	}
}

// reference gives the path of ref.py, or skips the test.
func reference(t *testing.T) string {
	t.Helper()
	if _, err := exec.LookPath("python3"); err != nil {
		t.Skip("no python3 to run the reference with")
	}
	path := os.Getenv("VANLOG_REF")
	if path == "" {
		root := "."
		for _, err := os.Stat(filepath.Join(root, "go.mod")); err != nil; _, err = os.Stat(filepath.Join(root, "go.mod")) {
			if len(root) > 30 {
				t.Skip("no go.mod above this package")
			}
			root = filepath.Join(root, "..")
		}
		path = filepath.Join(root, "..", "shared", "tools", "ref.py")
	}
	if _, err := os.Stat(path); err != nil {
		t.Skip("no reference to compare with: ", err)
	}
	return path
}

// forRef gives s as the reference reads it. It takes an item's name for the item where a
// place has the same name, so such places are not asked for.
func forRef(s small) asRef {
	v := asRef{Places: s.places, Items: s.items, Visits: s.visits}
	names := map[string]bool{}
	for i := range v.Items {
		names[string(v.Items[i].ID)] = true
		for _, f := range s.fitted {
			v.Items[i].Fitted = v.Items[i].Fitted || f == v.Items[i].ID
		}
	}
	for i := range v.Places {
		v.Places[i].Shut = false // not part of a build file
	}
	for _, r := range s.rooms {
		if !names[string(r)] {
			v.Targets = append(v.Targets, string(r))
		}
	}
	for _, x := range s.targets {
		v.Targets = append(v.Targets, string(x))
	}
	return v
}

func (v asRef) compare(t *testing.T, want []*float64) {
	t.Helper()
	s := access.NewSolver(v.Places, v.Items)
	q := access.Query{Visits: v.Visits}
	isItem := map[string]bool{}
	var all, now []id.Item
	for _, it := range v.Items {
		isItem[string(it.ID)] = true
	}
	for _, x := range v.Targets {
		if isItem[x] {
			q.Items = append(q.Items, id.Item(x))
		} else {
			q.Places = append(q.Places, id.Place(x))
		}
	}
	for _, it := range v.Items {
		if slices.Contains(q.Items, it.ID) {
			continue
		}
		all = append(all, it.ID)
		if it.Fitted {
			now = append(now, it.ID)
		}
	}
	for k, fitted := range [][]id.Item{nil, now, all} {
		q.Fitted = s.Set(fitted...)
		c, ok := s.Cost(q)
		if ok != (want[k] != nil) || ok && math.Abs(c.Minutes()-*want[k]) > 1e-6 {
			t.Errorf("fitted %d: Cost = %v, %v, the reference says %v", k, c.Minutes(), ok, want[k])
		}
		p, err := s.Plan(context.Background(), q)
		if (err == nil) != ok || p.Cost != c {
			t.Errorf("fitted %d: Plan = %v, %v, but Cost = %v, %v", k, p.Cost, err, c, ok)
		}
	}
	if t.Failed() {
		t.Fatalf("%+v", v)
	}
}
