//go:build unix

package main_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
)

// BenchmarkColdStart starts the real program on a terminal of 120 × 40 with the
// demonstration build and measures until its first frame is written (first-ms), until
// the build is in a frame (build-ms), and from a key to the frame it makes (key-ms): the
// medians. The terminal draws 60 frames a second at most, which is in the last figure.
func BenchmarkColdStart(b *testing.B) {
	vanlog, err := binary()
	if err != nil {
		b.Fatal(err)
	}
	file := filepath.Join(b.TempDir(), "dipper.van")
	if out, err := exec.Command(vanlog, "demo", file, "--no-screen").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	var first, whole, key []time.Duration
	for b.Loop() {
		s := startOnPty(b, vanlog, file)
		first = append(first, s.until("[1 Bench]"))
		whole = append(whole, s.until("DIPPER", "Workable"))
		time.Sleep(100 * time.Millisecond) // let the plan arrive, so that the next frame is the key's
		s.press("2")
		key = append(key, s.until("[2 Sequence]"))
		s.press("q")
		s.end()
	}
	for name, took := range map[string][]time.Duration{"first-ms": first, "build-ms": whole, "key-ms": key} {
		slices.Sort(took)
		b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, name)
	}
}

// BenchmarkLargeDaybook is BenchmarkColdStart with 50,000 entries in the daybook, up to the
// frame that shows the newest of them (daybook-ms).
func BenchmarkLargeDaybook(b *testing.B) {
	vanlog, err := binary()
	if err != nil {
		b.Fatal(err)
	}
	file := largeDaybook(b, vanlog, 50_000)
	var first, open []time.Duration
	for b.Loop() {
		s := startOnPty(b, vanlog, file)
		first = append(first, s.until("[1 Bench]"))
		s.tty.WriteString("5")
		open = append(open, s.until("[5 Daybook]", "50000th"))
		s.press("q")
		s.end()
	}
	for name, took := range map[string][]time.Duration{"first-ms": first, "daybook-ms": open} {
		slices.Sort(took)
		b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, name)
	}
}

// largeDaybook makes the demonstration build with n entries more.
func largeDaybook(b *testing.B, vanlog string, n int) string {
	b.Helper()
	dir := b.TempDir()
	run := func(args ...string) []byte {
		cmd := exec.Command(vanlog, append(args, "--build", filepath.Join(dir, "large.van"))...)
		cmd.Env = append(os.Environ(), "XDG_STATE_HOME="+dir)
		out, err := cmd.Output()
		if err != nil {
			b.Fatalf("%v: %v", args, err)
		}
		return out
	}
	run("demo", "--no-screen")
	var build map[string]any
	if err := json.Unmarshal(run("export"), &build); err != nil {
		b.Fatal(err)
	}
	tasks, days := build["tasks"].([]any), build["days"].([]any)
	last, _ := time.Parse("2006-01-02T15:04", days[len(days)-1].(map[string]any)["at"].(string))
	for i := range n {
		days = append(days, map[string]any{"at": last.Add(time.Duration(i-n) * time.Minute).Format("2006-01-02T15:04"), "minutes": 1,
			"task": tasks[i%len(tasks)].(map[string]any)["id"], "note": fmt.Sprintf("%dth", i+1)})
	}
	days[len(days)-1].(map[string]any)["at"] = last.Add(time.Minute).Format("2006-01-02T15:04")
	days[len(days)-2].(map[string]any)["at"] = last.Format("2006-01-02T15:04")
	build["days"] = days
	text, err := json.Marshal(build)
	if err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(dir, "large.json")
	if err := os.WriteFile(path, text, 0o600); err != nil {
		b.Fatal(err)
	}
	run("import", path)
	return filepath.Join(dir, "large.van")
}

// screenOnPty is a running program, and what it wrote since the last key.
type screenOnPty struct {
	b     *testing.B
	cmd   *exec.Cmd
	tty   *os.File
	began time.Time
	shown []byte
}

func startOnPty(b *testing.B, vanlog, file string) *screenOnPty {
	b.Helper()
	cmd := exec.Command(vanlog, "--build", file)
	cmd.Env = append(slices.DeleteFunc(os.Environ(), func(v string) bool { return strings.HasPrefix(v, "CI=") }),
		"TERM=xterm-256color", "VANLOG_THEME=dark", "XDG_STATE_HOME="+filepath.Dir(file))
	s := &screenOnPty{b: b, cmd: cmd, began: time.Now()}
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Cols: 120, Rows: 40})
	if err != nil {
		b.Fatal(err)
	}
	s.tty = tty
	return s
}

func (s *screenOnPty) press(key string) {
	s.shown, s.began = nil, time.Now()
	if _, err := s.tty.WriteString(key); err != nil {
		s.b.Fatal(err)
	}
}

// until reads until all the texts have been written, and gives the time since the start or
// the last key.
func (s *screenOnPty) until(texts ...string) time.Duration {
	s.b.Helper()
	buf := make([]byte, 1<<16)
	for !containsAll(s.shown, texts) {
		n, err := s.tty.Read(buf)
		if err != nil {
			s.b.Fatalf("the screen never showed %q: %v\n%s", texts, err, s.shown)
		}
		s.shown = append(s.shown, buf[:n]...)
	}
	return time.Since(s.began)
}

func containsAll(shown []byte, texts []string) bool {
	return !slices.ContainsFunc(texts, func(t string) bool { return !bytes.Contains(shown, []byte(t)) })
}

// end reads what is still written and waits for the end of the program.
func (s *screenOnPty) end() {
	s.b.Helper()
	buf := make([]byte, 1<<16)
	for {
		if _, err := s.tty.Read(buf); err != nil {
			break
		}
	}
	s.tty.Close()
	if err := s.cmd.Wait(); err != nil {
		s.b.Fatal(err)
	}
}
