package journal

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// changed returns a text with some lines replaced, put in or taken out.
func changed(r *rand.Rand, t Text) Text {
	to := slices.Clone(t)
	for range r.IntN(4) {
		at := r.IntN(len(to) + 1)
		switch line := fmt.Sprintf("line %d", r.IntN(6)); r.IntN(4) {
		case 0:
			to = slices.Insert(to, at, line)
		case 1:
			if at < len(to) && len(to) > 1 {
				to = slices.Delete(to, at, at+1)
			}
		default:
			if at < len(to) {
				to[at] = line
			}
		}
	}
	return to
}

func TestChangesLeadBothWays(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 0))
	text := Lines([]byte("a\nb\n\nc\n"))
	for range 20000 {
		to := changed(r, text)
		c := Diff(text, to)
		there, err := c.Apply(text)
		if err != nil || !slices.Equal(there, to) {
			t.Fatalf("%q to %q by %v: %q, %v", text, to, c, there, err)
		}
		back, err := c.Back().Apply(there)
		if err != nil || !slices.Equal(back, text) {
			t.Fatalf("%q back from %q by %v: %q, %v", text, to, c, back, err)
		}
		text = to
	}
}

func TestAHostileChangeIsRefused(t *testing.T) {
	text := Lines([]byte("a\nb\nc"))
	for _, c := range []Change{
		{{At: -1}},
		{{At: 4}},
		{{At: 2, Old: []string{"c", "d"}}},
		{{At: 1, Old: []string{"x"}}},
		{{At: 2, Old: []string{"c"}}, {At: 1}},
		{{At: 1 << 62, Old: []string{"c"}}},
	} {
		if got, err := c.Apply(text); err == nil {
			t.Errorf("%v gives %q", c, got)
		}
	}
}

// TestTenThousandEdits: done, undone and redone at random, then undone to the
// first byte and redone to the last.
func TestTenThousandEdits(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 0))
	var first Text
	for i := range 200 {
		first = append(first, fmt.Sprintf("line %d", i))
	}
	var h History
	text := first
	states := []Text{first} // by number of steps in the past
	step := func(next Text, err error) {
		if err != nil {
			t.Fatal(err)
		}
		text = next
	}
	for range 10000 {
		switch n := r.IntN(10); {
		case n < 2 && len(h.Past) > 0:
			next, _, err := h.Undone(text)
			step(next, err)
			h.TakeBack()
		case n < 3 && len(h.Future) > 0:
			next, _, err := h.Redone(text)
			step(next, err)
			h.DoAgain()
		default:
			to := changed(r, text)
			if joins := n == 3 && len(h.Past) > 0; joins {
				h.Join("joined", text, to)
			} else {
				h.Do("edit", text, to)
			}
			text = to
			states = append(states[:len(h.Past)], to)
		}
		if !slices.Equal(text, states[len(h.Past)]) {
			t.Fatalf("after %d steps another text than before", len(h.Past))
		}
	}
	for len(h.Future) > 0 {
		next, _, err := h.Redone(text)
		step(next, err)
		h.DoAgain()
	}
	last := text
	for len(h.Past) > 0 {
		next, _, err := h.Undone(text)
		step(next, err)
		h.TakeBack()
	}
	if !bytes.Equal(text.Bytes(), first.Bytes()) {
		t.Error("all undone is not the first text")
	}
	for len(h.Future) > 0 {
		next, _, err := h.Redone(text)
		step(next, err)
		h.DoAgain()
	}
	if !bytes.Equal(text.Bytes(), last.Bytes()) {
		t.Error("all redone is not the last text")
	}
}

// Beyond a number of bytes the oldest steps are dropped; what is left leads back
// as before, and the last one stays however large it is.
func TestHistoryIsBoundedByMemory(t *testing.T) {
	var h History
	text := Text{"0"}
	step := func(to Text) {
		h.Do("edit", text, to)
		text = to
	}
	for i := range 100 {
		step(Text{fmt.Sprint(i + 1), strings.Repeat("x", 1000)})
	}
	each := h.Past[50].Change.bytes()
	if each < 1 || each > 2500 {
		t.Fatalf("a step takes %d bytes", each)
	}
	h.drop(10*each + each/2)
	if len(h.Past) != 10 {
		t.Fatalf("%d steps left, want 10", len(h.Past))
	}
	for len(h.Past) > 0 {
		before, _, err := h.Undone(text)
		if err != nil {
			t.Fatal(err)
		}
		text = before
		h.TakeBack()
	}
	if text[0] != "90" {
		t.Errorf("all undone: %q, want the 90th", text[0])
	}
	large := Text{strings.Repeat("y", MostHistoryBytes/2)}
	for range 3 {
		h.Do("large", text, append(large, "z"))
		h.Do("back", append(large, "z"), text)
	}
	if n := len(h.Past); n < 1 || n > 2 {
		t.Errorf("%d large steps are kept", n)
	}
}
