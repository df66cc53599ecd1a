package journal

import (
	"slices"
	"strings"

	"aftbay/geom/say"
)

// Change is the difference between two texts, by lines. It leads both ways.
type Change []Hunk

// Hunk is one run of lines that differs: Old stands at line At of the text
// before, counted from 0, and New in its place in the text after.
type Hunk struct {
	At  int      `json:"at"`
	Old []string `json:"old,omitempty"`
	New []string `json:"new,omitempty"`
}

// ErrNotFitting means that a change was made from another text.
var ErrNotFitting = say.New("the change belongs to another text")

// Text is a text by lines, which joined with line ends give it back exactly.
type Text []string

// Lines splits a text.
func Lines(text []byte) Text { return strings.Split(string(text), "\n") }

// Bytes joins it again.
func (t Text) Bytes() []byte { return []byte(strings.Join(t, "\n")) }

// Diff returns the change from one text to another. Where the same number of
// lines stands between what is common at both ends, each run of lines that
// differs is a hunk of its own; else all between is one hunk.
func Diff(from, to Text) Change {
	start := 0
	for start < len(from) && start < len(to) && from[start] == to[start] {
		start++
	}
	fromEnd, toEnd := len(from), len(to)
	for fromEnd > start && toEnd > start && from[fromEnd-1] == to[toEnd-1] {
		fromEnd--
		toEnd--
	}
	if fromEnd == start && toEnd == start {
		return nil
	}
	if fromEnd != toEnd {
		return Change{{At: start, Old: slices.Clone(from[start:fromEnd]), New: slices.Clone(to[start:toEnd])}}
	}
	var c Change
	for i := start; i < fromEnd; i++ {
		if from[i] == to[i] {
			continue
		}
		k := i
		for i < fromEnd && from[i] != to[i] {
			i++
		}
		c = append(c, Hunk{At: k, Old: slices.Clone(from[k:i]), New: slices.Clone(to[k:i])})
	}
	return c
}

// Back returns the change that leads the other way.
func (c Change) Back() Change {
	back := make(Change, len(c))
	grown := 0
	for i, h := range c {
		back[i] = Hunk{At: h.At + grown, Old: h.New, New: h.Old}
		grown += len(h.New) - len(h.Old)
	}
	return back
}

// Apply returns the text after the change. The text given is left as it is. A
// change that was made from another text is refused.
func (c Change) Apply(t Text) (Text, error) {
	out := make(Text, 0, len(t)+c.growth())
	at := 0
	for _, h := range c {
		if h.At < at || h.At > len(t) || len(h.Old) > len(t)-h.At || !slices.Equal(h.Old, t[h.At:h.At+len(h.Old)]) {
			return nil, ErrNotFitting
		}
		out = append(append(out, t[at:h.At]...), h.New...)
		at = h.At + len(h.Old)
	}
	return append(out, t[at:]...), nil
}

// bytes returns about how much memory the change takes: that of its texts and of
// what points to them.
func (c Change) bytes() int {
	const hunk, line = 56, 16
	sum := 0
	for _, h := range c {
		sum += hunk
		for _, t := range h.Old {
			sum += line + len(t)
		}
		for _, t := range h.New {
			sum += line + len(t)
		}
	}
	return sum
}

// growth returns by how many lines the text gets longer, 0 if shorter.
func (c Change) growth() int {
	sum := 0
	for _, h := range c {
		sum += len(h.New) - len(h.Old)
	}
	return max(sum, 0)
}
