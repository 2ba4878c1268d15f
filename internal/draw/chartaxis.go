package draw

import (
	"strconv"
	"time"

	"example.com/vanlog/internal/units"
)

// ruler cuts the calendar in periods.
type ruler struct {
	floor func(units.Instant) units.Instant // the start of the period
	next  func(units.Instant) units.Instant // the start of the period after one that starts
	name  func(units.Instant) string
	point bool // the name is that of the start, not of the whole period
}

func form(layout string) func(units.Instant) string {
	return func(t units.Instant) string { return t.Format(layout) }
}

// each is a ruler of periods of the same length; they begin on a Monday.
func each(length units.Instant, layout string) ruler {
	return ruler{floor: func(t units.Instant) units.Instant {
		return monday(t) + (t-monday(t))/length*length
	}, next: func(t units.Instant) units.Instant { return t + length }, name: form(layout), point: length != units.Day}
}

// months is a ruler of n months, which divide a year, or of whole years.
func months(n int, layout string) ruler {
	begin := func(t units.Instant, more int) units.Instant {
		year, _ := strconv.Atoi(t.Format("2006"))
		month, _ := strconv.Atoi(t.Format("1"))
		at := year*12 + month - 1
		at -= ((at % n) + n) % n
		return units.InstantOf(time.Date(0, time.Month(at+more+1), 1, 0, 0, 0, 0, time.UTC))
	}
	return ruler{floor: func(t units.Instant) units.Instant { return begin(t, 0) },
		next: func(t units.Instant) units.Instant { return begin(t, n) }, name: form(layout)}
}

// rulers gives the lines of the axis for the width of a day in millimetres: as fine as their
// names go in.
func rulers(day float64) []ruler {
	switch {
	case day > 40:
		return []ruler{each(units.Day, "Monday 2 January 2006"), each(120, "15")}
	case day > 18:
		return []ruler{each(units.Day, "Mon 2 Jan"), each(360, "15")}
	case day > 3.1:
		letter := each(units.Day, "")
		letter.name = func(t units.Instant) string { return t.Format("Mon")[:1] }
		return []ruler{months(1, "January 2006"), letter, each(units.Day, "2")}
	case day > 1.2:
		return []ruler{months(1, "January 2006"), each(7*units.Day, "2 Jan")}
	case day > 0.2:
		return []ruler{months(12, "2006"), months(1, "Jan")}
	}
	for _, n := range []int{1, 2, 5, 10, 20, 50} {
		if day*365*float64(n) > 9 {
			return []ruler{months(12*n, "2006")}
		}
	}
	return []ruler{months(1200, "2006")}
}

// axis prints the calendar over a grid: the coarsest periods at the top. The first and the
// last ruler have lines in the grid too.
func (s *leaf) axis(grid flat) {
	all := rulers(s.dayWide())
	high := axisHigh / float64(len(all))
	y := s.top + headHigh
	for i, r := range all {
		at := y + high/2 + 0.75
		for t := r.floor(s.from); t < s.to; t = r.next(t) {
			f := flat{s.x(t), y, s.x(r.next(t)), at}
			switch {
			case i == 0:
				s.coarse(f, r.name(t))
			case r.point:
				s.point(f, r.name(t), t >= s.from)
			default:
				s.fine(f, r.name(t))
			}
			if t > s.from && (i == 0 || i == len(all)-1) {
				s.line(flat{s.x(t), y, s.x(t), grid.y1}, stroke(ruled(i), 0.15+0.1*float64(1-min(i, 1))))
			}
		}
		y += high
		s.line(flat{gridLeft, y, sheetWide, y}, stroke(faint, 0.2))
	}
}

// ruled is the grey of the lines of a ruler: the first one's are darker.
func ruled(i int) string {
	if i == 0 {
		return faint
	}
	return "#d9d9d9"
}

// coarse prints the name of a long period at its start; where it does not go in, three letters
// of it, which is what months and days of the week are known by.
func (s *leaf) coarse(f flat, name string) {
	room := f.x1 - f.x0 - 1
	if measured(name, rowSize) > room && len(name) > 4 {
		name = name[:3]
	}
	if measured(name, rowSize) <= room {
		s.text(spot{f.x0 + 0.8, f.y1}, rowSize, boldWords, name)
	}
}

// point prints the name of the start of a period beside it, where that is on the sheet.
func (s *leaf) point(f flat, name string, here bool) {
	if here && measured(name, tinySize) <= f.x1-f.x0-0.5 {
		s.text(spot{f.x0 + 0.4, f.y1}, tinySize, greyWords, name)
	}
}

// fine prints the name of a short period in its middle, where it goes in.
func (s *leaf) fine(f flat, name string) {
	if measured(name, tinySize) <= f.x1-f.x0-0.2 {
		s.text(spot{(f.x0 + f.x1) / 2, f.y1}, tinySize, greyWords+centred, name)
	}
}

// shade shades the days off.
func (s *leaf) shade(grid flat) {
	for _, off := range s.within(s.chart.Off) {
		s.rect(flat{s.x(off.From), s.top + headHigh, s.x(off.To), grid.y1}, 0, `class="off" fill="#f0f0f0"`)
	}
}
