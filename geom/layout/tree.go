package layout

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"aftbay/geom/say"
)

// What a file may hold at most, so that a hostile one can't take more memory
// or time than its size is worth. A layout of ten thousand parts with every key
// stays below all of it.
const (
	maxDepth  = 32        // levels; the deepest key of the format sits at 8
	maxValues = 1_000_000 // in the whole file
	maxItems  = 50_000    // in one list
	maxEntry  = 20_000    // values in one part, rule, route ... or single object
	maxKeys   = 1000      // in one object; the largest of the format has some 25
	maxKey    = 200       // letters of a key
	maxFaults = 1000      // that are gathered; the rest would help nobody
)

// tree is a layout file as plain values (map[string]any, []any, float64,
// uint64 from 2^53 up, string, bool, nil).
type tree struct {
	root   any
	values int      // how many there are
	faults []placed // repeated keys and unusable numbers
	data   []byte   // the file, for the lines of faults; nil in memory
	lines  *mark    // places of faults, once they are looked for
}

// placed is a fault before its place is put in words.
type placed struct {
	path  string // such as /parts/3/mesh; "" is the whole file
	what  say.Text
	mend  say.Text
	lacks string // when not "": the required key that isn't there
	key   string // when not "": the fault is about this key of the object at path
}

// same reports whether two faults say the same of the same place.
func (p placed) same(q placed) bool {
	return p.path == q.path && p.key == q.key && p.what.String() == q.what.String() && p.mend.String() == q.mend.String()
}

// limitError is a limit that a file breaks.
type limitError struct{ what, mend say.Text }

func (e *limitError) Error() string { return e.what.String() }

// readTree reads JSON. The error is a fault that stops the reading.
func readTree(data []byte) (*tree, *placed) {
	if !utf8.Valid(data) {
		return nil, &placed{what: say.Of("the file is not UTF-8 text"), mend: say.Of("save it as UTF-8")}
	}
	r := treeReader{data: data, dec: json.NewDecoder(bytes.NewReader(data))}
	r.tree.data = data
	r.dec.UseNumber()
	root, err := r.value()
	if err == nil {
		r.tree.root = root
		if _, err = r.dec.Token(); errors.Is(err, io.EOF) {
			return &r.tree, nil
		}
		if err == nil {
			err = say.New("something follows the closing brace")
		}
	}
	return nil, r.syntax(err)
}

// treeReader walks the tokens of one file.
type treeReader struct {
	data  []byte
	dec   *json.Decoder
	tree  tree
	steps []string // keys and numbers that lead to the value at hand
}

// syntax puts what stopped the reading in a fault with its line.
func (r *treeReader) syntax(err error) *placed {
	at := r.dec.InputOffset()
	var se *json.SyntaxError
	if errors.As(err, &se) {
		at = se.Offset
	}
	line := 1 + bytes.Count(r.data[:min(max(at, 0), int64(len(r.data)))], []byte{'\n'})
	var limit *limitError
	if errors.As(err, &limit) {
		return &placed{what: say.F("line %d: %s", line, limit.what), mend: limit.mend}
	}
	what := say.Words(err)
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		what = say.Of("the file ends too early")
	}
	return &placed{
		what: say.F("line %d: not readable as JSON: %s", line, what),
		mend: say.Of("check the commas, quotes and brackets there"),
	}
}

func (r *treeReader) value() (any, error) {
	token, err := r.dec.Token()
	if err != nil {
		return nil, err
	}
	if len(r.steps) > maxDepth {
		return nil, say.Errorf("nested more than %d deep", maxDepth)
	}
	if r.tree.values++; r.tree.values > maxValues {
		return nil, &limitError{say.F("more than %d values in the file", maxValues), say.Of("a layout holds parts and rules; meshes belong in files of their own")}
	}
	switch v := token.(type) {
	case json.Delim:
		if v == '{' {
			return r.object()
		}
		return r.array()
	case json.Number:
		return r.number(v), nil
	default:
		return v, nil
	}
}

func (r *treeReader) number(v json.Number) any {
	if n, err := strconv.ParseUint(v.String(), 10, 64); err == nil && n >= 1<<53 {
		return n // a float64 would round it
	}
	f, err := strconv.ParseFloat(v.String(), 64)
	if err != nil {
		r.fault(say.F("the number %s is out of range", clip(v.String())), say.Of("write a finite number"))
		return 0.0
	}
	return f
}

// below reads the value that a key or number leads to.
func (r *treeReader) below(step string, list bool) (any, error) {
	r.steps = append(r.steps, step)
	before := r.tree.values
	v, err := r.value()
	if _, isList := v.([]any); len(r.steps) == 2 && list || len(r.steps) == 1 && !isList {
		if n := r.tree.values - before; n > maxEntry && err == nil {
			err = &limitError{say.F("%d values in %s, more than %d", n, strings.Join(r.steps, " "), maxEntry), say.Of("divide it, or leave out what it doesn't need")}
		}
	}
	r.steps = r.steps[:len(r.steps)-1]
	return v, err
}

func (r *treeReader) object() (any, error) {
	object := map[string]any{}
	for r.dec.More() {
		token, err := r.dec.Token()
		if err != nil {
			return nil, err
		}
		key, ok := token.(string)
		if !ok {
			return nil, say.New("a key must be text in quotes")
		}
		if len(key) > maxKey {
			return nil, &limitError{say.F("a key of %d letters", len(key)), say.Of("keys are short words: see the layout's description")}
		}
		if len(object) == maxKeys {
			return nil, &limitError{say.F("more than %d keys in one object", maxKeys), say.Of("check that this is a layout")}
		}
		_, twice := object[key]
		if object[key], err = r.below(key, false); err != nil {
			return nil, err
		}
		if twice {
			r.steps = append(r.steps, key)
			r.fault(say.Of("the key stands twice in one object"), say.Of("keep one of them"))
			r.steps = r.steps[:len(r.steps)-1]
		}
	}
	_, err := r.dec.Token() // the closing brace
	return object, err
}

func (r *treeReader) array() (any, error) {
	array := []any{}
	for r.dec.More() {
		if len(array) == maxItems {
			return nil, &limitError{say.F("more than %d values in one list", maxItems), say.Of("divide the layout, or leave out what it doesn't need")}
		}
		v, err := r.below(strconv.Itoa(len(array)), true)
		if err != nil {
			return nil, err
		}
		array = append(array, v)
	}
	_, err := r.dec.Token() // the closing bracket
	return array, err
}

// fault notes one at the value at hand.
func (r *treeReader) fault(what, mend say.Text) {
	if len(r.tree.faults) >= maxFaults {
		return
	}
	path := ""
	for _, step := range r.steps {
		path += "/" + step
	}
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
