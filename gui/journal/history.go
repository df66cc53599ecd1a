package journal

import "slices"

// Step is one edit that can be undone or done again.
type Step struct {
	Name   string
	Change Change // from before the edit to after it

	heldBytes int // by Change; 0: not counted yet
}

// MostHistoryBytes is how much the steps may hold in memory together: the oldest
// are dropped beyond. Moving a part takes some 200 bytes, so that it is a few
// hundred thousand such edits. Common practice, no source.
const MostHistoryBytes = 64 << 20

// History is what can be undone and redone. It stores what changes, not whole
// texts, so that there is no bound on the number of steps but their memory.
type History struct {
	Past   []Step // the last one is undone first
	Future []Step // the last one is redone first
}

// Do adds an edit; what was undone can't be redone from then on.
func (h *History) Do(name string, from, to Text) {
	h.Past, h.Future = append(h.Past, Step{Name: name, Change: Diff(from, to)}), nil
	h.drop(MostHistoryBytes)
}

// drop drops the oldest steps until the others take no more than a number of
// bytes; the last one always stays.
func (h *History) drop(mostBytes int) {
	sum, first := 0, len(h.Past)
	for first > 0 {
		step := &h.Past[first-1]
		if step.heldBytes == 0 {
			step.heldBytes = step.Change.bytes()
		}
		if sum += step.heldBytes; sum > mostBytes && first < len(h.Past) {
			break
		}
		first--
	}
	if first > 0 {
		h.Past = slices.Clone(h.Past[first:]) // lets the others go
	}
}

// Join makes an edit part of the one before, so that one undo takes back both;
// where both together change nothing, neither is left. Without one before it is
// Do.
func (h *History) Join(name string, from, to Text) {
	n := len(h.Past)
	if n == 0 {
		h.Do(name, from, to)
		return
	}
	first, err := h.Past[n-1].Change.Back().Apply(from)
	if err != nil {
		h.Do(name, from, to)
		return
	}
	h.Past[n-1].Change, h.Past[n-1].heldBytes, h.Future = Diff(first, to), 0, nil
	if len(h.Past[n-1].Change) == 0 {
		h.Past = h.Past[:n-1]
	}
	h.drop(MostHistoryBytes)
}

// Undone returns the text before the last edit and its name; TakeBack makes it
// so. There must be one.
func (h *History) Undone(now Text) (before Text, name string, err error) {
	last := h.Past[len(h.Past)-1]
	before, err = last.Change.Back().Apply(now)
	return before, last.Name, err
}

// TakeBack makes the last edit the next one to redo.
func (h *History) TakeBack() {
	n := len(h.Past) - 1
	h.Past, h.Future = h.Past[:n], append(h.Future, h.Past[n])
}

// Redone returns the text after the next edit and its name; DoAgain makes it
// so. There must be one.
func (h *History) Redone(now Text) (after Text, name string, err error) {
	next := h.Future[len(h.Future)-1]
	after, err = next.Change.Apply(now)
	return after, next.Name, err
}

// DoAgain makes the next edit to redo the last one done.
func (h *History) DoAgain() {
	n := len(h.Future) - 1
	h.Past, h.Future = append(h.Past, h.Future[n]), h.Future[:n]
}
