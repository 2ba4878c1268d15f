package record

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// bullet is what people put before the lines of a list.
var bullet = regexp.MustCompile(`^(?:[-*•·–]|\[[ xX]?\]|\d{1,3}[.)])\s+`)

// ending is hours at the end of a line: one length of work, or three with - or / between.
var ending = regexp.MustCompile(`(?i)[\s,;:(]+((?:\d+(?:[.,]\d+)?\s*[-/–]\s*){2}\d+(?:[.,]\d+)?\s*h?|\d+(?:[.,]\d+)?\s*(?:h|hrs?|hours?)|\d+h\d{2}|\d+:\d{2}|\d+\s*(?:m|min|minutes?))\)?$`)

// guessed is how long a task is taken to be that the list does not say it of: an hour.
const guessed = 1

// TaskList reads a list that was typed or pasted: a task a line, with its hours at the end if they
// are known: "Fit the pump board 3h", "Frames 12-20-32 h", "Sweep 20 min". Bullets and numbers before
// a line are left out; a line without hours is taken to be an hour. Wrong are the lines that are no
// task, by their numbers.
func TaskList(b build.Build, text string) (list []tasks.Task, wrong []string) {
	taken := map[string]bool{}
	for _, t := range b.Tasks.Rows {
		taken[string(t.ID)] = true
	}
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		for rest := bullet.ReplaceAllString(line, ""); rest != line; rest = bullet.ReplaceAllString(line, "") {
			line = rest
		}
		if line == "" {
			continue
		}
		t, err := taskOfLine(line)
		if err != nil {
			wrong = append(wrong, fmt.Sprintf("line %d: %v", i+1, err))
			continue
		}
		t.ID = id.Task(id.ProposeFree(t.Name, func(s string) bool { return taken[s] }))
		if t.ID == "" {
			wrong = append(wrong, fmt.Sprintf("line %d: %q has no letter to make an id of", i+1, line))
			continue
		}
		taken[string(t.ID)] = true
		list = append(list, t)
	}
	return list, wrong
}

func taskOfLine(line string) (tasks.Task, error) {
	t := tasks.Task{Name: line, Hours: units.Sure(guessed)}
	if at := ending.FindStringSubmatchIndex(line); at != nil {
		hours, err := hoursOf(line[at[2]:at[3]])
		if err != nil {
			return t, err
		}
		t.Name, t.Hours = strings.TrimRight(line[:at[0]], " \t,;:("), hours
	}
	t.SetDefaults()
	return t, nil
}

// hoursOf reads one length of work, or three numbers of hours.
func hoursOf(text string) (units.Estimate, error) {
	parts := strings.FieldsFunc(text, func(r rune) bool { return slices.Contains([]rune("-/–"), r) })
	if len(parts) == 1 {
		m, err := units.ParseMinutes(strings.Replace(text, ",", ".", 1))
		return units.Sure(float64(m) / 60), err
	}
	words := make([]string, len(parts))
	for i, p := range parts {
		words[i] = strings.Replace(strings.TrimSpace(strings.TrimRight(strings.TrimSpace(p), "hH")), ",", ".", 1)
	}
	return readEstimate(readHours)(strings.Join(words, " "))
}
