package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/tui/widget"
)

// split takes apart what was read in one go. Bubble Tea gives letters that arrive together
// as one key, which no binding would match: a held key, a slow line, a fast typist. Escape
// twice arrives as alt and escape.
func split(k tea.KeyMsg) []tea.KeyMsg {
	if k.Type == tea.KeyEsc && k.Alt {
		return []tea.KeyMsg{{Type: tea.KeyEsc}, {Type: tea.KeyEsc}}
	}
	if k.Type != tea.KeyRunes || k.Paste || len(k.Runes) < 2 {
		return []tea.KeyMsg{k}
	}
	keys := make([]tea.KeyMsg, len(k.Runes))
	for i, r := range k.Runes {
		keys[i] = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: k.Alt}
	}
	return keys
}

// keyOf gives a key as widgets know it.
func keyOf(k tea.KeyMsg) widget.Key {
	switch {
	case k.Paste:
		return widget.Key{Text: string(k.Runes), Paste: true}
	case k.Alt:
		return widget.Key{Name: k.String()}
	case k.Type == tea.KeySpace, k.Type == tea.KeyRunes && string(k.Runes) == " ":
		return widget.Key{Name: "space", Text: " "}
	case k.Type == tea.KeyRunes:
		return widget.Key{Name: string(k.Runes), Text: string(k.Runes)}
	}
	return widget.Key{Name: k.String()}
}
