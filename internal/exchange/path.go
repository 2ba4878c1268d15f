package exchange

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.com/vanlog/internal/build"
)

// path is the place of a value in a build file. It is only made into text where
// something is wrong there.
type path struct {
	up   *path
	name string // empty: an index
	at   int
}

func (p *path) field(name string) *path { return &path{up: p, name: name} }

func (p *path) index(i int) *path { return &path{up: p, at: i} }

func (p *path) String() string {
	switch {
	case p == nil:
		return ""
	case p.name == "":
		return p.up.String() + "[" + strconv.Itoa(p.at) + "]"
	case p.up == nil:
		return p.name
	}
	return p.up.String() + "." + p.name
}

// root gives the field of the build file that p lies in.
func (p *path) root() string {
	if p == nil || p.up == nil {
		return p.String()
	}
	return p.up.root()
}

// depth counts the steps to p.
func (p *path) depth() int {
	if p == nil {
		return 0
	}
	return p.up.depth() + 1
}

// parents gives the paths that lead to the value at a path, the longest first, that path
// itself among them: tasks[1].parts[0], tasks[1].parts, tasks[1], tasks.
func parents(path string) []string {
	var out []string
	for path != "" {
		out = append(out, path)
		path = path[:max(0, strings.LastIndexAny(path, ".["))]
	}
	return out
}

// locate gives the place in the file of the value at a path, or of the nearest
// value on the way to it.
func (n node) locate(path string) uint32 {
	at := n.from
	for _, step := range strings.FieldsFunc(path, func(r rune) bool { return r == '.' || r == '[' || r == ']' }) {
		next, ok := n.field(step)
		if i, err := strconv.Atoi(step); err == nil && n.kind == list && i < len(n.kids) {
			next, ok = n.kids[i], true
		}
		if !ok {
			break
		}
		n, at = next, next.from
	}
	return at
}

// found is a fault with its place in the file.
type found struct {
	build.Fault
	at uint32
}

// inOrder gives faults in the order of their places.
func inOrder(all []found) build.Faults {
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(a.at, b.at) })
	out := make(build.Faults, len(all))
	for i, f := range all {
		out[i] = f.Fault
	}
	return out
}

// withoutEchoes leaves out what follows from other faults: those at or below the path of
// one of them, and those at the value that has it for a field.
func withoutEchoes(cross build.Faults, first []found) build.Faults {
	below, over := map[string]bool{}, map[string]bool{}
	for _, f := range first {
		below[f.Path] = true
		if up := parents(f.Path); len(up) > 1 {
			over[up[1]] = true
		}
	}
	return slices.DeleteFunc(cross, func(f build.Fault) bool {
		return over[f.Path] || slices.ContainsFunc(parents(f.Path), func(p string) bool { return below[p] })
	})
}
