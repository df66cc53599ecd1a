package journal

import (
	"bytes"
	"errors"
	"io/fs"
	"slices"

	"aftbay/geom/disk"
	"aftbay/geom/say"
)

// maxLines is how many lines of text a replay may copy, a few seconds' work: ten
// thousand edits of a layout of ten thousand parts take half of it.
const maxLines = 2_000_000_000

// maxText is the longest text that a replay may come to, in bytes: that of the
// largest layout file.
const maxText = 16 << 20

// Content is a journal as read and replayed.
type Content struct {
	Records []Record // without the base
	History History
	Torn    bool // the end could not be read and is left out

	base Record
	text Text     // after the last record
	sums []string // after the base and after each record
}

// Damaged means that a journal can't be used.
type Damaged struct {
	Name string
	What say.Text
}

// Error returns it on one line.
func (e *Damaged) Error() string { return e.text().String() }

// In returns it on one line in the language of a catalogue.
func (e *Damaged) In(of say.Lookup) string { return e.text().In(of) }

func (e *Damaged) text() say.Text {
	return say.F("%s: %s; it is no journal that can be recovered, set it aside", e.Name, e.What)
}

// Read reads and replays a journal. Without one, or with one that holds no
// whole record, it returns nil.
func Read(d disk.Disk, rel string) (*Content, error) {
	if _, err := d.Lstat(rel); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	data, err := disk.Read(d, rel, MaxBytes)
	if err != nil {
		return nil, err
	}
	c, err := parseAll(rel, data)
	if c == nil || err != nil {
		return nil, err
	}
	return c, c.replay(rel)
}

// parseAll reads the lines up to the first that is torn.
func parseAll(rel string, data []byte) (*Content, error) {
	c := &Content{}
	first := true
	for len(data) > 0 {
		n := bytes.IndexByte(data, '\n') + 1
		if n == 0 {
			n = len(data)
		}
		r, err := parse(data[:n])
		if err != nil {
			c.Torn = true
			break
		}
		data = data[n:]
		if first {
			if r.Kind != Base || r.Format != Format {
				return nil, &Damaged{rel, say.Of("it does not begin with a saved text")}
			}
			if r.Version != Version {
				return nil, &Damaged{rel, say.F("it is of version %d, this program reads %d", r.Version, Version)}
			}
			c.base, first = r, false
			continue
		}
		c.Records = append(c.Records, r)
	}
	if first {
		return nil, nil
	}
	return c, nil
}

// replay walks through the records; one that does not fit ends it.
func (c *Content) replay(rel string) error {
	c.text = Lines([]byte(c.base.Text))
	c.sums = []string{c.base.Sum}
	lines := len(c.text)
	for i := range c.Records {
		r := &c.Records[i]
		to, err := r.Change.Apply(c.text)
		if err != nil || sizeOf(to) > maxText {
			c.Records, c.Torn = c.Records[:i], true
			break
		}
		if lines += len(to); lines > maxLines {
			return &Damaged{rel, say.Of("it is too long to replay")}
		}
		c.History.take(r, c.text, to)
		c.text = to
		c.sums = append(c.sums, r.Sum)
	}
	if Sum(c.text.Bytes()) != c.sums[len(c.sums)-1] {
		return &Damaged{rel, say.Of("its replay gives another text than was written")}
	}
	return nil
}

func sizeOf(t Text) int {
	sum := len(t)
	for _, line := range t {
		sum += len(line)
	}
	return sum
}

// take follows a record. An undo or redo that does not match what is known
// leaves nothing before it to undo: its edit is from before the last save.
func (h *History) take(r *Record, from, to Text) {
	switch r.Kind {
	case More:
		h.Join(r.Name, from, to)
	case Undo:
		if len(h.Past) > 0 {
			if before, _, err := h.Undone(from); err == nil && slices.Equal(before, to) {
				h.TakeBack()
				return
			}
		}
		h.Past, h.Future = nil, append(h.Future, Step{Name: r.Name, Change: r.Change.Back()})
	case Redo:
		if len(h.Future) > 0 {
			if after, _, err := h.Redone(from); err == nil && slices.Equal(after, to) {
				h.DoAgain()
				return
			}
		}
		h.Past, h.Future = append(h.Past, Step{Name: r.Name, Change: r.Change}), nil
	default:
		h.Do(r.Name, from, to)
	}
}

// Text returns the text that the journal leads to.
func (c *Content) Text() []byte { return c.text.Bytes() }

// Saved returns the text that it began with.
func (c *Content) Saved() []byte { return []byte(c.base.Text) }

// Unsaved returns the records that a file with this text does not hold. known
// is false if the journal never was at that text: the file has been changed by
// something else since, and all records are returned.
func (c *Content) Unsaved(file []byte) (records []Record, known bool) {
	sum := Sum(file)
	for i := len(c.sums) - 1; i >= 0; i-- {
		if c.sums[i] == sum {
			return c.Records[i:], true
		}
	}
	return c.Records, false
}
