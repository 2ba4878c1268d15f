package plan

import (
	"archive/tar"
	"bufio"
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/klauspost/compress/zstd"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// The sets of R. Kolisch and A. Sprecher, PSPLIB - A project scheduling problem library,
// European Journal of Operational Research 96 (1997) 205-216: DIR holds j30.sm.tar.zst and so on,
// or the same unpacked, and the tables j30opt.sm, j60hrs.sm, j60lb.sm.
var (
	psplibDir       = flag.String("psplib", "", "`DIR` with the PSPLIB sets")
	psplibSets      = flag.String("psplibsets", "j30", "sets to solve, with commas")
	psplibTime      = flag.Duration("psplibtime", 5*time.Second, "working time of the process for each instance")
	psplibSchedules = flag.Int("psplibschedules", 0, "schedules for each instance, instead of the time")
	psplibEvery     = flag.Int("psplibevery", 1, "solve every n-th instance only")
)

// TestPSPLIB solves the sets, and holds each result against the published figures. One unit
// of time is a minute.
func TestPSPLIB(t *testing.T) {
	if *psplibDir == "" {
		t.Skip("no PSPLIB sets were named (-args -psplib DIR)")
	}
	for set := range strings.SplitSeq(*psplibSets, ",") {
		t.Run(set, func(t *testing.T) { solveSet(t, set) })
	}
}

// tally adds up the results of a set.
type tally struct {
	count, proven, optimal int
	deviation, above       float64 // sums of per cent: from the best known, and above the critical path
	took                   time.Duration
}

func (s *tally) String() string {
	n := float64(max(s.count, 1))
	return fmt.Sprintf("%d instances: %.3f %% from the best known, %.3f %% above the critical path, best known met %d, proven %d (%.1f %%), %.1f s each",
		s.count, s.deviation/n, s.above/n, s.optimal, s.proven, 100*float64(s.proven)/n, s.took.Seconds()/n)
}

func solveSet(t *testing.T, set string) {
	upper := psplibTable(t, set+"opt.sm", set+"hrs.sm")
	lower := psplibTable(t, set+"lb.sm", set+"opt.sm") // the first has the best known, and then the bound
	files := psplibFiles(t, set)
	var sum tally
	for i, key := range psplibKeys(upper) {
		if i%*psplibEvery != 0 {
			continue
		}
		file := fmt.Sprintf("%s%d_%d.sm", set, key[0], key[1])
		p := readPSPLIB(t, file, files[file])
		start := processTime(t)
		s, err := findWithin(t, p)
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		best, low := upper[key][0], 0
		if known := lower[key]; len(known) > 0 {
			low = slices.Min(known)
		}
		finish, bound := int(s.Finish), int(s.Bound)
		if finish < low || bound > best {
			t.Errorf("%s: finish %d, bound %d; known are a bound of %d and a finish of %d", file, finish, bound, low, best)
		}
		took := processTime(t) - start
		sum.add(t, s, best, criticalPath(t, p), took)
		t.Logf("%s_%d_%d: finish %d, bound %d, best known %d, %.2f s", set, key[0], key[1], finish, bound, best, took.Seconds())
	}
	t.Logf("%s, %v, %d schedules: %v", set, *psplibTime, *psplibSchedules, &sum)
}

// findWithin searches for as many schedules, or as long, as the flags say. What other
// processes take of the machine does not count.
func findWithin(t *testing.T, p Problem) (Sequence, error) {
	t.Helper()
	if *psplibSchedules > 0 {
		return Find(context.Background(), p, Options{Schedules: *psplibSchedules})
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	end := processTime(t) + *psplibTime
	watch := time.AfterFunc(0, func() {
		for ctx.Err() == nil && processTime(t) < end {
			time.Sleep(10 * time.Millisecond)
		}
		cancel()
	})
	defer watch.Stop()
	return Find(ctx, p, Options{Time: time.Hour})
}

func (s *tally) add(t *testing.T, found Sequence, best, path int, took time.Duration) {
	t.Helper()
	finish := int(found.Finish)
	s.count++
	s.took += took
	s.deviation += 100 * float64(finish-best) / float64(best)
	s.above += 100 * float64(finish-path) / float64(path)
	if found.Proven {
		s.proven++
	}
	if finish <= best {
		s.optimal++
	}
}

// criticalPath gives the length of the longest chain of jobs.
func criticalPath(t *testing.T, p Problem) int {
	t.Helper()
	m, err := newModel(&p)
	if err != nil {
		t.Fatal(err)
	}
	w, err := m.heads()
	if err != nil {
		t.Fatal(err)
	}
	end := units.Instant(0)
	for j := range w {
		end = max(end, w[j].finish)
	}
	return int(end)
}

var (
	psplibRow   = regexp.MustCompile(`^\s*\d[\d\s]*$`)
	psplibEntry = regexp.MustCompile(`^\s*(\d+)\s+(\d+)\s+(\d+)(?:\s+(\d+)(?:\s|$))?`)
)

// psplibFiles reads the instances of a set, packed or not, by the names of their files.
func psplibFiles(t *testing.T, set string) map[string]string {
	t.Helper()
	files := map[string]string{}
	packed, err := os.Open(filepath.Join(*psplibDir, set+".sm.tar.zst"))
	if err != nil {
		loose, _ := filepath.Glob(filepath.Join(*psplibDir, set+".sm", "*.sm"))
		for _, name := range loose {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			files[filepath.Base(name)] = string(data)
		}
		return files
	}
	defer packed.Close()
	unpacked, err := zstd.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	defer unpacked.Close()
	for r := tar.NewReader(unpacked); ; {
		head, err := r.Next()
		if err == io.EOF {
			return files
		}
		data, readErr := io.ReadAll(r)
		if err != nil || readErr != nil {
			t.Fatal(err, readErr)
		}
		files[path.Base(head.Name)] = string(data)
	}
}

// readPSPLIB reads an instance: three blocks of rows of numbers, between rows of stars.
func readPSPLIB(t *testing.T, file, data string) Problem {
	t.Helper()
	var blocks [][][]int
	for block := range strings.SplitSeq(data, "****") {
		var rows [][]int
		for line := range strings.Lines(block) {
			if psplibRow.MatchString(line) {
				rows = append(rows, numbers(t, line))
			}
		}
		if len(rows) > 0 {
			blocks = append(blocks, rows)
		}
	}
	if len(blocks) != 4 { // the first is about the project
		t.Fatalf("%s: %d blocks of numbers", file, len(blocks))
	}
	return psplibProblem(blocks[1], blocks[2], blocks[3][0])
}

func numbers(t *testing.T, line string) (out []int) {
	t.Helper()
	for _, field := range strings.Fields(line) {
		n, err := strconv.Atoi(field)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, n)
	}
	return out
}

// psplibProblem puts an instance as a problem: what follows each job, what it takes,
// and what there is.
func psplibProblem(follow, takes [][]int, there []int) Problem {
	cal := calendar.Compile(nil)
	var p Problem
	for i, n := range there {
		p.Resources = append(p.Resources, Resource{ID: id.Resource(fmt.Sprintf("r%d", i+1)), Capacity: n, Hours: cal.Of()})
	}
	for i, row := range takes {
		j := Job{ID: id.Task(fmt.Sprintf("j%d", row[0])), Minutes: row[2], Hours: cal.Of()}
		for r, n := range row[3:] {
			j.Uses = append(j.Uses, Use{r, n})
		}
		p.Jobs = append(p.Jobs, j)
		for _, after := range follow[i][3:] {
			p.Edges = append(p.Edges, Edge{Before: i, After: after - 1})
		}
	}
	return p
}

// psplibTable reads the first of the named tables that is there: the figures of each instance.
func psplibTable(t *testing.T, names ...string) map[[2]int][]int {
	t.Helper()
	for _, name := range names {
		f, err := os.Open(filepath.Join(*psplibDir, name))
		if err != nil {
			continue
		}
		defer f.Close()
		table := map[[2]int][]int{}
		for lines := bufio.NewScanner(f); lines.Scan(); {
			if found := psplibEntry.FindStringSubmatch(lines.Text()); found != nil {
				n := numbers(t, strings.Join(found[1:], " "))
				table[[2]int{n[0], n[1]}] = n[2:]
			}
		}
		if len(table) > 0 {
			return table
		}
	}
	t.Skipf("none of %v lies in %s", names, *psplibDir)
	return nil
}

func psplibKeys(table map[[2]int][]int) (keys [][2]int) {
	for key := range table {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
	return keys
}
