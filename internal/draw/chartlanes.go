package draw

import "fmt"

// lanes prints what stands over the rows: parts that come, and hours of resources.
func (s *leaf) lanes(grid flat) {
	y := grid.y0
	if len(s.arrivals) > 0 {
		s.text(spot{0, y + 2.8}, rowSize, boldWords, s.coming())
	}
	for _, t := range s.arrivals {
		at := spot{t.x, y + float64(t.strip)*stripHigh + stripHigh/2}
		s.open("g", `class="arrival"`)
		s.comes(at, t.late)
		t.print(s.paper, at.y+0.8)
		s.shut("g")
	}
	y += float64(strips(s.arrivals)) * stripHigh
	for _, b := range s.bands {
		s.open("g", `class="band"`)
		s.text(spot{0, y + 2.6}, rowSize, plainWords, "there: "+shortened(b.Name, rowSize, gridLeft-14))
		for _, f := range s.pieces(s.within(b.Spans), flat{0, y + 0.6, 0, y + bandHigh - 0.6}) {
			s.rect(f, 0, `fill="`+sky+`" stroke="`+black+`" stroke-width="0.12"`)
		}
		s.shut("g")
		y += bandHigh
	}
	if y > grid.y0 {
		s.line(flat{0, y + 1.5, sheetWide, y + 1.5}, stroke(faint, 0.25))
	}
}

func (s *leaf) coming() string {
	if s.unnamed > 0 {
		return fmt.Sprintf("Parts that come (%d more have no room here)", s.unnamed)
	}
	return "Parts that come"
}

// comes draws the sign of an arrival: late ones have a triangle.
func (p *paper) comes(at spot, late bool) {
	if late {
		p.polyline("polygon", []spot{{at.x - 1.3, at.y + 1.1}, {at.x, at.y - 1.2}, {at.x + 1.3, at.y + 1.1}},
			`fill="`+vermilion+`" stroke="`+black+`" stroke-width="0.25"`)
		return
	}
	p.sign(at, 1.2, amber, black)
}

// key says what the marks mean.
func (s *leaf) key(y float64) {
	y += 2.5
	x := 0.0
	say := func(wide float64, words string, draw func(f flat)) {
		need := wide + 1.2 + measured(words, smallSize)
		if x+need > sheetWide {
			x, y = 0, y+4.2
		}
		draw(flat{x, y - barHigh/2, x + wide, y + barHigh/2})
		s.text(spot{x + wide + 1.2, y + 0.9}, smallSize, greyWords, words)
		x += need + 4
	}
	bar := func(f flat, outline string) { s.rect(f, 0, `fill="`+blue+`"`+outline) }
	say(6, "work", func(f flat) { bar(f, "") })
	say(6, "critical: where it ends later, so does the plan", func(f flat) { bar(f, ` stroke="`+black+`" stroke-width="0.45"`) })
	say(6, "the white part is the way in", func(f flat) {
		bar(f, "")
		s.rect(flat{f.x0, f.y0 + 0.5, f.x0 + 2.5, y}, 0, `fill="#ffffff"`)
	})
	say(6, "between times of work", func(f flat) { s.line(flat{f.x0, y, f.x1, y}, stroke(blue, 0.3)) })
	say(6, "cures", func(f flat) { s.cure(flat{f.x0, f.y0 + 0.4, f.x1, f.y1 - 0.4}, false) })
	say(6, "slack: it can end as late as the tick", func(f flat) {
		s.line(flat{f.x0, y, f.x1, y}, stroke(grey, 0.25))
		s.line(flat{f.x1, y - 0.9, f.x1, y + 0.9}, stroke(grey, 0.35))
	})
	say(3, "milestone", func(f flat) { s.sign(spot{f.x0 + 1.5, y}, 1.5, black, black) })
	say(3, "a part comes", func(f flat) { s.comes(spot{f.x0 + 1.5, y}, false) })
	say(3, "a part is late", func(f flat) { s.comes(spot{f.x0 + 1.5, y}, true) })
	say(4, "a day off", func(f flat) { s.rect(f, 0, `fill="#f0f0f0" stroke="`+faint+`" stroke-width="0.15"`) })
}
