package widget

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// Cells gives s as exactly h lines of exactly w columns, without a line end after the
// last: longer lines are cut with "…", shorter ones padded. s may be styled; what a
// person typed must have been through Clean before.
func Cells(s string, w, h int) string {
	w, h = max(w, 0), max(h, 0)
	in := strings.Split(s, "\n")
	lines := make([]string, h)
	for i := range lines {
		if i < len(in) {
			lines[i] = Fit(in[i], w)
		} else {
			lines[i] = strings.Repeat(" ", w)
		}
	}
	return strings.Join(lines, "\n")
}

// Clean gives s as one line that moves no cursor: tabs and line ends become blanks;
// control characters, signs that turn the direction of text, and bytes that are no UTF-8 go.
func Clean(s string) string {
	if isClean(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\u2028' || r == '\u2029':
			return ' '
		case !shows(r):
			return -1
		}
		return r
	}, strings.ReplaceAll(strings.ToValidUTF8(s, ""), "\r\n", "\n"))
}

func isClean(s string) bool {
	for _, r := range s {
		if r < ' ' || r > '~' {
			return false
		}
	}
	return true
}

// shows reports whether a terminal may be given r. Of the characters that only steer
// (Unicode Cf), two join letters in scripts that need it and stay.
func shows(r rune) bool {
	if r == '\u200c' || r == '\u200d' {
		return true
	}
	return r != utf8.RuneError && !unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp)
}

// Fit gives s, which may be styled, in exactly w columns: cut with "…" or padded.
func Fit(s string, w int) string {
	if w <= 0 {
		return ""
	}
	s, _, _ = strings.Cut(s, "\n")
	have := ansi.StringWidth(s)
	if have > w {
		s = ansi.Truncate(s, w, "…")
		have = ansi.StringWidth(s)
	}
	return s + strings.Repeat(" ", max(0, w-have))
}

// Wrap breaks s, which must be clean, into lines of at most w columns, at blanks where
// there are any.
func Wrap(s string, w int) []string {
	if w < 1 {
		return nil
	}
	return strings.Split(ansi.Wrap(s, w, ""), "\n")
}
