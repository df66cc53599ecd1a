package layout

import (
	"bytes"
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
)

// mark is a place in a file whose line is looked for, or on the way to one.
type mark struct {
	line int   // counted from 1; 0 while it isn't found
	at   int64 // byte after its first token
	next map[string]*mark
}

// look finds the lines of all these faults in one walk through the file.
func (t *tree) look(list []placed) {
	t.lines = &mark{}
	if t.data == nil {
		return
	}
	for _, p := range list {
		m := t.lines
		for _, step := range steps(p) {
			if m.next == nil {
				m.next = map[string]*mark{}
			}
			if m.next[step] == nil {
				m.next[step] = &mark{}
			}
			m = m.next[step]
		}
	}
	f := lineFinder{data: t.data, dec: json.NewDecoder(bytes.NewReader(t.data)), line: 1}
	f.dec.UseNumber()
	f.value(t.lines)
}

// found returns the line of a fault or of the nearest thing around it, and its
// byte, 0 if unknown.
func (t *tree) found(p placed) (line int, at int64) {
	m := t.lines
	line, at = m.line, m.at
	for _, step := range steps(p) {
		if m = m.next[step]; m == nil {
			break
		}
		if m.line > 0 {
			line, at = m.line, m.at
		}
	}
	return line, at
}

// inOrder sorts faults by their place in the file, those of one place by their
// words, so that the order is always the same.
func (t *tree) inOrder(list []placed) {
	at := make(map[[2]string]int64, len(list))
	for _, p := range list {
		_, at[[2]string{p.path, p.key}] = t.found(p)
	}
	slices.SortFunc(list, func(a, b placed) int {
		x, y := [2]string{a.path, a.key}, [2]string{b.path, b.key}
		if c := cmp.Or(cmp.Compare(at[x], at[y]), slices.Compare(x[:], y[:])); c != 0 {
			return c
		}
		return cmp.Compare(a.what.String(), b.what.String())
	})
}

// steps returns the keys and numbers that lead to what a fault is about.
func steps(p placed) []string {
	path := strings.TrimPrefix(p.path, "/")
	var list []string
	if path != "" {
		list = strings.Split(path, "/")
	}
	if p.key != "" {
		list = append(list, p.key)
	}
	return list
}

// lineFinder walks the tokens of a file that has been read before.
type lineFinder struct {
	data []byte
	dec  *json.Decoder
	line int   // at offset seen
	seen int64 // bytes whose line ends are counted
}

// here returns the line of the token just read.
func (f *lineFinder) here() int {
	at := f.dec.InputOffset()
	f.line += bytes.Count(f.data[f.seen:at], []byte{'\n'})
	f.seen = at
	return f.line
}

// value steps over one value; m, which may be nil, is where it is looked for.
// An error can't happen in what was read before; it would end the walk.
func (f *lineFinder) value(m *mark) {
	token, err := f.dec.Token()
	if err != nil {
		return
	}
	if m != nil && m.line == 0 {
		m.line, m.at = f.here(), f.dec.InputOffset()
	}
	switch token {
	case json.Delim('{'):
		for f.dec.More() {
			key, err := f.dec.Token()
			if err != nil {
				return
			}
			word, _ := key.(string)
			next := m.to(word)
			if next != nil {
				// Of the key; of the last one where it stands twice.
				next.line, next.at = f.here(), f.dec.InputOffset()
			}
			f.value(next)
		}
	case json.Delim('['):
		for i := 0; f.dec.More(); i++ {
			f.value(m.to(strconv.Itoa(i)))
		}
	default:
		return
	}
	_, _ = f.dec.Token() // the closing bracket
}

// to returns the mark one step further, nil if nothing is looked for there.
func (m *mark) to(step string) *mark {
	if m == nil || m.next == nil {
		return nil
	}
	return m.next[step]
}
