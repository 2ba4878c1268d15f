package main

import (
	"bufio"
	"bytes"
	_ "embed"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"example.com/vanlog/internal/cli"
)

var builds = flag.Int("builds", 50, "how many random builds are put to vanlog and to the reference")

const planningTime = "2026-03-02T08:00" // a Monday

//go:embed testdata/judge.py
var judgeSource string

// judge is the slow reference for reaching and sequences (ref.py), asked over a pipe.
type judge struct {
	t   *testing.T
	in  io.Writer
	out *bufio.Reader
}

func openJudge(t *testing.T) *judge {
	t.Helper()
	ref := os.Getenv("VANLOG_REF")
	if ref == "" {
		ref = filepath.Join("..", "..", "..", "shared", "tools", "ref.py")
	}
	if _, err := os.Stat(ref); err != nil {
		t.Skip("the reference ref.py is not here: name it in VANLOG_REF")
	}
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("no python3 to run the reference with")
	}
	cmd := exec.Command(python, "-c", judgeSource, ref)
	cmd.Stderr = os.Stderr
	in, err1 := cmd.StdinPipe()
	out, err2 := cmd.StdoutPipe()
	if err1 != nil || err2 != nil || cmd.Start() != nil {
		t.Fatalf("python3 cannot be started: %v, %v", err1, err2)
	}
	t.Cleanup(func() {
		in.Close()
		cmd.Wait()
	})
	return &judge{t, in, bufio.NewReader(out)}
}

// ask puts a question to the reference and reads the answer into it.
func (j *judge) ask(question map[string]any, answer any) {
	j.t.Helper()
	line, err := json.Marshal(question)
	if err != nil {
		j.t.Fatal(err)
	}
	if _, err := j.in.Write(append(line, '\n')); err != nil {
		j.t.Fatal(err)
	}
	reply, err := j.out.ReadBytes('\n')
	if err != nil {
		j.t.Fatalf("the reference died of %v: %v", question["op"], err)
	}
	if err := json.Unmarshal(reply, answer); err != nil {
		j.t.Fatalf("the reference answered %s: %v", reply, err)
	}
}

// trial is one random build, in a file of vanlog and with the reference.
type trial struct {
	t     *testing.T
	j     *judge
	path  string
	build generated
}

// run runs one command of vanlog on the build.
func (tr *trial) run(args ...string) (out []byte, code int, messages string) {
	var stdout, stderr bytes.Buffer
	code = cli.Run(cli.World{
		Args: append([]string{"--build", tr.path, "--now", planningTime}, args...), In: bytes.NewReader(nil),
		Out: &stdout, Err: &stderr, Env: func(string) string { return "" }, Now: time.Now,
		Interactive: func() bool { return false }, Open: open, Create: create,
	})
	return stdout.Bytes(), code, stderr.String()
}

// read runs a command that must succeed and reads its JSON.
func (tr *trial) read(into any, args ...string) {
	tr.t.Helper()
	out, code, messages := tr.run(append(args, "--json")...)
	if code != 0 {
		tr.t.Fatalf("vanlog %v: exit %d: %s", args, code, messages)
	}
	if err := json.Unmarshal(out, into); err != nil {
		tr.t.Fatalf("vanlog %v: %v in %s", args, err, out)
	}
}

func TestRandomBuildsAgreeWithTheReference(t *testing.T) {
	j := openJudge(t)
	var seen tally
	most := *builds
	if testing.Short() {
		most = min(most, 5)
	}
	for seed := range most {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			dir := t.TempDir()
			j := &judge{t, j.in, j.out}
			tr := &trial{t: t, j: j, path: filepath.Join(dir, "b.van"), build: generate(uint64(seed))}
			tr.load(dir)
			t.Cleanup(func() { tr.keepWhereFailed() })
			tr.compareReach(&seen)
			tr.compareCloseIn(&seen)
			tr.compareToday(&seen)
			tr.compareSequence(&seen, seed)
		})
	}
	t.Logf("compared: %+v", seen)
	if most >= 50 && (seen.Reached == 0 || seen.NoWay == 0 || seen.Sequences == 0 || seen.Closed == 0 || seen.Can == 0 || seen.Cannot == 0) {
		t.Errorf("the builds are too tame, some kind of answer never came up: %+v", seen)
	}
}

// tally counts what was compared, so that it is seen when a kind of answer never comes up.
type tally struct{ Reached, NoWay, Sequences, NoOrder, Best, Proven, Closed, Can, Cannot int }

func (tr *trial) load(dir string) {
	tr.t.Helper()
	text, err := json.Marshal(tr.build)
	if err != nil {
		tr.t.Fatal(err)
	}
	file := filepath.Join(dir, "b.json")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		tr.t.Fatal(err)
	}
	if _, code, messages := tr.run("import", file); code != 0 {
		tr.t.Fatalf("import: exit %d: %s\n%s", code, messages, text)
	}
	var ok bool
	tr.j.ask(map[string]any{"op": "load", "build": tr.build, "now": planningTime}, &ok)
}

// keepWhereFailed keeps the build of a failed trial where it can be looked at.
func (tr *trial) keepWhereFailed() {
	if !tr.t.Failed() {
		return
	}
	f, err := os.CreateTemp("", "vanlog-trial-*.json")
	if err != nil {
		return
	}
	defer f.Close()
	if json.NewEncoder(f).Encode(tr.build) == nil {
		tr.t.Logf("the build is kept in %s", f.Name())
	}
}

func (tr *trial) compareReach(seen *tally) {
	names := tr.build.liveNames()
	var questions [][]string
	for i, n := range names {
		questions = append(questions, []string{n})
		if i > 0 {
			questions = append(questions, []string{names[i-1], n})
		}
	}
	for i, targets := range questions {
		fitted := []string{"all", "now", "none"}[i%3]
		visits := 1 + i%4
		tr.oneReach(seen, targets, fitted, visits)
	}
}

func (tr *trial) oneReach(seen *tally, targets []string, fitted string, visits int) {
	tr.t.Helper()
	var want struct {
		Cost *float64 `json:"cost_min"`
	}
	tr.j.ask(map[string]any{"op": "reach", "targets": targets, "fitted": fitted, "visits": visits}, &want)
	args := append([]string{"reach", "--json", "--fitted", fitted, "--visits", fmt.Sprint(visits)}, targets...)
	out, code, messages := tr.run(args...)
	if want.Cost == nil {
		seen.NoWay++
		if code != 3 || !bytes.Contains(out, []byte(`"reachable": false`)) {
			tr.t.Errorf("vanlog %v: exit %d, %s; the reference finds no way", args, code, out)
		}
		return
	}
	seen.Reached++
	var got struct {
		Cost   float64 `json:"cost_min"`
		Proven bool    `json:"proven"`
		Steps  []struct {
			Min   float64
			Times int
		}
		Refit []struct{ Min float64 }
	}
	if code != 0 || json.Unmarshal(out, &got) != nil {
		tr.t.Errorf("vanlog %v: exit %d: %s; the reference says %v", args, code, messages, *want.Cost)
		return
	}
	sum := 0.0
	for _, s := range got.Steps {
		sum += s.Min * float64(s.Times)
	}
	for _, s := range got.Refit {
		sum += s.Min
	}
	if math.Abs(got.Cost-*want.Cost) > 1e-6 || math.Abs(sum-got.Cost) > 1e-6 || !got.Proven {
		tr.t.Errorf("vanlog %v: cost %v, its steps %v, proven %v; the reference says %v", args, got.Cost, sum, got.Proven, *want.Cost)
	}
}

// priced is the part of a close-in that the reference gives.
type priced struct {
	Task   string
	Before float64  `json:"before_min"`
	After  *float64 `json:"after_min"`
}

func (tr *trial) compareCloseIn(seen *tally) {
	for _, item := range tr.build.liveItems() {
		var want []priced
		tr.j.ask(map[string]any{"op": "closein", "item": item}, &want)
		var got struct{ Closes []priced }
		tr.read(&got, "closein", item)
		got.Closes = slices.DeleteFunc(got.Closes, func(p priced) bool { return p.Task == "" }) // services
		if fmt.Sprint(flat(got.Closes)) != fmt.Sprint(flat(want)) {
			tr.t.Errorf("closein %s: %v, the reference says %v", item, flat(got.Closes), flat(want))
		}
		seen.Closed += len(want)
	}
}

// flat makes prices comparable as text.
func flat(ps []priced) []string {
	var out []string
	for _, p := range ps {
		after := "never"
		if p.After != nil {
			after = fmt.Sprintf("%.6f", *p.After)
		}
		out = append(out, fmt.Sprintf("%s %.6f %s", p.Task, p.Before, after))
	}
	return out
}

func (tr *trial) compareToday(seen *tally) {
	var want []string
	tr.j.ask(map[string]any{"op": "today"}, &want)
	var got struct {
		Can    []struct{ ID string }
		Cannot []struct {
			ID    string
			Waits []struct{ Kind string } `json:"waits_for"`
		}
	}
	tr.read(&got, "today", "--seconds", "0")
	var can []string
	for _, c := range got.Can {
		can = append(can, c.ID)
	}
	slices.Sort(can)
	if !slices.Equal(can, want) {
		tr.t.Errorf("today: can %v, the reference says %v; cannot: %+v", can, want, got.Cannot)
	}
	for _, c := range got.Cannot {
		if len(c.Waits) == 0 {
			tr.t.Errorf("today: %s waits for nothing", c.ID)
		}
	}
	seen.Can, seen.Cannot = seen.Can+len(can), seen.Cannot+len(got.Cannot)
}

func (tr *trial) compareSequence(seen *tally, seed int) {
	open := tr.build.openTasks()
	out, code, messages := tr.run("sequence", "--json", "--seconds", "0.3", "--seed", fmt.Sprint(seed))
	var best struct {
		Finish *string
		Work   int `json:"work_min"`
	}
	switch {
	case code == 3:
		seen.NoOrder++
		tr.j.ask(map[string]any{"op": "best", "most": 6}, &best)
		if best.Finish != nil {
			tr.t.Errorf("sequence: %s; the reference finds one that finishes %s", messages, *best.Finish)
		}
		return
	case code != 0:
		tr.t.Fatalf("sequence: exit %d: %s", code, messages)
	}
	seen.Sequences++
	var faults []string
	tr.j.ask(map[string]any{"op": "check", "sequence": json.RawMessage(out)}, &faults)
	for _, f := range faults {
		tr.t.Errorf("sequence: %s", f)
	}
	got := tr.readSequence(out)
	if got.Proven {
		seen.Proven++
	}
	if open > 4 || open > 3 && seed%4 != 0 {
		return
	}
	seen.Best++
	tr.j.ask(map[string]any{"op": "best", "most": 4}, &best)
	if best.Finish != nil && got.Finish > *best.Finish {
		tr.t.Errorf("sequence finishes %s (proven: %v), the reference %s", got.Finish, got.Proven, *best.Finish)
	}
	if best.Finish != nil && got.Finish == *best.Finish && got.Work > best.Work {
		tr.t.Logf("sequence takes %d minutes of work, the reference %d", got.Work, best.Work)
	}
}

type sequence struct {
	Finish string
	Proven bool
	Work   int `json:"work_min"`
	Access int `json:"access_min"`
	Tasks  []struct {
		ID      string
		Access  int                     `json:"access_min"`
		Because []struct{ Kind string } `json:"because"`
	}
}

// readSequence reads a sequence and checks what the reference does not look at.
func (tr *trial) readSequence(out []byte) sequence {
	tr.t.Helper()
	var s sequence
	if err := json.Unmarshal(out, &s); err != nil {
		tr.t.Fatalf("sequence: %v in %s", err, out)
	}
	access := 0
	kinds := []string{"edge", "lag", "part", "not-before", "resource", "close-in"}
	for _, row := range s.Tasks {
		access += row.Access
		if len(row.Because) == 0 {
			tr.t.Errorf("sequence: %s stands there for no reason", row.ID)
		}
		for _, b := range row.Because {
			if !slices.Contains(kinds, b.Kind) {
				tr.t.Errorf("sequence: %s because of a %q", row.ID, b.Kind)
			}
		}
	}
	if access != s.Access {
		tr.t.Errorf("sequence: access_min %d, its rows have %d", s.Access, access)
	}
	return s
}
