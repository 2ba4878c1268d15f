package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Rows of nested lists are written as one line each, their fields in order with
// semicolons between; fields at the end may be left out.

func semi(fields ...string) string {
	for len(fields) > 1 && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	return strings.Join(fields, "; ")
}

// cutSemi gives exactly n fields of a line, those left out empty.
func cutSemi(s string, n int) ([]string, error) {
	fields := strings.Split(s, ";")
	if len(fields) > n {
		return nil, fmt.Errorf("want at most %d fields with semicolons between, here are %d", n, len(fields))
	}
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	return append(fields, make([]string, n-len(fields))...), nil
}

const beforeCover = "before cover"

// showCheck begins with the id: a reading in the daybook is for an id, so it must not
// change with the words.
func showCheck(c tasks.Check) string {
	cover := ""
	if c.BeforeCover {
		cover = beforeCover
	}
	return semi(string(c.ID), string(c.Kind), c.What, c.Want, cover)
}

// readCheck reads what showCheck writes; the id may be left out.
func readCheck(s string) (tasks.Check, error) {
	first, rest, _ := strings.Cut(s, ";")
	second, _, _ := strings.Cut(rest, ";")
	isKind := func(s string) bool { return slices.Contains(tasks.Kinds(), tasks.Kind(strings.TrimSpace(s))) }
	if isKind(first) && !isKind(second) {
		s = ";" + s
	}
	f, err := cutSemi(s, 5)
	if err != nil {
		return tasks.Check{}, err
	}
	f = tidyCheck(f)
	c := tasks.Check{ID: id.Check(f[0]), Kind: tasks.Kind(f[1]), What: f[2], Want: f[3], BeforeCover: f[4] == beforeCover}
	if c.ID == "" {
		c.ID = id.Check(id.Propose(c.What))
	}
	switch {
	case !isKind(f[1]):
		return c, fmt.Errorf("%q is no kind of proof, want %s", f[1], joinKinds())
	case c.ID == "":
		return c, fmt.Errorf("say what is proved, as in: %s; Tank straps torqued", c.Kind)
	case !id.Valid(c.ID):
		return c, fmt.Errorf("%q: %w", c.ID, errID)
	case f[4] != "" && !c.BeforeCover:
		return c, fmt.Errorf("%q: want %q or nothing", f[4], beforeCover)
	case c.Want != "":
		return c, readWant(c.Want)
	}
	return c, nil
}

// tidyCheck lets "before cover" stand where nothing else is wanted.
func tidyCheck(f []string) []string {
	if f[4] == "" && f[3] == beforeCover {
		f[3], f[4] = "", beforeCover
	}
	return f
}

// uniqueChecks refuses two proofs of a task with one id.
func uniqueChecks(cs []tasks.Check) error {
	seen := map[id.Check]bool{}
	for _, c := range cs {
		if seen[c.ID] {
			return fmt.Errorf("two proofs are called %q", c.ID)
		}
		seen[c.ID] = true
	}
	return nil
}

const outside = "outside"

func showWay(w access.Way) string {
	from, min := string(w.From), ""
	if from == "" {
		from = outside
	}
	if w.EnterMin != 0 {
		min = number(w.EnterMin)
	}
	return semi(from, joinIDs(w.Through), min, w.Note)
}

// readWay reads "wader-locker; locker-back; 2; mind the hose".
func readWay(c choices) func(string) (access.Way, error) {
	return func(s string) (access.Way, error) {
		f, err := cutSemi(s, 4)
		if err != nil {
			return access.Way{}, err
		}
		w := access.Way{Through: splitIDs[id.Item](f[1]), Note: f[3]}
		if f[0] != outside && f[0] != "" {
			w.From = id.Place(f[0])
			err = known("place", c.places, f[0])
		}
		if f[2] != "" && err == nil {
			w.EnterMin, err = readMinutes(f[2])
		}
		for _, i := range w.Through {
			if err == nil {
				err = known("item", c.items, string(i))
			}
		}
		return w, err
	}
}

func showFastener(f access.Fastener) string {
	return semi(f.What, strconv.Itoa(int(f.Count)), f.Torque)
}

// readFastener reads "M6×20 button head; 4; 9 N·m".
func readFastener(s string) (access.Fastener, error) {
	f, err := cutSemi(s, 3)
	if err != nil {
		return access.Fastener{}, err
	}
	fa := access.Fastener{What: f[0], Count: 1, Torque: f[2]}
	if f[0] == "" {
		return fa, fmt.Errorf("say what it is, as in: M6×20 button head; 4; 9 N·m")
	}
	if f[1] != "" {
		n, err := readCount(f[1])
		if err != nil {
			return fa, err
		}
		fa.Count = access.Count(n)
	}
	if fa.Torque != "" {
		return fa, readQuantity(units.Torque, "9 N·m or 80 lbf·in")(fa.Torque)
	}
	return fa, nil
}

func showService(s access.Service) string {
	min := ""
	if s.Minutes != 0 {
		min = number(s.Minutes)
	}
	return semi(s.What, number(s.PerYear), min)
}

// readService reads "clean the pump strainer; 4; 10".
func readService(s string) (access.Service, error) {
	f, err := cutSemi(s, 3)
	if err != nil {
		return access.Service{}, err
	}
	sv := access.Service{What: f[0]}
	if f[0] == "" || f[1] == "" {
		return sv, fmt.Errorf("want the job and how often a year, as in: clean the pump strainer; 4; 10")
	}
	if sv.PerYear, err = readNumber(f[1]); err != nil {
		return sv, err
	}
	if f[2] != "" {
		sv.Minutes, err = readMinutes(f[2])
	}
	return sv, err
}

const anyNumber = "any"

func showLength(l cutlist.Length) string {
	have := anyNumber
	if l.Have != nil {
		have = strconv.Itoa(*l.Have)
	}
	return semi(l.Length, have, l.Cost)
}

// readLength reads "3000 mm; 4; 41.00", or "6000 mm; any; 74.00" of which any number can be bought.
func readLength(s string) (cutlist.Length, error) {
	f, err := cutSemi(s, 3)
	if err != nil {
		return cutlist.Length{}, err
	}
	l := cutlist.Length{Length: f[0], Cost: f[2]}
	if err := readQuantity(units.Length, "3000 mm")(f[0]); err != nil {
		return l, err
	}
	if f[1] != anyNumber && f[1] != "" {
		n, err := strconv.Atoi(f[1])
		if err != nil || n < 0 {
			return l, fmt.Errorf("%q is no count, want a whole number or %q", f[1], anyNumber)
		}
		l.Have = &n
	}
	if l.Cost != "" {
		return l, readMoney(l.Cost)
	}
	return l, nil
}

func showOff(o calendar.Off) string {
	if o.From == o.To {
		return o.From.String()
	}
	return o.From.String() + " " + o.To.String()
}

// readOff reads "2026-04-03 2026-04-06", or one day.
func readOff(s string) (calendar.Off, error) {
	words := strings.Fields(s)
	if len(words) < 1 || len(words) > 2 {
		return calendar.Off{}, fmt.Errorf("%q: want a day, or the first and the last day", s)
	}
	from, err := units.ParseDate(words[0])
	if err != nil {
		return calendar.Off{}, err
	}
	to, err := units.ParseDate(words[len(words)-1])
	if err == nil && to < from {
		err = fmt.Errorf("runs from %s back to %s", from, to)
	}
	return calendar.Off{From: from, To: to}, err
}

func showOn(o calendar.On) string {
	return strings.TrimSpace(o.Date.String() + " " + showSpans(o.Hours))
}

// readOn reads "2026-04-12 10:00-14:00"; a day alone has no hours.
func readOn(s string) (calendar.On, error) {
	words := strings.Fields(s)
	date, err := units.ParseDate(words[0])
	if err != nil {
		return calendar.On{}, err
	}
	spans, err := readSpans(words[1:])
	return calendar.On{Date: date, Hours: spans}, err
}
