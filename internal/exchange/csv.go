package exchange

import (
	"encoding/csv"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/vanlog/internal/build"
)

// ReadCSV adds the rows of a table to b. The header names the fields; its columns say
// whether the rows are tasks, items or parts, unless kind is given. A row whose id is there
// changes the fields it has; a row with a new id is added at the end. An empty cell leaves
// its field alone; "-" takes an id, a list, a date, a cure or a position away. It says
// how many rows were new and how many changed something.
//
// The columns are the fields of the build file by their names there; what lies deeper has
// its path with underlines: opening_open_min, cure_hours. Three columns low_h, likely_h,
// high_h, or one called hours; lead_low_days, lead_likely_days, lead_high_days, or one called
// lead_days; at_x_mm, at_y_mm, at_z_mm. Lists of ids have spaces between them, opening_tools
// has semicolons; uses is "builder=2 inside". The checks of a task, the fasteners
// and the service of an item are in no table and stay as they are.
//
// Cells are parted by comma, semicolon or tab; a decimal comma is read where commas do not part.
//
// The error is a build.Faults whose paths are rows and columns: "row 3, hours"; or that of r.
func ReadCSV(r io.Reader, b build.Build, kind build.Kind) (out build.Build, added, changed int, err error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return b, 0, 0, fmt.Errorf("read the table: %w", err)
	}
	t, faults := parseTable(data)
	var form tableForm
	if len(faults) == 0 {
		form, faults = formOf(kind, t)
	}
	if len(faults) > 0 {
		return b, 0, 0, faults
	}
	out = b
	added, changed, faults = form.read(t, &out)
	if len(faults) > 0 {
		return b, 0, 0, faults
	}
	return out, added, changed, nil
}

// WriteCSV writes the tasks, items or parts of b as a table that ReadCSV reads, with commas.
// The error is that of w, or that there is no table for the kind.
func WriteCSV(w io.Writer, b build.Build, kind build.Kind) error {
	form, faults := formOf(kind, table{})
	if len(faults) > 0 {
		return faults
	}
	if err := csv.NewWriter(w).WriteAll(form.write(b)); err != nil {
		return fmt.Errorf("write the table: %w", err)
	}
	return nil
}

// tableForm is a sheet, whatever its type of record.
type tableForm interface {
	is(kind build.Kind) bool
	names() []string
	read(t table, b *build.Build) (added, changed int, faults build.Faults)
	write(b build.Build) [][]string
}

func (s sheet[T]) is(kind build.Kind) bool { return s.kind == kind }

// formOf gives the form of a table: that of the kind, or of no kind the one that
// knows most of its columns.
func formOf(kind build.Kind, t table) (tableForm, build.Faults) {
	forms := []tableForm{taskSheet(), itemSheet(), partSheet()}
	for _, f := range forms {
		if f.is(kind) {
			return f, nil
		}
	}
	var faults build.Faults
	if kind != "" {
		faults.Add("file", "there is no table of kind %q, want task, item or part", kind)
		return nil, faults
	}
	most, best := 0, []tableForm(nil)
	for _, f := range forms {
		known := 0
		for _, name := range f.names() {
			if slices.Contains(t.header, name) {
				known++
			}
		}
		switch {
		case known > most:
			most, best = known, []tableForm{f}
		case known == most && known > 0:
			best = append(best, f)
		}
	}
	if len(best) == 1 {
		return best[0], nil
	}
	faults.Add(fmt.Sprintf("row %d", max(t.top, 1)), "the columns (%s) do not say whether these are tasks, items or parts: "+
		"say which, or add a column such as hours, mass_kg or qty", strings.Join(t.header, ", "))
	return nil, faults
}

// write gives the header and a row for each record.
func (s sheet[T]) write(b build.Build) [][]string {
	columns := slices.DeleteFunc(slices.Clone(s.columns), func(c column[T]) bool { return c.short })
	header := make([]string, len(columns))
	for i, c := range columns {
		header[i] = c.name
	}
	out := [][]string{header}
	for _, record := range s.list(&b).Rows {
		cells := make([]string, len(columns))
		for i, c := range columns {
			cells[i] = c.get(&record)
		}
		out = append(out, cells)
	}
	return out
}

// merge is a table on its way into a list.
type merge[T any] struct {
	sheet[T]
	table
	column  map[string]int // in the table
	records build.List[T]
	index   map[string]int // of an id in records
	rowOf   map[int]int    // the table's row of an index in records
	faults  build.Faults
}

func (s sheet[T]) read(t table, b *build.Build) (added, changed int, faults build.Faults) {
	have := s.list(b)
	m := &merge[T]{sheet: s, table: t, column: map[string]int{}, index: map[string]int{}, rowOf: map[int]int{},
		records: build.List[T]{Keys: slices.Clone(have.Keys), Rows: slices.Clone(have.Rows)}}
	m.heads()
	if len(m.faults) > 0 {
		return 0, 0, m.faults
	}
	for i := range m.records.Rows {
		m.index[s.columns[0].get(&m.records.Rows[i])] = i
	}
	for _, r := range t.rows {
		m.row(r)
	}
	for i, record := range m.records.Rows {
		switch {
		case i >= have.Len():
			added++
		case !reflect.DeepEqual(record, have.Rows[i]):
			changed++
		}
	}
	*have = m.records
	m.check(*b)
	return added, changed, m.faults
}

// heads finds the columns of the table.
func (m *merge[T]) heads() {
	path := func(name string) string { return fmt.Sprintf("row %d, %s", m.top, name) }
	for i, name := range m.header {
		_, twice := m.column[name]
		switch {
		case name == "":
			m.faults.Add(path("column "+strconv.Itoa(i+1)), "has no name")
		case !slices.Contains(m.names(), name):
			m.faults.Add(path(name), "unknown column, %s", instead(name, m.names()))
		case twice:
			m.faults.Add(path(name), "is there twice")
		}
		m.column[name] = i
	}
	if _, ok := m.column["id"]; !ok {
		m.faults.Add(path("id"), "missing: without it no row can be told from another")
	}
}

func (m *merge[T]) fault(r row, name, format string, args ...any) {
	m.faults.Add(fmt.Sprintf("row %d, %s", r.number, name), format, args...)
}

// cell gives the cell of a row in a column, and whether there is something in it.
func (m *merge[T]) cell(r row, c column[T]) (cell, bool) {
	i, ok := m.column[c.name]
	if !ok {
		return cell{}, false
	}
	text := r.cells[i]
	if !c.raw {
		text = strings.TrimSpace(text)
	}
	return cell{text: text, comma: m.comma != ','}, text != ""
}

// row puts a row into its record, or a new one.
func (m *merge[T]) row(r row) {
	id, given := m.cell(r, m.columns[0])
	i, known := m.index[id.text]
	switch {
	case !given:
		m.fault(r, "id", "missing")
		return
	case known && m.rowOf[i] > 0:
		m.fault(r, "id", "%q is in row %d already", id.text, m.rowOf[i])
		return
	case !known:
		i = m.add(id.text)
		m.missing(r)
	}
	m.rowOf[i] = r.number
	m.groupsOf(r)
	for _, c := range m.columns {
		if v, ok := m.cell(r, c); ok {
			if why := c.set(&m.records.Rows[i], v); why != "" {
				m.fault(r, c.name, "%s", why)
			}
		}
	}
	for k := len(m.header); k < len(r.cells); k++ {
		if strings.TrimSpace(r.cells[k]) != "" {
			m.fault(r, fmt.Sprintf("column %d", k+1), "stands right of the last column of the header")
		}
	}
}

// add puts a new record at the end.
func (m *merge[T]) add(id string) int {
	var record T
	if d, ok := any(&record).(interface{ SetDefaults() }); ok {
		d.SetDefaults()
	}
	var last build.Key
	if n := m.records.Len(); n > 0 {
		last = m.records.Keys[n-1] // keys rise
	}
	m.records.Keys = append(m.records.Keys, last+1)
	m.records.Rows = append(m.records.Rows, record)
	m.index[id] = m.records.Len() - 1
	return m.index[id]
}

// missing finds what a new record must have and the row has not.
func (m *merge[T]) missing(r row) {
	for _, c := range m.columns {
		if _, ok := m.cell(r, c); ok && c.path == m.must {
			return
		}
	}
	if m.must != "" {
		m.fault(r, m.must, "missing")
	}
}

// groupsOf checks that columns which belong together are given together.
func (m *merge[T]) groupsOf(r row) {
	for _, g := range m.groups {
		given, taken, alone := 0, 0, false
		for _, c := range m.columns {
			v, ok := m.cell(r, c)
			alone = alone || ok && c.name == g.alone
			if ok && slices.Contains(g.names[:], c.name) {
				given++
				if v.text == nothing {
					taken++
				}
			}
		}
		three := strings.Join(g.names[:2], ", ") + " and " + g.names[2]
		switch {
		case given > 0 && alone:
			m.fault(r, g.alone, "want either %s or %s", g.alone, three)
		case given > 0 && given < len(g.names), taken > 0 && taken < given:
			m.fault(r, g.names[0], "want all of %s, or none", three)
		}
	}
}

// check looks at the build with the table in it, and says what is wrong by rows.
func (m *merge[T]) check(b build.Build) {
	said := map[string]bool{}
	for _, f := range m.faults {
		said[f.Path] = true
	}
	for _, f := range b.Check() {
		if f.Path = m.inTable(f.Path); !said[f.Path] {
			m.faults = append(m.faults, f)
		}
	}
	slices.SortStableFunc(m.faults, func(a, b build.Fault) int { return rowNumber(a.Path) - rowNumber(b.Path) })
}

// inTable gives a path of the build file as row and column, where it lies in the table.
func (m *merge[T]) inTable(path string) string {
	rest, ok := strings.CutPrefix(path, m.plural+"[")
	at, field, _ := strings.Cut(rest, "]")
	i, err := strconv.Atoi(at)
	row := m.rowOf[i]
	if !ok || err != nil || row == 0 {
		return path
	}
	field = strings.TrimPrefix(field, ".")
	if name, ok := m.columnFor(field, m.header); ok {
		field = name
	}
	return strings.TrimSuffix(fmt.Sprintf("row %d, %s", row, field), ", ")
}

// rowNumber gives the row of a path; what is outside the table comes last.
func rowNumber(path string) int {
	rest, _ := strings.CutPrefix(path, "row ")
	number, _, _ := strings.Cut(rest, ",")
	if n, err := strconv.Atoi(number); err == nil {
		return n
	}
	return 1 << 30
}
