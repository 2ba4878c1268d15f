package build

import (
	"fmt"
	"strings"
)

// Fault is one thing that is wrong with a build.
type Fault struct {
	Path  string // in the build file: tasks[12].parts[0]
	Text  string // what is wrong, and with which thing: no part "p-pump"
	Cycle bool   // a loop of must edges
	Names bool   // it may be there only because another record is not
}

func (f Fault) String() string { return f.Path + ": " + f.Text }

// Faults is everything that is wrong with a build. As an error it is one line a fault.
type Faults []Fault

func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.String()
	}
	return strings.Join(lines, "\n")
}

// Add adds a fault.
func (fs *Faults) Add(path, format string, args ...any) {
	*fs = append(*fs, Fault{Path: path, Text: fmt.Sprintf(format, args...)})
}

// addNames adds a fault that the lack of another record makes.
func (fs *Faults) addNames(path, format string, args ...any) {
	*fs = append(*fs, Fault{Path: path, Text: fmt.Sprintf(format, args...), Names: true})
}
