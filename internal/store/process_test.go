package store

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"testing"

	"example.com/vanlog/internal/testkit"
)

// The test binary starts itself again as another vanlog, which only writes.
const (
	childFile  = "VANLOG_TEST_CHILD_FILE"
	childName  = "VANLOG_TEST_CHILD_NAME"
	childCount = "VANLOG_TEST_CHILD_COUNT"
)

func TestMain(m *testing.M) {
	if path := os.Getenv(childFile); path != "" {
		os.Exit(child(path))
	}
	os.Exit(m.Run())
}

// child adds entries and says so after each.
func child(path string) int {
	count, err := strconv.Atoi(os.Getenv(childCount))
	if err != nil {
		return 2
	}
	f, err := Open(path)
	for i := 0; err == nil && i < count; i++ {
		note := fmt.Sprintf("%s-%d", os.Getenv(childName), i)
		if err = addEntry(f, note); err == nil {
			fmt.Println(note)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

func startChild(t *testing.T, path, name string, count int) (*exec.Cmd, *bufio.Scanner, *strings.Builder) {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe)
	cmd.Env = append(os.Environ(), childFile+"="+path, childName+"="+name, childCount+"="+strconv.Itoa(count))
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	var stderr strings.Builder
	cmd.Stderr = &stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd, bufio.NewScanner(out), &stderr
}

func notesOf(t *testing.T, f *File) map[string]int {
	t.Helper()
	b, _ := load(t, f)
	notes := map[string]int{}
	for _, d := range b.Days.Rows {
		notes[d.Note]++
	}
	return notes
}

func TestProcessesWritingAtOnceLoseNothing(t *testing.T) {
	const children, each = 4, 25
	f := made(t, testkit.Workshop())
	before, _ := load(t, f)
	var cmds []*exec.Cmd
	var reading sync.WaitGroup
	for c := range children {
		cmd, out, stderr := startChild(t, f.Path(), fmt.Sprint("child", c), each)
		reading.Go(func() {
			for out.Scan() {
			}
		})
		cmds = append(cmds, cmd)
		t.Cleanup(func() {
			if t.Failed() {
				t.Log(stderr.String())
			}
		})
	}
	for i := range each { // and this one reads and writes as well
		if err := addEntry(f, fmt.Sprint("own-", i)); err != nil {
			t.Fatal(err)
		}
	}
	reading.Wait()
	for _, cmd := range cmds {
		if err := cmd.Wait(); err != nil {
			t.Error(err)
		}
	}
	notes := notesOf(t, f)
	for c := range children {
		for i := range each {
			if note := fmt.Sprintf("child%d-%d", c, i); notes[note] != 1 {
				t.Errorf("entry %s is there %d times", note, notes[note])
			}
		}
	}
	after, rev := load(t, f)
	if got, want := after.Days.Len()-before.Days.Len(), (children+1)*each; got != want || int(rev) != want+1 {
		t.Errorf("%d new entries at revision %d, want %d at %d", got, rev, want, want+1)
	}
}

func TestKilledWhileWriting(t *testing.T) {
	f := made(t, testkit.Workshop())
	random := rand.New(rand.NewPCG(3, 4))
	said := 0
	for round := range 20 {
		cmd, out, _ := startChild(t, f.Path(), fmt.Sprint("round", round), 1<<20)
		var acknowledged []string
		for n := 1 + random.IntN(15); len(acknowledged) < n && out.Scan(); {
			acknowledged = append(acknowledged, out.Text())
		}
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		for out.Scan() { // what it still said before it died
			acknowledged = append(acknowledged, out.Text())
		}
		_ = cmd.Wait() // it was killed
		notes := notesOf(t, f)
		for _, note := range acknowledged {
			if notes[note] != 1 {
				t.Errorf("%s was written, and is there %d times", note, notes[note])
			}
		}
		mustBeSound(t, f)
		said += len(acknowledged)
	}
	if said < 20 {
		t.Errorf("only %d entries were written at all", said)
	}
}
