package build

import (
	"fmt"
	"reflect"
	"strings"
	"unicode"
	"unicode/utf8"
)

// texts checks that a record carries no text that no file or terminal should: control
// characters (line breaks and tabs are welcome in notes and reasons) and broken UTF-8.
func (c *checker) texts(path string, row any) {
	if where, bad := badText(reflect.ValueOf(row), false); bad {
		c.faults.Add(path+where, "has control characters or broken UTF-8 in it")
	}
}

// badText gives where in v the first such text stands: the rest of its path.
func badText(v reflect.Value, lines bool) (where string, bad bool) {
	switch v.Kind() {
	case reflect.String:
		return "", !cleanText(v.String(), lines)
	case reflect.Pointer:
		if !v.IsNil() {
			return badText(v.Elem(), lines)
		}
	case reflect.Slice:
		for i := range v.Len() {
			if where, bad := badText(v.Index(i), lines); bad {
				return fmt.Sprintf("[%d]%s", i, where), true
			}
		}
	case reflect.Struct:
		return badField(v)
	}
	return "", false
}

func badField(v reflect.Value) (where string, bad bool) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if !f.IsExported() || f.Type.Kind() <= reflect.Complex128 {
			continue // holds no text
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if where, bad := badText(v.Field(i), name == "note" || name == "why"); bad {
			return "." + name + where, true
		}
	}
	return "", false
}

func cleanText(s string, lines bool) bool {
	for _, r := range s {
		if unicode.IsControl(r) && !(lines && (r == '\n' || r == '\t')) {
			return false
		}
	}
	return utf8.ValidString(s)
}
