package layout

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"unicode/utf8"
)

// maxDepth is how deep a file may nest; the deepest key of the format sits at 6.
const maxDepth = 32

// tree is a layout file as plain values (map[string]any, []any, float64,
// uint64 from 2^53 up, string, bool, nil), with the line of every value.
type tree struct {
	root   any
	lines  map[string]int // place, as in fault paths -> line, counted from 1
	faults []placed       // repeated keys and unusable numbers
}

// placed is a fault before its place is put in words.
type placed struct {
	path string // such as /parts/3/mesh; "" is the whole file
	what string
	mend string
	key  string // when not "": the fault is about this key of the object at path
}

// readTree reads JSON. The error is a fault that stops the reading.
func readTree(data []byte) (*tree, *placed) {
	if !utf8.Valid(data) {
		return nil, &placed{what: "the file is not UTF-8 text", mend: "save it as UTF-8"}
	}
	r := treeReader{data: data, dec: json.NewDecoder(bytes.NewReader(data)), line: 1}
	r.dec.UseNumber()
	r.tree.lines = map[string]int{}
	root, err := r.value("", 0)
	if err == nil {
		r.tree.root = root
		if _, err = r.dec.Token(); errors.Is(err, io.EOF) {
			return &r.tree, nil
		}
		if err == nil {
			err = errors.New("something follows the closing brace")
		}
	}
	return nil, r.syntax(err)
}

// treeReader walks the tokens of one file.
type treeReader struct {
	data []byte
	dec  *json.Decoder
	tree tree
	line int   // line at offset seen
	seen int64 // bytes whose line ends are counted
}

// here returns the line of the token just read.
func (r *treeReader) here() int {
	at := r.dec.InputOffset()
	r.line += bytes.Count(r.data[r.seen:at], []byte{'\n'})
	r.seen = at
	return r.line
}

// syntax puts a decoder's error in a fault with its line.
func (r *treeReader) syntax(err error) *placed {
	line := r.here()
	var se *json.SyntaxError
	if errors.As(err, &se) {
		at := min(max(se.Offset, 0), int64(len(r.data)))
		line = 1 + bytes.Count(r.data[:at], []byte{'\n'})
	}
	what := err.Error()
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		what = "the file ends too early"
	}
	return &placed{
		what: fmt.Sprintf("line %d: not readable as JSON: %s", line, what),
		mend: "check the commas, quotes and brackets there",
	}
}

func (r *treeReader) value(path string, depth int) (any, error) {
	token, err := r.dec.Token()
	if err != nil {
		return nil, err
	}
	if _, ok := r.tree.lines[path]; !ok {
		r.tree.lines[path] = r.here()
	}
	if depth > maxDepth {
		return nil, fmt.Errorf("nested more than %d deep", maxDepth)
	}
	switch v := token.(type) {
	case json.Delim:
		if v == '{' {
			return r.object(path, depth)
		}
		return r.array(path, depth)
	case json.Number:
		if n, err := strconv.ParseUint(v.String(), 10, 64); err == nil && n >= 1<<53 {
			return n, nil // a float64 would round it
		}
		f, err := strconv.ParseFloat(v.String(), 64)
		if err != nil {
			r.fault(path, "the number "+clip(v.String())+" is out of range", "write a finite number")
			return 0.0, nil
		}
		return f, nil
	default:
		return v, nil
	}
}

func (r *treeReader) object(path string, depth int) (any, error) {
	object := map[string]any{}
	for r.dec.More() {
		token, err := r.dec.Token()
		if err != nil {
			return nil, err
		}
		key, ok := token.(string)
		if !ok {
			return nil, errors.New("a key must be text in quotes")
		}
		at := path + "/" + key
		if _, twice := object[key]; twice {
			r.fault(at, "the key stands twice in one object", "keep one of them")
		}
		r.tree.lines[at] = r.here()
		if object[key], err = r.value(at, depth+1); err != nil {
			return nil, err
		}
	}
	_, err := r.dec.Token() // the closing brace
	return object, err
}

func (r *treeReader) array(path string, depth int) (any, error) {
	array := []any{}
	for r.dec.More() {
		v, err := r.value(path+"/"+strconv.Itoa(len(array)), depth+1)
		if err != nil {
			return nil, err
		}
		array = append(array, v)
	}
	_, err := r.dec.Token() // the closing bracket
	return array, err
}

func (r *treeReader) fault(path, what, mend string) {
	r.tree.faults = append(r.tree.faults, placed{path: path, what: what, mend: mend})
}

// clip shortens a text from a file so that a fault stays on one line.
func clip(s string) string {
	const most = 60
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}
