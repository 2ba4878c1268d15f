package welcome

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/starter"
	"example.com/vanlog/internal/tui/record"
	"example.com/vanlog/internal/tui/widget"
)

// The names of the fields.
const (
	nameField     = "name"
	pathField     = "path"
	unitsField    = "units"
	vanField      = "van"
	sizesField    = "sizes"
	hoursField    = "hours"
	helperField   = "helper"
	warmField     = "warm"
	placesField   = "places"
	tradesField   = "trades"
	licensedField = "licensed"
)

// newForm is the guided start of a new build.
func newForm(w World) widget.Form {
	var vans []string
	for _, v := range starter.Vans() {
		vans = append(vans, v.Name)
	}
	return widget.NewForm("A new build",
		widget.Field{Name: nameField, Label: "Name of the build", Required: true, Hint: "such as River lab"},
		widget.Field{Name: pathField, Label: "File", Required: true, Hint: "where it is kept; proposed from the name", Check: w.mustBeFree},
		widget.Field{Name: unitsField, Label: "Units shown", Asks: widget.Choose, Words: []string{"metric", "imperial"}, Value: "metric",
			Hint: "what is typed stays as typed"},
		widget.Field{Name: vanField, Label: "Van", Asks: widget.Choose, Words: vans, Value: vans[1], Hint: "a bare panel van of this length; sizes can be given below"},
		widget.Field{Name: sizesField, Label: "Its sizes", Check: checkSizes,
			Hint: "mm: wheelbase, then length, width and height of the load space, such as 3650 3400 1780 1900; empty: of such a van"},
		widget.Field{Name: hoursField, Label: "Your hours", Asks: widget.Lines, Required: true, Value: "mon-fri 08:00-12:00 13:00-17:00", Check: checkWeek,
			Hint: "a line each: days and hours"},
		widget.Field{Name: helperField, Label: "Helper's hours", Asks: widget.Lines, Check: checkWeek, Hint: "such as sat 09:00-13:00; empty: nobody helps"},
		widget.Field{Name: warmField, Label: "Warm hours", Asks: widget.Lines, Check: checkWeek,
			Hint: "when it is above 10 °C where glue and paint cure; empty: always"},
		widget.Field{Name: placesField, Label: "Places of the van", Asks: widget.YesNo, Value: "yes", Hint: "aisle, corners, floor, ceiling, roof, cab, engine bay, underneath"},
		widget.Field{Name: tradesField, Label: "First list of work", Asks: widget.YesNo, Value: "yes", Hint: "the trades in their usual order, to be split up"},
		widget.Field{Name: licensedField, Label: "Gas or mains", Asks: widget.YesNo, Value: "no", Hint: "a licensed person does it, with a certificate"},
	)
}

// ending is how the file of a build is called.
const ending = ".van"

// nameTheFile proposes a file for the name, until the person types one.
func nameTheFile(f widget.Form, w World) widget.Form {
	if f.Touched(pathField) {
		return f
	}
	name := id.ProposeFree(f.Value(nameField), func(s string) bool { return w.There(s + ending) })
	if name != "" {
		name += ending
	}
	return f.With(pathField, name)
}

// made makes the build that a form asks for.
func made(f widget.Form) (Beginning, error) {
	a := starter.Answers{Name: f.Value(nameField), Units: f.Value(unitsField), Places: f.Value(placesField) == "yes",
		Trades: f.Value(tradesField) == "yes", Licensed: f.Value(licensedField) == "yes"}
	for _, v := range starter.Vans() {
		if v.Name == f.Value(vanField) {
			a.Van = v
		}
	}
	if err := resize(&a.Van, f.Value(sizesField)); err != nil {
		return Beginning{}, err
	}
	hours, err := record.Week(f.Value(hoursField))
	if err != nil {
		return Beginning{}, err
	}
	a.Hours = *hours // required: never nil
	if a.Helper, err = record.Week(f.Value(helperField)); err != nil {
		return Beginning{}, err
	}
	if a.Heated, err = record.Week(f.Value(warmField)); err != nil {
		return Beginning{}, err
	}
	b, err := starter.Build(a)
	return beginning(f.Value(pathField), b, "begin "+a.Name), err
}

func beginning(path string, b build.Build, what string) Beginning {
	return Beginning{Path: strings.TrimSpace(path), Build: &b, What: what}
}

func checkWeek(text string) error {
	_, err := record.Week(text)
	return err
}

func checkSizes(text string) error { return resize(&starter.Van{}, text) }

// resize gives a van the sizes that are typed, if any.
func resize(v *starter.Van, text string) error {
	words := strings.Fields(text)
	if len(words) == 0 {
		return nil
	}
	sizes := []*float64{&v.Wheelbase, &v.Length, &v.Width, &v.Height}
	if len(words) != len(sizes) {
		return fmt.Errorf("want four numbers of mm, here are %d", len(words))
	}
	for i, word := range words {
		mm, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return fmt.Errorf("%q is no number of mm", word)
		}
		*sizes[i] = mm
	}
	return nil
}

// mustBeFree refuses the name of something that is there: no file is written over.
func (w World) mustBeFree(path string) error {
	if w.There(strings.TrimSpace(path)) {
		return fmt.Errorf("%s is there already: open it, or take another name", strings.TrimSpace(path))
	}
	return nil
}

func (p Page) mustBeThere(path string) error {
	if !p.world.There(strings.TrimSpace(path)) {
		return fmt.Errorf("there is no %s", strings.TrimSpace(path))
	}
	return nil
}
