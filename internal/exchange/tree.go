package exchange

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/vanlog/internal/build"
)

// kind is the kind of a JSON value.
type kind uint8

const (
	null kind = iota
	boolean
	number
	text
	list
	object
)

// String says what a person would call it.
func (k kind) String() string {
	return [...]string{"null", "true or false", "a number", "text", "a list", "an object"}[k]
}

// flaw is what can be wrong with a text.
type flaw uint8

const (
	sound flaw = iota
	notUTF8
	halfOfPair
)

func (f flaw) String() string {
	return [...]string{"", "is not UTF-8 text", `has half a \u pair: no character`}[f]
}

// node is a JSON value with its place in the file. It is kept small: long files have many.
type node struct {
	name     string // of a field of an object
	text     string // of text: decoded; of a number: as written
	kids     []node // of a list or an object
	from, to uint32 // bytes of the file
	at       uint32 // where the name stands
	kind     kind
	flaw     flaw
}

// field gives the first field of an object with a name.
func (n node) field(name string) (node, bool) {
	if n.kind != object { // a long list is not gone through
		return node{}, false
	}
	for i := range n.kids {
		if n.kids[i].name == name {
			return n.kids[i], true
		}
	}
	return node{}, false
}

// mostBytes is the size of the longest file that is read.
const mostBytes = 1 << 30

// parseTree reads a whole file as JSON.
func parseTree(data []byte) (node, build.Faults) {
	if len(bytes.TrimSpace(data)) == 0 {
		return node{}, build.Faults{{Path: "file", Text: "is empty, want a build file"}}
	}
	if len(data) > mostBytes {
		return node{}, build.Faults{{Path: "file", Text: "is longer than 1 GiB"}}
	}
	if !json.Valid(data) {
		var whole json.RawMessage
		return node{}, build.Faults{syntaxFault(data, json.Unmarshal(data, &whole))}
	}
	r := reader{data: data}
	return r.value(), nil
}

// syntaxFault says where the JSON of a file breaks.
func syntaxFault(data []byte, err error) build.Fault {
	before := data
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) && !strings.HasPrefix(err.Error(), "unexpected end") {
		before = data[:max(syntax.Offset-1, 0)]
	}
	line := bytes.Count(before, []byte("\n")) + 1
	column := utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:]) + 1
	return build.Fault{
		Path: fmt.Sprintf("line %d, column %d", line, column),
		Text: "no JSON: " + strings.TrimPrefix(err.Error(), "json: "),
	}
}

// reader makes the tree of a file that is known to be JSON.
type reader struct {
	data []byte
	at   int
}

// next skips spaces and gives the byte that comes then.
func (r *reader) next() byte {
	for strings.IndexByte(" \t\r\n", r.data[r.at]) >= 0 {
		r.at++
	}
	return r.data[r.at]
}

// skip skips spaces and one sign, and reports whether it was this one.
func (r *reader) skip(sign byte) bool {
	have := r.next() == sign
	if have {
		r.at++
	}
	return have
}

func (r *reader) value() node {
	n := node{}
	first := r.next()
	n.from = uint32(r.at)
	switch {
	case first == '{':
		n.kind, n.kids = object, r.object()
	case first == '[':
		n.kind, n.kids = list, r.list()
	case first == '"':
		n.kind = text
		n.text, n.flaw = r.text()
	default:
		n.text = r.word()
		n.kind = wordKind(n.text)
	}
	n.to = uint32(r.at)
	return n
}

func (r *reader) object() []node {
	var fields []node
	r.at++
	for !r.skip('}') {
		r.skip(',')
		r.next()
		at := uint32(r.at)
		name, _ := r.text()
		r.skip(':')
		value := r.value()
		value.name, value.at = name, at
		fields = append(fields, value)
	}
	return fields
}

func (r *reader) list() []node {
	var nodes []node
	r.at++
	for !r.skip(']') {
		r.skip(',')
		nodes = append(nodes, r.value())
	}
	return nodes
}

// text reads a string, and says what is wrong with it.
func (r *reader) text() (string, flaw) {
	from := r.at
	for r.at++; r.data[r.at] != '"'; r.at++ {
		if r.data[r.at] == '\\' {
			r.at++
		}
	}
	r.at++
	raw := r.data[from:r.at]
	if !utf8.Valid(raw) {
		return strings.ToValidUTF8(string(raw[1:len(raw)-1]), "\ufffd"), notUTF8
	}
	if bytes.IndexByte(raw, '\\') < 0 {
		return string(raw[1 : len(raw)-1]), sound
	}
	var s string
	if json.Unmarshal(raw, &s) != nil || halfPair(raw) { // it is valid: Unmarshal reads it
		return s, halfOfPair
	}
	return s, sound
}

// halfPair reports whether a JSON string escapes half of a surrogate pair (RFC 8259,
// section 8.2), which stands for no character.
func halfPair(raw []byte) bool {
	var high bool
	for i := 0; i < len(raw); i++ {
		unit := 0
		if raw[i] == '\\' {
			i++
			if raw[i] == 'u' {
				u, _ := strconv.ParseUint(string(raw[i+1:i+5]), 16, 32)
				unit, i = int(u), i+4
			}
		}
		low := unit >= 0xdc00 && unit < 0xe000
		if low != high {
			return true
		}
		high = unit >= 0xd800 && unit < 0xdc00
	}
	return high
}

// word reads a number, true, false or null.
func (r *reader) word() string {
	from := r.at
	for r.at < len(r.data) && strings.IndexByte(" \t\r\n,]}", r.data[r.at]) < 0 {
		r.at++
	}
	return string(r.data[from:r.at])
}

func wordKind(word string) kind {
	switch word {
	case "null":
		return null
	case "true", "false":
		return boolean
	}
	return number
}
