package archtest

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const module = "example.com/vanlog/"

var domain = []string{"id", "units", "calendar", "tasks", "deps", "access", "parts", "daybook", "cutlist"}

func with(base []string, more ...string) []string { return append(slices.Clone(base), more...) }

// may says which of our packages each package may import, tests left out.
var may = map[string][]string{
	"internal/id":          {},
	"internal/units":       {},
	"internal/termguard":   {},
	"internal/settings":    {},
	"internal/photo":       {},
	"internal/calendar":    {"id", "units"},
	"internal/tasks":       {"id", "units"},
	"internal/parts":       {"id", "units"},
	"internal/daybook":     {"id", "units"},
	"internal/cutlist":     {"id", "units"},
	"internal/access":      {"id", "units"},
	"internal/reckon":      {"id", "units"},
	"internal/sums":        {"units", "reckon"},
	"internal/find":        {"id"},
	"internal/deps":        {"id", "units", "calendar"},
	"internal/profile":     {"units"},
	"internal/plan":        {"id", "units", "calendar", "profile"},
	"internal/forecast":    {"id", "units", "calendar", "profile"},
	"internal/build":       domain,
	"internal/exchange":    with(domain, "build"),
	"internal/draw":        {"id", "units", "access", "build"},
	"internal/answer":      with(domain, "build", "plan", "forecast", "find"),
	"internal/starter":     with(domain, "build"),
	"internal/demo":        with(domain, "build", "exchange"),
	"internal/store":       with(domain, "build"),
	"internal/app":         with(domain, "build", "answer", "plan", "exchange"),
	"internal/cli":         with(domain, "build", "answer", "plan", "exchange", "demo", "app", "draw", "settings", "photo", "sums", "reckon", "find"),
	"internal/testkit":     with(domain, "build"),
	"internal/tui/widget":  {"id", "units"},
	"internal/tui/screen":  with(domain, "build", "answer", "plan", "draw", "tui/widget", "tui/record"),
	"internal/tui/welcome": with(domain, "build", "exchange", "starter", "tui/widget", "tui/record"),
	"internal/tui/record":  with(domain, "build", "tui/widget"),
	"internal/tui":         with(domain, "build", "answer", "plan", "app", "draw", "tui/widget", "tui/screen", "tui/record", "tui/welcome", "settings", "photo", "sums", "reckon", "find"),
	"cmd/vanlog":           {"units", "build", "cli", "tui", "tui/welcome", "store", "app", "demo", "termguard", "settings"},
}

// onlyIn says which package alone may import a library.
var onlyIn = map[string][]string{
	"go.etcd.io/bbolt":                   {"internal/store"},
	"github.com/spf13/cobra":             {"internal/cli"},
	"github.com/charmbracelet/bubbletea": {"internal/tui"},
	"github.com/charmbracelet/bubbles":   {"internal/tui", "internal/tui/widget"},
	"github.com/charmbracelet/lipgloss":  {"internal/tui", "internal/tui/widget", "internal/tui/screen", "internal/tui/record", "internal/termguard"},
	"github.com/charmbracelet/x/ansi":    {"internal/tui", "internal/tui/widget", "internal/tui/screen", "internal/tui/record", "internal/draw", "internal/cli"},
}

func TestImports(t *testing.T) {
	for dir, imports := range importsUnder(t, "../..") {
		allowed, known := may[dir]
		if !known {
			t.Errorf("%s is not in the table of who may import whom", dir)
			continue
		}
		for _, imp := range imports {
			checkImport(t, dir, imp, allowed)
		}
	}
}

func checkImport(t *testing.T, dir, imp string, allowed []string) {
	t.Helper()
	if ours, ok := strings.CutPrefix(imp, module); ok {
		if !slices.Contains(allowed, strings.TrimPrefix(ours, "internal/")) {
			t.Errorf("%s must not import %s", dir, ours)
		}
		return
	}
	for lib, dirs := range onlyIn {
		if (imp == lib || strings.HasPrefix(imp, lib+"/")) && !slices.Contains(dirs, dir) {
			t.Errorf("%s must not import %s, only %v may", dir, imp, dirs)
		}
	}
}

// importsUnder gives the imports of every package below root, tests left out.
func importsUnder(t *testing.T, root string) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		for _, s := range f.Imports {
			dir := filepath.ToSlash(rel)
			found[dir] = append(found[dir], strings.Trim(s.Path.Value, `"`))
		}
		return err
	})
	if err != nil || len(found) == 0 {
		t.Fatalf("no packages found under %s: %v", root, err)
	}
	return found
}
