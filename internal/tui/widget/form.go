package widget

import (
	"errors"
	"slices"
	"strings"

	"example.com/vanlog/internal/units"
)

// Asks says what kind of answer a field wants.
type Asks int

// The kinds of fields.
const (
	Text        Asks = iota // a line of text
	Choose                  // one of Field.Words, by left and right
	YesNo                   // "yes" or "no", by left and right or y and n
	Lines                   // several lines of text, enter begins a new one
	Pick                    // one of Field.From, the value is its ID or empty
	PickSeveral             // some of Field.From, the value is their IDs with blanks between
)

// Field is one question of a form. Value is always text.
type Field struct {
	Name     string // what the caller knows it by
	Label    string // what the person sees
	Hint     string // unit, example; seen while the field has the cursor
	Asks     Asks
	Value    string
	Words    []string // of Choose
	From     []Choice // of Pick; in Text and Lines ctrl+p puts one of them in at the cursor
	IsDay    bool     // of Text: a day, or a minute of one; ctrl+p opens a calendar
	Required bool
	Locked   bool                    // shown, not changed
	Check    func(text string) error // nil: anything goes; not asked about an empty text
}

// Today gives the form with the day on which calendars open over empty fields. Sunday says that
// their weeks begin with it.
func (f Form) Today(d units.Date, sunday bool) Form {
	f.today, f.sunday = d, sunday
	return f
}

// Form is a list of fields that a person fills in.
type Form struct {
	title   string
	fields  []entry
	at      int
	picker  *Picker   // over the field that is at
	days    *Calendar // likewise
	asking  *Confirm  // leave with changes?
	today   units.Date
	sunday  bool
	trouble string
	tried   bool // to submit: what is missing is said, too
}

// entry is a field as it is being filled in. While text is typed it is in typed,
// not in Value.
type entry struct {
	Field
	first   string // what the value was to begin with
	typed   block
	touched bool
}

func newEntry(f Field) entry {
	e := entry{Field: f, typed: newBlock(f.Value)}
	if f.Asks == Text {
		e.typed = block{line: NewLine(f.Value)}
	}
	e.first = e.value()
	return e
}

func (e entry) isText() bool { return e.Asks == Text || e.Asks == Lines }

func (e entry) value() string {
	switch e.Asks {
	case Text:
		return e.typed.line.Text()
	case Lines:
		return e.typed.text()
	}
	return e.Value
}

var errMissing = errors.New("this must be filled in")

// fault says what is wrong with the value; what is missing only where it is asked for.
func (e entry) fault(missing bool) error {
	v := e.value()
	switch {
	case e.Locked:
		return nil
	case strings.TrimSpace(v) == "":
		if e.Required && missing {
			return errMissing
		}
		return nil
	case e.Check != nil:
		return e.Check(v)
	}
	return nil
}

// NewForm makes a form with the cursor in the first field that is not locked.
func NewForm(title string, fields ...Field) Form {
	f := Form{title: title}
	for _, field := range fields {
		f.fields = append(f.fields, newEntry(field))
	}
	return f.step(-1, 1)
}

func (f Form) find(name string) int {
	return slices.IndexFunc(f.fields, func(e entry) bool { return e.Name == name })
}

// Value gives the text of the field with this name; empty where there is none.
func (f Form) Value(name string) string {
	if i := f.find(name); i >= 0 {
		return f.fields[i].value()
	}
	return ""
}

// With gives the form with another text in a field; the field does not count as touched
// by the person.
func (f Form) With(name, value string) Form {
	i := f.find(name)
	if i < 0 {
		return f
	}
	field := f.fields[i].Field
	field.Value = value
	e := newEntry(field)
	e.first, e.touched = f.fields[i].first, f.fields[i].touched
	return f.put(i, e)
}

// At gives the name of the field under the cursor; empty where there is none, or something is
// open over it.
func (f Form) At() string {
	if f.at >= len(f.fields) || f.picker != nil || f.days != nil || f.asking != nil {
		return ""
	}
	return f.fields[f.at].Name
}

// Touched reports whether the person has changed the field with this name.
func (f Form) Touched(name string) bool {
	i := f.find(name)
	return i >= 0 && f.fields[i].touched
}

// Changed reports whether any field has another value than it began with.
func (f Form) Changed() bool {
	return slices.ContainsFunc(f.fields, func(e entry) bool { return e.value() != e.first })
}

// Trouble gives the form with something that is wrong with the fields together; the form
// shows it and is not submitted until it is taken away with an empty text.
func (f Form) Trouble(text string) Form {
	f.trouble = text
	return f
}

// Fault gives the first field that is wrong, and how; nil where all are right.
func (f Form) Fault() (label string, err error) {
	for _, e := range f.fields {
		if err := e.fault(true); err != nil {
			return e.Label, err
		}
	}
	return "", nil
}

// Typing reports whether letters go into a text now, so that they are no shortcuts.
func (f Form) Typing() bool {
	return f.asking == nil && (f.picker != nil || f.at < len(f.fields) && f.fields[f.at].isText())
}

func (f Form) put(i int, e entry) Form {
	f.fields = slices.Clone(f.fields)
	f.fields[i] = e
	return f
}

// step goes to the next field from at in a direction that is not locked, or stays.
func (f Form) step(at, by int) Form {
	for i := at + by; i >= 0 && i < len(f.fields); i += by {
		if !f.fields[i].Locked {
			f.at = i
			break
		}
	}
	return f
}

func (f Form) last() bool { return f.step(f.at, 1).at == f.at }
