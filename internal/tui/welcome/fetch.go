package welcome

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/exchange"
	"example.com/vanlog/internal/tui/widget"
)

// More fields.
const (
	sourceField = "source"
	kindField   = "kind"
	columnField = "column "
)

// table is a spreadsheet on its way into a build.
type table struct {
	asked  widget.Form // which file, and what its rows are
	data   []byte
	sample exchange.Sample
	kind   build.Kind
	name   string
	path   string

	read    build.Build // with the columns as they are matched now
	trouble []string    // what is wrong with that
}

// fetchForm asks for a file to be imported.
func (p Page) fetchForm() widget.Form {
	return widget.NewForm("Read a build file or a spreadsheet",
		widget.Field{Name: sourceField, Label: "File to read", Required: true, Check: p.mustBeThere, Hint: "a .json build file, or a table as .csv"},
		widget.Field{Name: kindField, Label: "Rows of a table", Asks: widget.Choose, Words: []string{"tasks", "items", "parts"}, Value: "tasks",
			Hint: "what each row is; a build file says so itself"},
		widget.Field{Name: nameField, Label: "Name of the build", Hint: "of a table; empty: that of its file"},
		widget.Field{Name: pathField, Label: "File", Required: true, Check: p.world.mustBeFree, Hint: "where the build is kept, such as lab.van"},
	)
}

// fetch reads the file that is named: a build begins at once, a table has its columns matched
// first.
func (p Page) fetch() (Page, Outcome) {
	source := strings.TrimSpace(p.form.Value(sourceField))
	data, err := p.world.Read(source)
	if err != nil {
		p.says = err.Error()
		return p, Stay
	}
	if isBuildFile(source, data) {
		b, err := exchange.ReadJSON(bytes.NewReader(data))
		if err != nil {
			p.says = firstLines(err.Error())
			return p, Stay
		}
		p.began = beginning(p.form.Value(pathField), b, "import "+filepath.Base(source))
		return p, Begun
	}
	t, err := newTable(p.form, source, data)
	if err != nil {
		p.says = firstLines(err.Error())
		return p, Stay
	}
	p.table, p.step, p.form = t, matching, t.form()
	p.table = p.table.look(p.form)
	return p, Stay
}

// isBuildFile tells a build file from a table: by its name, else by how it begins.
func isBuildFile(path string, data []byte) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".json":
		return true
	case ".csv":
		return false
	}
	return bytes.HasPrefix(bytes.TrimLeft(data, "\ufeff \t\r\n"), []byte("{"))
}

func newTable(asked widget.Form, source string, data []byte) (table, error) {
	t := table{asked: asked, data: data, path: strings.TrimSpace(asked.Value(pathField)), name: strings.TrimSpace(asked.Value(nameField))}
	t.kind = map[string]build.Kind{"tasks": build.TaskKind, "items": build.ItemKind, "parts": build.PartKind}[asked.Value(kindField)]
	if t.name == "" {
		t.name = strings.TrimSuffix(filepath.Base(source), filepath.Ext(source))
	}
	var err error
	t.sample, err = exchange.Look(data)
	return t, err
}

// form asks for each column which field it is.
func (t table) form() widget.Form {
	var from []widget.Choice
	for _, f := range exchange.Fields(t.kind) {
		from = append(from, widget.Choice{ID: f, Name: strings.ReplaceAll(f, "_", " ")})
	}
	guesses := exchange.Guess(t.sample, t.kind)
	var fields []widget.Field
	for i, c := range t.sample.Columns {
		fields = append(fields, widget.Field{Name: fmt.Sprint(columnField, i), Label: c.Title, Asks: widget.Pick, From: from, Value: guesses[i],
			Hint: "such as: " + c.Example})
	}
	return widget.NewForm(fmt.Sprintf("Which column is what? %d rows", t.sample.Rows), fields...)
}

// look reads the table with its columns as they are matched now.
func (t table) look(f widget.Form) table {
	fields := make([]string, len(t.sample.Columns))
	t.read, t.trouble = build.Build{}, nil
	for i := range fields {
		fields[i] = f.Value(fmt.Sprint(columnField, i))
		if fields[i] != "" && slices.Contains(fields[:i], fields[i]) {
			t.trouble = []string{fmt.Sprintf("two columns are %s: leave one out", strings.ReplaceAll(fields[i], "_", " "))}
			return t
		}
	}
	text, err := exchange.Matched(t.data, fields, func(string) bool { return false })
	if err == nil {
		t.read, _, _, err = exchange.ReadCSV(bytes.NewReader(text), build.Build{Head: build.Head{Name: t.name}}, t.kind)
	}
	if err != nil {
		t.trouble = strings.Split(err.Error(), "\n")
	}
	return t
}

// beginning gives the build with the table in it; false where something is wrong with the table.
func (t table) beginning(f widget.Form) (Beginning, bool) {
	t = t.look(f)
	return beginning(t.path, t.read, "import "+t.name), len(t.trouble) == 0
}

// preview says what the table would make.
func (t table) preview(st widget.Styles, w int) []string {
	if len(t.trouble) > 0 {
		lines := []string{st.Bad.Render(widget.Fit("Not yet: "+things(len(t.trouble))+" wrong", w))}
		for _, s := range t.trouble[:min(3, len(t.trouble))] {
			lines = append(lines, widget.Fit("  "+widget.Clean(s), w))
		}
		return lines
	}
	lines := []string{st.Good.Render(widget.Fit(fmt.Sprintf("It would make %s; ctrl+s does. The first are", t.counted()), w))}
	for _, title := range t.titles()[:min(3, len(t.titles()))] {
		lines = append(lines, widget.Fit("  "+widget.Clean(title), w))
	}
	return lines
}

func things(n int) string {
	if n == 1 {
		return "one thing is"
	}
	return fmt.Sprintf("%d things are", n)
}

func (t table) counted() string {
	n := len(t.titles())
	return fmt.Sprintf("%d %s", n, map[bool]string{true: string(t.kind), false: string(t.kind) + "s"}[n == 1])
}

// titles names what was read.
func (t table) titles() []string {
	var out []string
	for _, x := range t.read.Tasks.Rows {
		out = append(out, fmt.Sprintf("%s, %.4g h", x.Title(), x.Hours.Likely))
	}
	for _, x := range t.read.Items.Rows {
		out = append(out, x.Title())
	}
	for _, x := range t.read.Parts.Rows {
		out = append(out, x.Title())
	}
	return out
}

// firstLines cuts a long list of faults.
func firstLines(text string) string {
	lines := strings.Split(text, "\n")
	if len(lines) > 4 {
		lines = append(lines[:4], fmt.Sprintf("and %d more", len(lines)-4))
	}
	return strings.Join(lines, "\n")
}
