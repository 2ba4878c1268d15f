package widget

import "github.com/charmbracelet/lipgloss"

// hue is one colour: as it is meant, and what serves for it where there are only 256 or 16
// colours: the number of one, or empty for the colour of plain text.
type hue struct{ full, of256, of16 string }

func (h hue) color() lipgloss.TerminalColor {
	return lipgloss.CompleteColor{TrueColor: h.full, ANSI256: h.of256, ANSI: h.of16}
}

// palette has a colour for each meaning. On its ground each keeps a contrast of 4.5 : 1
// (WCAG 2.1, 1.4.3), and any two stay apart for eyes that lack one kind of cone.
type palette struct{ dim, key, good, warn, bad, place, way hue }

// darkPalette is for a black ground: the hues of Okabe and Ito (Color Universal Design, 2008)
// and a light grey, as a darker one is taken for their purple where green is not seen.
func darkPalette() palette {
	return palette{
		dim:   hue{"#C0C0C0", "250", "7"},
		key:   hue{"#56B4E9", "117", "14"},
		good:  hue{"#009E73", "35", "10"},
		warn:  hue{"#E69F00", "214", "11"},
		bad:   hue{"#D55E00", "166", "9"},
		place: hue{"#F0E442", "228", "15"},
		way:   hue{"#CC79A7", "132", "13"},
	}
}

// lightPalette is for a white ground, where the hues of Okabe and Ito are too pale: their
// kin, kept apart by how dark they are. Of the 16 colours only three are dark enough there.
func lightPalette() palette {
	return palette{
		dim:   hue{"#757575", "238", ""},
		key:   hue{"#26759E", "26", "4"},
		good:  hue{"#0B4838", "29", ""},
		warn:  hue{"#8A6C19", "130", ""},
		bad:   hue{"#711F00", "88", "1"},
		place: hue{"#2027CE", "19", "4"},
		way:   hue{"#660B5B", "90", "5"},
	}
}
