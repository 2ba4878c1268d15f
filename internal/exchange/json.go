package exchange

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
)

// What the head of a build file says.
const (
	format  = "vanlog-build"
	version = 1
)

// document is a build file. The running clock is not part of it.
type document struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	build.Head
	Resources []calendar.Resource `json:"resources,omitempty"`
	Places    []access.Place      `json:"places,omitempty"`
	Items     []access.Item       `json:"items,omitempty"`
	Parts     []parts.Part        `json:"parts,omitempty"`
	Tasks     []tasks.Task        `json:"tasks,omitempty"`
	Edges     []deps.Edge         `json:"edges,omitempty"`
	Options   []build.Option      `json:"options,omitempty"`
	Stocks    []cutlist.Stock     `json:"stocks,omitempty"`
	Cuts      []cutlist.Cut       `json:"cuts,omitempty"`
	Days      []daybook.Entry     `json:"days,omitempty"`
	Snags     []daybook.Snag      `json:"snags,omitempty"`
}

// ReadJSON reads a build file. The error is a build.Faults with everything that is wrong, in the
// order of the file; or that of r. Where whole records or their ids cannot be read,
// what names them is only looked at once they can.
func ReadJSON(r io.Reader) (build.Build, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return build.Build{}, fmt.Errorf("read the build file: %w", err)
	}
	data, faults := utf8Of(data)
	var tree node
	if len(faults) == 0 {
		tree, faults = parseTree(data)
	}
	if len(faults) == 0 {
		faults = alien(tree)
	}
	if len(faults) > 0 {
		return build.Build{}, faults
	}
	b, faults := bindBuild(data, tree)
	if len(faults) > 0 {
		return build.Build{}, faults
	}
	return b, nil
}

// utf8Of takes the byte order mark off a file, and refuses one that is not UTF-8 by its mark.
func utf8Of(data []byte) ([]byte, build.Faults) {
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return nil, build.Faults{{Path: "file", Text: "is UTF-16 text, save it as UTF-8"}}
	}
	return bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), nil
}

// alien says that a file is no build file, or a newer one: then nothing else in it counts.
func alien(tree node) build.Faults {
	var faults build.Faults
	if tree.kind != object {
		faults.Add("file", "want a build file, have %s", tree.kind)
		return faults
	}
	if f, ok := tree.field("format"); ok && f.text != format {
		faults.Add("format", "want %q, have %q", format, f.text)
	} else if v, ok := tree.field("version"); ok && v.kind == number && v.text != strconv.Itoa(version) {
		faults.Add("version", "this vanlog reads version %d, the file has %s", version, v.text)
	}
	return faults
}

func bindBuild(data []byte, tree node) (build.Build, build.Faults) {
	var doc document
	bind := newBinder(data)
	bind.value(nil, tree, reflect.ValueOf(&doc).Elem())
	order := byTime(doc.Days)
	b := buildOf(doc, order)
	all := bind.faults
	for _, f := range withoutEchoes(asInFile(b.Check(), order), bind.faults) {
		if !f.Names || !bind.holes {
			all = append(all, found{f, tree.locate(f.Path)})
		}
	}
	return b, inOrder(all)
}

// buildOf makes the build of a document, its days in the given order.
func buildOf(doc document, order []int) build.Build {
	days := slices.Grow([]daybook.Entry(nil), len(order))
	for _, i := range order {
		days = append(days, doc.Days[i])
	}
	return build.Build{
		Head:      doc.Head,
		Resources: build.ListOf(doc.Resources...),
		Places:    build.ListOf(doc.Places...),
		Items:     build.ListOf(doc.Items...),
		Parts:     build.ListOf(doc.Parts...),
		Tasks:     build.ListOf(doc.Tasks...),
		Edges:     build.ListOf(doc.Edges...),
		Options:   build.ListOf(doc.Options...),
		Stocks:    build.ListOf(doc.Stocks...),
		Cuts:      build.ListOf(doc.Cuts...),
		Days:      build.ListOf(days...),
		Snags:     build.ListOf(doc.Snags...),
	}
}

// byTime gives the places of the entries in the order in which they began.
func byTime(days []daybook.Entry) []int {
	order := make([]int, len(days))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return int(days[i].At - days[j].At) })
	return order
}

// asInFile gives faults of a build whose days were put in order the paths of the file.
func asInFile(faults build.Faults, order []int) build.Faults {
	for k, f := range faults {
		rest, day := strings.CutPrefix(f.Path, "days[")
		at, rest, _ := strings.Cut(rest, "]")
		if i, err := strconv.Atoi(at); day && err == nil && i < len(order) {
			faults[k].Path = fmt.Sprintf("days[%d]%s", order[i], rest)
		}
	}
	return faults
}

// WriteJSON writes b as a build file; ReadJSON reads it back to the same bytes. It writes
// all or nothing; the error is that of w, or a number that no file can hold.
func WriteJSON(w io.Writer, b build.Build) error {
	doc := document{
		Format: format, Version: version, Head: b.Head,
		Resources: writable(b.Resources.Rows), Places: b.Places.Rows, Items: b.Items.Rows, Parts: b.Parts.Rows,
		Tasks: b.Tasks.Rows, Edges: b.Edges.Rows, Options: b.Options.Rows,
		Stocks: b.Stocks.Rows, Cuts: b.Cuts.Rows, Days: b.Days.Rows, Snags: b.Snags.Rows,
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(doc); err != nil {
		return fmt.Errorf("write the build file: %w", err)
	}
	return nil
}

// writable gives days without hours of their own an empty list: null would be none given.
func writable(rs []calendar.Resource) []calendar.Resource {
	rs = slices.Clone(rs)
	for i := range rs {
		rs[i].On = slices.Clone(rs[i].On)
		for k, on := range rs[i].On {
			if on.Hours == nil {
				rs[i].On[k].Hours = []calendar.Span{}
			}
		}
	}
	return rs
}
