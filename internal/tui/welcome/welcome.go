// Package welcome is what vanlog shows where there is no build yet: the demonstration, a
// guided start of a new build, a build file or somebody's spreadsheet to be read, or a build
// that lies somewhere.
//
// A Page is a value: it takes keys and says in the end how to begin. What it wants to know
// of the outside it asks of a World; it writes nothing.
package welcome

import (
	"path/filepath"
	"strings"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tui/widget"
)

// World is what a Page may ask of the outside.
type World struct {
	Files func() []string                   // builds that lie in this folder
	Read  func(path string) ([]byte, error) // a file to be imported
	There func(path string) bool            // something has this name
}

// Beginning is how a person wants to begin.
type Beginning struct {
	Demo  bool         // with the demonstration build
	Path  string       // of the build; empty with Demo
	Build *build.Build // to be written there; nil: it is there
	What  string       // what writing it does, for its history
}

// Outcome says what a key did.
type Outcome int

// The outcomes of a key.
const (
	Stay  Outcome = iota
	Begun         // see Page.Beginning
	Left          // without beginning
)

// step is what a page shows now.
type step int

const (
	choosing step = iota // how to begin
	making               // a new build
	opening              // a build that is there
	naming               // the path of one
	fetching             // a file to be imported
	matching             // the columns of a table
)

// Page asks how to begin. Make one with New.
type Page struct {
	world World
	step  step
	says  string // why the page is here, or what went wrong
	menu  widget.List
	files widget.List
	form  widget.Form
	table table
	began Beginning
}

// The rows of the menu.
const (
	demoRow   = "demo"
	newRow    = "new"
	importRow = "import"
	openRow   = "open"
	leaveRow  = "leave"
	otherRow  = "other"
)

// New makes a page; says is why it is shown, such as that a build is gone.
func New(w World, says string) Page {
	rows := []widget.Row{
		{ID: demoRow, Text: "Look round in the demonstration build", Note: "160 tasks, six weeks in"},
		{ID: newRow, Text: "Begin a new build", Note: "the van, your hours, places, a first list of work"},
		{ID: importRow, Text: "Read a build file or a spreadsheet", Note: "JSON, or CSV with columns to match"},
		{ID: openRow, Text: "Open a build", Note: "a .van file"},
		{ID: leaveRow, Text: "Leave"},
	}
	return Page{world: w, says: says, menu: widget.NewList(rows, "")}
}

// Beginning gives how to begin, once Key says Begun.
func (p Page) Beginning() Beginning { return p.began }

// Typing reports whether letters are typed into something.
func (p Page) Typing() bool { return p.step != choosing && p.step != opening }

// Refused shows why a beginning could not be made; what was typed stays.
func (p Page) Refused(why string) Page {
	p.says = why
	return p
}

// Key takes a key.
func (p Page) Key(k widget.Key) (Page, Outcome) {
	switch p.step {
	case choosing:
		return p.choose(k)
	case opening:
		return p.pickFile(k)
	}
	form, out := p.form.Key(k)
	p.form = form
	switch out {
	case widget.Cancelled:
		return p.back(), Stay
	case widget.Submitted:
		return p.submit()
	}
	return p.typed(), Stay
}

// choose moves in the menu, or begins what was chosen.
func (p Page) choose(k widget.Key) (Page, Outcome) {
	if k.Name == "q" {
		return p, Left
	}
	menu, out := p.menu.Key(k)
	p.menu = menu
	switch {
	case out == widget.Cancelled:
		return p, Left
	case out != widget.Submitted:
		return p, Stay
	}
	p.says = ""
	switch row, _ := p.menu.Selected(); row.ID {
	case demoRow:
		p.began = Beginning{Demo: true}
		return p, Begun
	case newRow:
		p.step, p.form = making, newForm(p.world)
	case importRow:
		p.step, p.form = fetching, p.fetchForm()
	case openRow:
		p.step, p.files = opening, p.fileList()
	case leaveRow:
		return p, Left
	}
	return p, Stay
}

// back goes one step back.
func (p Page) back() Page {
	p.says = ""
	switch p.step {
	case naming:
		p.step = opening
	case matching:
		p.step, p.form = fetching, p.table.asked
	default:
		p.step = choosing
	}
	return p
}

func (p Page) fileList() widget.List {
	var rows []widget.Row
	for _, f := range p.world.Files() {
		rows = append(rows, widget.Row{ID: f, Text: filepath.Base(f)})
	}
	return widget.NewList(append(rows, widget.Row{ID: otherRow, Text: "Another file: type its path"}), "")
}

func (p Page) pickFile(k widget.Key) (Page, Outcome) {
	files, out := p.files.Key(k)
	p.files = files
	if out == widget.Cancelled {
		return p.back(), Stay
	}
	row, ok := p.files.Selected()
	if out != widget.Submitted || !ok {
		return p, Stay
	}
	if row.ID == otherRow {
		p.step, p.form = naming, widget.NewForm("Open a build", widget.Field{Name: pathField, Label: "File", Required: true,
			Hint: "its path, such as ~/builds/lab.van", Check: p.mustBeThere})
		return p, Stay
	}
	p.began = Beginning{Path: row.ID}
	return p, Begun
}

// submit takes what a form has asked for.
func (p Page) submit() (Page, Outcome) {
	var err error
	p.says = ""
	switch p.step {
	case making:
		p.began, err = made(p.form)
	case naming:
		p.began = Beginning{Path: strings.TrimSpace(p.form.Value(pathField))}
	case fetching:
		return p.fetch()
	case matching:
		began, ok := p.table.beginning(p.form)
		if !ok {
			return p, Stay // the preview says why
		}
		p.began = began
	}
	if err != nil {
		p.says = err.Error()
		return p, Stay
	}
	return p, Begun
}

// typed keeps what follows from the fields in step with them.
func (p Page) typed() Page {
	switch p.step {
	case making:
		p.form = nameTheFile(p.form, p.world)
	case matching:
		p.table = p.table.look(p.form)
	}
	return p
}
