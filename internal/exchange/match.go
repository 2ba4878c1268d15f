package exchange

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
)

// Sample is what a table shows of itself before it is read: somebody else's spreadsheet,
// whose columns are yet to be matched with the fields of a build.
type Sample struct {
	Columns []SampleColumn
	Rows    int // below the header
}

// SampleColumn is a column by its title, with the first thing that stands in it.
type SampleColumn struct{ Title, Example string }

// Look gives the columns of a table. The error is a build.Faults where the text is no table.
func Look(data []byte) (Sample, error) {
	t, faults := parseTable(data)
	if len(faults) > 0 {
		return Sample{}, faults
	}
	s := Sample{Rows: len(t.rows)}
	for i, title := range t.header {
		c := SampleColumn{Title: title}
		for _, r := range t.rows {
			if c.Example = strings.TrimSpace(r.cells[i]); c.Example != "" {
				break
			}
		}
		s.Columns = append(s.Columns, c)
	}
	return s, nil
}

// Fields gives the fields that a table of a kind may have, in the order of the build file;
// nil where there is no table for the kind.
func Fields(kind build.Kind) []string {
	f, faults := formOf(kind, table{})
	if len(faults) > 0 {
		return nil
	}
	return f.names()
}

// meanings are words that people put over a column, and the field that they mean.
func meanings() map[string]string {
	return map[string]string{
		"title": "name", "task": "name", "item": "name", "part": "name", "description": "name", "what": "name", "job": "name", "work": "name",
		"no": "id", "nr": "id", "number": "id", "key": "id", "code": "id",
		"duration": "hours", "estimate": "hours", "time": "hours", "h": "hours", "hrs": "hours",
		"where": "place", "location": "place", "area": "place", "kind_of_work": "trade", "craft": "trade",
		"mass": "mass_kg", "weight": "mass_kg", "kg": "mass_kg",
		"quantity": "qty", "count": "qty", "pieces": "qty", "price": "cost", "lead": "lead_days", "lead_time": "lead_days",
		"expected": "due", "delivery": "due", "order_date": "ordered", "received": "arrived",
	}
}

// Guess gives for each column of a sample the field that it seems to be, each field at most
// once; empty for those that seem to be none.
func Guess(s Sample, kind build.Kind) []string {
	fields, out := Fields(kind), make([]string, len(s.Columns))
	for _, guess := range []func(title string) string{
		func(title string) string { return title },
		func(title string) string { return meanings()[title] },
	} {
		for i, c := range s.Columns {
			field := guess(c.Title)
			if out[i] == "" && slices.Contains(fields, field) && !slices.Contains(out, field) {
				out[i] = field
			}
		}
	}
	return out
}

// Matched gives a table with its columns renamed to these fields, one for each; columns with an empty field
// are left out. Where no column is the id, ids are made of the names, other than those that
// taken knows. The error is a build.Faults where the text is no table.
func Matched(data []byte, fields []string, taken func(name string) bool) ([]byte, error) {
	t, faults := parseTable(data)
	if len(faults) > 0 {
		return nil, faults
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Comma = t.comma // a decimal comma stays one
	for i := 1; i < t.top; i++ {
		out.WriteByte('\n') // so that rows keep their numbers
	}
	m := matcher{fields: fields, named: slices.Index(fields, "name"), numbered: slices.Contains(fields, "id"), taken: taken, made: map[string]bool{}}
	_ = w.Write(m.row(fields, "id"))
	at := t.top
	for _, r := range t.rows {
		w.Flush()
		for at++; at < r.number; at++ {
			out.WriteByte('\n')
		}
		_ = w.Write(m.row(r.cells, m.id(r.cells)))
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// matcher picks the cells of the fields that are wanted.
type matcher struct {
	fields   []string
	named    int // the column of names; -1: none
	numbered bool
	taken    func(string) bool
	made     map[string]bool
}

// row gives the cells that are wanted, after an id where the table has none.
func (m matcher) row(cells []string, name string) []string {
	var out []string
	if !m.numbered {
		out = append(out, name)
	}
	for i, f := range m.fields {
		if f != "" && i < len(cells) {
			out = append(out, cells[i])
		}
	}
	return out
}

// id makes an id of the name in a row; none where it has one, or no name.
func (m matcher) id(cells []string) string {
	if m.numbered || m.named < 0 {
		return ""
	}
	name := id.ProposeFree(cells[m.named], func(s string) bool { return m.made[s] || m.taken(s) })
	m.made[name] = true
	return name
}
