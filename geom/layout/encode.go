package layout

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"

	"aftbay/geom/say"
)

// Encode returns the document as a layout file: keys in one fixed order, two
// spaces of indent, lists of plain values on one line. What it returns reads
// back as the same document, and encoding that gives the same bytes. Names and
// references are not checked (see Check); a number that isn't finite is a
// fault. An empty format and version are filled in.
func Encode(doc *Document) ([]byte, error) {
	d := *doc
	if d.Format == "" {
		d.Format = Format
	}
	if d.Version == 0 {
		d.Version = Version
	}
	if d.Parts == nil {
		d.Parts = []Part{}
	}
	if faults := notFinite(reflect.ValueOf(d), "", nil); len(faults) > 0 {
		t := &tree{}
		return nil, t.resolve("", faults)
	}
	var flat bytes.Buffer
	e := json.NewEncoder(&flat)
	e.SetEscapeHTML(false)
	if err := e.Encode(d); err != nil {
		return nil, say.Errorf("layout: %w", err)
	}
	var out bytes.Buffer
	p := printer{in: bytes.TrimSpace(flat.Bytes()), out: &out}
	p.value(0)
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// notFinite appends a fault for every NaN or infinity in v.
func notFinite(v reflect.Value, path string, list []placed) []placed {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			list = append(list, placed{path: path, what: say.F("the number is %v", f), mend: say.Of("give a finite number")})
		}
	case reflect.Pointer:
		if !v.IsNil() {
			list = notFinite(v.Elem(), path, list)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			list = notFinite(v.Index(i), fmt.Sprintf("%s/%d", path, i), list)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			list = notFinite(v.Field(i), path+"/"+keyOf(v.Type().Field(i)), list)
		}
	}
	return list
}

// maxLine is how long a list of plain values on one line may get, in bytes.
const maxLine = 120

// printer lays out compact JSON, which it trusts to be well formed.
type printer struct {
	in  []byte
	at  int
	out *bytes.Buffer
}

func (p *printer) value(indent int) {
	switch p.in[p.at] {
	case '{':
		p.block('}', indent, false)
	case '[':
		p.block(']', indent, p.plainList())
	default:
		p.out.Write(p.scalar())
	}
}

// block prints an object or a list, all of it on one line when flat.
func (p *printer) block(end byte, indent int, flat bool) {
	p.out.WriteByte(p.in[p.at])
	p.at++
	for first := true; p.in[p.at] != end; first = false {
		if !first {
			p.out.WriteByte(',')
			p.at++ // the comma
		}
		if flat && !first {
			p.out.WriteByte(' ')
		} else if !flat {
			p.newLine(indent + 1)
		}
		if end == '}' {
			p.out.Write(p.scalar())
			p.out.WriteString(": ")
			p.at++ // the colon
		}
		p.value(indent + 1)
		if p.in[p.at] == end && !flat {
			p.newLine(indent)
		}
	}
	p.out.WriteByte(end)
	p.at++
}

func (p *printer) newLine(indent int) {
	p.out.WriteByte('\n')
	for range indent {
		p.out.WriteString("  ")
	}
}

// plainList reports whether the list at hand is short and holds plain values.
func (p *printer) plainList() bool {
	q := printer{in: p.in, at: p.at + 1}
	for q.in[q.at] != ']' {
		switch q.in[q.at] {
		case '{', '[':
			return false
		case ',':
			q.at++
		default:
			q.scalar()
		}
	}
	return q.at-p.at <= maxLine
}

// scalar returns the text, number or word at hand and steps over it.
func (p *printer) scalar() []byte {
	start := p.at
	if p.in[p.at] == '"' {
		for p.at++; p.in[p.at] != '"'; p.at++ {
			if p.in[p.at] == '\\' {
				p.at++
			}
		}
		p.at++
		return p.in[start:p.at]
	}
	for p.at < len(p.in) && !bytes.ContainsRune([]byte(",]}"), rune(p.in[p.at])) {
		p.at++
	}
	return p.in[start:p.at]
}
