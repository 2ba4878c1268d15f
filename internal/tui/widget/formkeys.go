package widget

import (
	"slices"
	"strings"

	"example.com/vanlog/internal/units"
)

// Key fills in. Up, down, tab and shift+tab go from field to field, and so does enter; enter in
// the last field and ctrl+s anywhere are Submitted, unless a field is wrong: the cursor then
// goes there. Esc is Cancelled, after a question where something was changed.
func (f Form) Key(k Key) (Form, Outcome) {
	switch {
	case f.asking != nil:
		return f.answer(k)
	case f.picker != nil:
		return f.pickKey(k)
	case f.days != nil:
		return f.dayKey(k)
	case k.Name == "esc":
		return f.leave()
	case k.Name == "ctrl+s":
		return f.submit()
	case len(f.fields) == 0:
		return f, Unused
	}
	if g, out := f.fieldKey(k); out != Unused {
		return g, out
	}
	switch k.Name {
	case "up", "shift+tab":
		return f.step(f.at, -1), Stay
	case "down", "tab":
		return f.step(f.at, 1), Stay
	case "enter":
		if f.last() {
			return f.submit()
		}
		return f.step(f.at, 1), Stay
	}
	return f, Unused
}

func (f Form) leave() (Form, Outcome) {
	if !f.Changed() {
		return f, Cancelled
	}
	ask := NewConfirm("Leave without saving what you changed?", "leave, forget the changes", "go on filling in")
	f.asking = &ask
	return f, Stay
}

func (f Form) answer(k Key) (Form, Outcome) {
	ask, out := f.asking.Key(k)
	switch out {
	case Submitted:
		f.asking = nil
		return f, Cancelled
	case Cancelled:
		f.asking = nil
	default:
		f.asking = &ask
	}
	return f, Stay
}

func (f Form) submit() (Form, Outcome) {
	f.tried = true
	for i, e := range f.fields {
		if e.fault(true) != nil {
			f.at = i
			return f, Stay
		}
	}
	if f.trouble != "" {
		return f, Stay
	}
	return f, Submitted
}

// fieldKey gives the key to the field under the cursor.
func (f Form) fieldKey(k Key) (Form, Outcome) {
	e := f.fields[f.at]
	if e.Locked {
		return f, Unused
	}
	var out Outcome
	switch {
	case f.opensPicker(k):
		return f.openPicker(k), Stay
	case e.IsDay && k.Name == "ctrl+p":
		return f.openDays(), Stay
	case e.Asks == Text:
		e.typed.line, out = e.typed.line.Key(k)
	case e.Asks == Lines:
		e.typed, out = e.typed.key(k)
	case e.Asks == Choose:
		e.Value, out = chooseKey(e.Words, e.Value, k)
	case e.Asks == YesNo:
		e.Value, out = chooseKey([]string{"no", "yes"}, e.Value, k)
	default:
		e.Value, out = clearKey(e.Value, k)
	}
	if out == Unused {
		return f, Unused
	}
	e.touched = e.touched || e.value() != f.fields[f.at].value()
	return f.put(f.at, e), out
}

// chooseKey gives the word that a key goes to.
func chooseKey(words []string, now string, k Key) (string, Outcome) {
	at, n := slices.Index(words, now), len(words)
	switch {
	case n == 0 || k.Paste:
		return now, Unused
	case k.Name == "left":
		return words[(max(at, 0)+n-1)%n], Stay
	case k.Name == "right" || k.Text == " ":
		return words[(at+1)%n], Stay
	case k.Text == "":
		return now, Unused
	}
	for i := range words { // the next word that begins with the letter
		if w := words[(at+1+i)%n]; strings.HasPrefix(w, k.Text) {
			return w, Stay
		}
	}
	return now, Unused
}

func clearKey(now string, k Key) (string, Outcome) {
	if k.Name == "backspace" || k.Name == "delete" {
		return "", Stay
	}
	return now, Unused
}

// opensPicker reports whether k opens the picker of the field under the cursor.
func (f Form) opensPicker(k Key) bool {
	e := f.fields[f.at]
	if e.isText() {
		return k.Name == "ctrl+p" && len(e.From) > 0
	}
	return (e.Asks == Pick || e.Asks == PickSeveral) && !k.Paste && (k.Name == "enter" || k.Text != "")
}

func (f Form) openPicker(k Key) Form {
	e := f.fields[f.at]
	var chosen []string
	if !e.isText() {
		chosen = strings.Fields(e.Value)
	}
	p := NewPicker(e.Label, e.From, e.Asks == PickSeveral, chosen...)
	if k.Text != "" && k.Text != " " {
		p, _ = p.Key(k)
	}
	f.picker = &p
	return f
}

// openDays opens the calendar of a day's field, on the day that is typed.
func (f Form) openDays() Form {
	e := f.fields[f.at]
	at := f.today
	if w, err := units.ParseWhen(strings.Replace(strings.TrimSpace(e.value()), " ", "T", 1)); err == nil {
		at = w.At.Date()
	}
	c := NewCalendar(e.Label, at, f.sunday)
	f.days = &c
	return f
}

// dayKey gives the key to the open calendar and takes the day that was picked.
func (f Form) dayKey(k Key) (Form, Outcome) {
	c, out := f.days.Key(k)
	f.days = &c
	switch out {
	case Submitted:
		e := f.fields[f.at]
		e.typed, e.touched = newBlock(c.Day().String()), true
		f.days = nil
		return f.put(f.at, e), Stay
	case Cancelled:
		f.days = nil
	}
	return f, Stay
}

// pickKey gives the key to the open picker and takes what was picked.
func (f Form) pickKey(k Key) (Form, Outcome) {
	if k.Name == "ctrl+s" {
		k = Key{Name: "enter"}
	}
	p, out := f.picker.Key(k)
	switch out {
	case Submitted:
		return f.picked(p.Chosen()), Stay
	case Cancelled:
		f.picker = nil
	default:
		f.picker = &p
	}
	return f, Stay
}

func (f Form) picked(ids []string) Form {
	f.picker = nil
	e := f.fields[f.at]
	value := strings.Join(ids, " ")
	if e.isText() {
		e.typed.line = e.typed.line.insert(value)
		e.touched = true
		return f.put(f.at, e)
	}
	e.touched = e.touched || value != e.Value
	e.Value = value
	f = f.put(f.at, e)
	return f.step(f.at, 1)
}
