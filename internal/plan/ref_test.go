package plan

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"example.com/vanlog/internal/units"
)

// judge is what the reference program is told of one world.
type judge struct {
	Build    json.RawMessage `json:"build"`
	Sequence any             `json:"sequence"`
	Best     bool            `json:"best"`
}

// judged is what it says.
type judged struct {
	Faults []string
	Best   *struct {
		Finish  units.Instant
		WorkMin int `json:"work_min"`
	}
}

// judgeScript keeps every build alive: the reference remembers answers by identity.
const judgeScript = `
import sys, json
sys.path.insert(0, sys.argv[1])
import ref
now, kept = ref.dt(sys.argv[2]), []
for line in sys.stdin:
    q = json.loads(line)
    b = ref.Build(q["build"])
    kept.append(b)
    out = {"faults": ref.check(b, q["sequence"], now) if q["sequence"] else [], "best": None}
    if q["best"]:
        out["best"] = ref.best(b, now, 14)
    print(json.dumps(out), flush=True)
`

// reference gives the path of the reference program, or skips.
func reference(t testing.TB) string {
	t.Helper()
	path := os.Getenv("VANLOG_REF")
	if path == "" {
		path = filepath.Join(repository(t), "..", "shared", "tools", "ref.py")
	}
	if _, err := os.Stat(path); err != nil {
		t.Skip("the reference program is not here (VANLOG_REF names it)")
	}
	if _, err := exec.LookPath("python3"); err != nil {
		t.Skip("the reference program needs python3")
	}
	return path
}

// repository gives the folder of go.mod.
func repository(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	for err == nil {
		if _, none := os.Stat(filepath.Join(dir, "go.mod")); none == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			break
		}
		dir = filepath.Dir(dir)
	}
	t.Fatal("no go.mod above the test")
	return ""
}

// ask puts all questions to the reference program in one go.
func ask(t *testing.T, questions []judge) []judged {
	t.Helper()
	path := reference(t)
	var in, errs bytes.Buffer
	for _, q := range questions {
		line, err := json.Marshal(q)
		if err != nil {
			t.Fatal(err)
		}
		in.Write(append(line, '\n'))
	}
	cmd := exec.Command("python3", "-c", judgeScript, filepath.Dir(path), worldNow)
	cmd.Stdin, cmd.Stderr = &in, &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, errs.String())
	}
	var answers []judged
	for line := range strings.Lines(string(out)) {
		var a judged
		if err := json.Unmarshal([]byte(line), &a); err != nil {
			t.Fatal(err)
		}
		answers = append(answers, a)
	}
	return answers
}

// told gives s as vanlog prints it.
func told(w *world, s Sequence) any {
	rows := []any{}
	for _, r := range s.Rows {
		rows = append(rows, map[string]any{"id": w.Tasks[r.Job].ID, "start": r.Start, "finish": r.Finish, "work_min": r.Work})
	}
	return map[string]any{"tasks": rows, "finish": s.Finish, "work_min": s.Work, "bound_finish": s.Bound, "proven": s.Proven}
}

// kinds are the worlds that are held against the reference.
var kinds = map[string]kind{
	"plain":     {jobs: 5, grain: 10},
	"calendars": {jobs: 4, grain: 60, calendars: true},
	"access":    {jobs: 5, grain: 10, access: true},
	"cures":     {jobs: 4, grain: 20, cures: true, calendars: true},
	"all":       {jobs: 4, grain: 30, calendars: true, access: true, cures: true, deadlines: true},
}

// What Find gives is valid by the reference, and no later than the best of all orders
// that the reference tries.
func TestFindAgainstReference(t *testing.T) {
	for name, k := range kinds {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			againstReference(t, k, 4, true)
		})
	}
}

// Larger builds are beyond trying all orders: here the reference only says whether the
// sequence is valid and its figures true.
func TestLargerBuildsAgainstReference(t *testing.T) {
	for name, k := range kinds {
		k.jobs = 20
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			againstReference(t, k, 4, false)
		})
	}
}

func againstReference(t *testing.T, k kind, count int, best bool) {
	var worlds []world
	var questions []judge
	var found []Sequence
	for seed := range count {
		w := newWorld(rand.New(rand.NewPCG(uint64(seed), 7)), k)
		s, err := Find(context.Background(), w.problem(), Options{})
		q := judge{Build: w.json(t), Best: best}
		var none *NoSequenceError
		switch {
		case err == nil:
			q.Sequence = told(&w, s)
		case !errors.As(err, &none):
			t.Fatalf("world %d: %v", seed, err)
		}
		worlds, questions, found = append(worlds, w), append(questions, q), append(found, s)
	}
	for i, a := range ask(t, questions) {
		for _, fault := range a.Faults {
			t.Errorf("world %d: %s", i, fault)
		}
		switch ours := found[i]; {
		case a.Best == nil:
		case len(ours.Rows) != len(worlds[i].Tasks):
			t.Errorf("world %d: no sequence, but one finishes at %v", i, a.Best.Finish)
		case ours.Finish > a.Best.Finish:
			t.Errorf("world %d: finish %v, but one order gives %v", i, ours.Finish, a.Best.Finish)
		case ours.Finish == a.Best.Finish && ours.Work > a.Best.WorkMin:
			t.Errorf("world %d: %d minutes, but one order takes %d", i, ours.Work, a.Best.WorkMin)
		case ours.Proven && ours.Finish < a.Best.Finish:
			t.Logf("world %d: finish %v, before %v of the reference", i, ours.Finish, a.Best.Finish)
		}
	}
}
