package widget

// Key is one press of a key, or a paste.
type Key struct {
	// Name is the key's name: "enter", "esc", "up", "down", "left", "right", "home", "end",
	// "pgup", "pgdown", "tab", "shift+tab", "backspace", "delete", "space", "ctrl+s", … It
	// is empty, or the character itself, where a character was typed.
	Name string
	// Text is the characters typed or pasted; empty for other keys.
	Text string
	// Paste says that Text was pasted: it goes into a text field and nowhere else.
	Paste bool
}

// Outcome says what a key did to a widget.
type Outcome int

// The outcomes of a key.
const (
	Stay      Outcome = iota // the widget used the key and goes on
	Unused                   // the widget has no use for the key: it is for others
	Submitted                // the person is done: take what was chosen or typed
	Cancelled                // the person went back: nothing is to be done
)
