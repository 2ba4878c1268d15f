// Package termguard stops the terminal libraries from asking the terminal for its
// colours in every command.
//
// The import of Bubble Tea v1 queries the terminal's background in an init function and
// waits five seconds where nothing answers. Go runs the init functions of ready packages in
// order of import path; this package sorts before Bubble Tea's and settles the question first.
// It is imported by cmd/vanlog only. A test there watches over it.
package termguard

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
