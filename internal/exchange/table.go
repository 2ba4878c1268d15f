package exchange

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/vanlog/internal/build"
)

// table is a table as a spreadsheet writes it, its rows counted as it counts them: the
// header is row 1 where nothing stands above it.
type table struct {
	comma  rune
	header []string
	top    int // row of the header
	rows   []row
}

type row struct {
	number int
	cells  []string // as many as the header has, or more
}

// parseTable reads a table with , ; or tabs between its cells.
func parseTable(data []byte) (table, build.Faults) {
	data, faults := utf8Of(data)
	if len(faults) > 0 {
		return table{}, faults
	}
	if line := badLine(data); line > 0 {
		faults.Add(fmt.Sprintf("line %d", line), "is not UTF-8 text, save the table as CSV UTF-8")
		return table{}, faults
	}
	t := table{comma: separator(data)}
	all, faults := rowsOf(data, t.comma)
	if len(all) > 0 && saysSeparator(all[0].cells) {
		all = all[1:]
	}
	if len(faults) == 0 && len(all) == 0 {
		faults.Add("file", "is empty, want a table whose first row names the columns")
	}
	if len(faults) > 0 {
		return table{}, faults
	}
	t.top = all[0].number
	for _, name := range all[0].cells {
		t.header = append(t.header, strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), " ", "_"))
	}
	for len(t.header) > 1 && t.header[len(t.header)-1] == "" { // columns that were once used
		t.header = t.header[:len(t.header)-1]
	}
	for _, r := range all[1:] {
		if missing := len(t.header) - len(r.cells); missing > 0 {
			r.cells = append(r.cells, make([]string, missing)...)
		}
		t.rows = append(t.rows, r)
	}
	return t, nil
}

// saysSeparator reports whether a row is the line "sep=;" that some spreadsheets write above
// the table, cut in two by the very sign it names.
func saysSeparator(cells []string) bool {
	rest, said := strings.CutPrefix(strings.ToLower(strings.TrimSpace(cells[0])), "sep=")
	return said && len(rest) <= 1 && !slices.ContainsFunc(cells[1:], func(c string) bool { return c != "" })
}

// badLine gives the first line that is not UTF-8; 0 where there is none.
func badLine(data []byte) int {
	for i, line := range bytes.Split(data, []byte("\n")) {
		if !utf8.Valid(line) {
			return i + 1
		}
	}
	return 0
}

// separator gives the sign that stands most often in the first line, outside quotes; or that
// which a line "sep=;" names.
func separator(data []byte) rune {
	count, quoted := map[rune]int{}, false
	if len(data) > 4 && strings.EqualFold(string(data[:4]), "sep=") && strings.IndexByte(",;\t", data[4]) >= 0 {
		return rune(data[4])
	}
	for _, r := range string(bytes.TrimLeft(data, "\r\n")) {
		if r == '"' {
			quoted = !quoted
		}
		if r == '\n' && !quoted {
			break
		}
		if !quoted {
			count[r]++
		}
	}
	best := ','
	for _, r := range ";\t" {
		if count[r] > count[best] {
			best = r
		}
	}
	return best
}

// rowsOf gives the rows that have something in them.
func rowsOf(data []byte, comma rune) ([]row, build.Faults) {
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord = comma, -1
	var rows []row
	number, line := 0, 1 // of the row before, and the line after it
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return nil, build.Faults{tableFault(err)}
		}
		from, _ := r.FieldPos(0)
		number += 1 + from - line // lines without a sign are rows, too, and are left out
		line = from + 1
		for _, c := range cells {
			line += strings.Count(c, "\n")
		}
		if slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" }) {
			rows = append(rows, row{number, cells})
		}
	}
}

func tableFault(err error) build.Fault {
	var parse *csv.ParseError
	if !errors.As(err, &parse) {
		return build.Fault{Path: "file", Text: err.Error()}
	}
	return build.Fault{
		Path: fmt.Sprintf("line %d, column %d", parse.Line, parse.Column),
		Text: fmt.Sprintf(`no table: %v; a cell with quotes in it is written "23 3/16"" bar"`, parse.Err),
	}
}
