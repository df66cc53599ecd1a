package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"aftbay/geom/disk"
	"aftbay/geom/disk/faulty"
)

var at = time.Date(2027, 1, 31, 9, 30, 0, 0, time.UTC) // Read-only.

const rel = ".journal"

func folder(t *testing.T) (string, disk.Disk) {
	t.Helper()
	dir := t.TempDir()
	root, err := disk.At(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { root.Close() })
	return dir, root
}

// story writes edits, undos and redos and returns the texts after each.
func story(t *testing.T, j *Journal, h *History, text Text, steps int) []Text {
	t.Helper()
	r := rand.New(rand.NewPCG(3, 0))
	var out []Text
	for i := range steps {
		kind, to := Edit, changed(r, text)
		var err error
		switch n := r.IntN(5); {
		case n == 0 && len(h.Past) > 0:
			kind = Undo
			if to, _, err = h.Undone(text); err == nil {
				h.TakeBack()
			}
		case n == 1 && len(h.Future) > 0:
			kind = Redo
			if to, _, err = h.Redone(text); err == nil {
				h.DoAgain()
			}
		case n == 2:
			kind = More
			h.Join("edit", text, to)
		default:
			h.Do("edit", text, to)
		}
		if err := errors.Join(err, j.Add(kind, fmt.Sprintf("step %d", i), at, to)); err != nil {
			t.Fatal(err)
		}
		text = to
		out = append(out, to)
	}
	return out
}

func TestReplayGivesTheSameBytesAndSteps(t *testing.T) {
	_, d := folder(t)
	first := Lines([]byte("{\n  \"title\": \"ü €\"\n}\n"))
	var h History
	j := New(d, rel, first)
	texts := story(t, j, &h, first, 300)
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	c, err := Read(d, rel)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(c.Text(), texts[299].Bytes()) || !bytes.Equal(c.Saved(), first.Bytes()) || c.Torn {
		t.Errorf("replayed %q, torn %v", c.Text(), c.Torn)
	}
	if len(c.History.Past) != len(h.Past) || len(c.History.Future) != len(h.Future) {
		t.Errorf("%d and %d steps, want %d and %d", len(c.History.Past), len(c.History.Future), len(h.Past), len(h.Future))
	}
	text := Lines(c.Text())
	for len(c.History.Past) > 0 {
		if text, _, err = c.History.Undone(text); err != nil {
			t.Fatal(err)
		}
		c.History.TakeBack()
	}
	if !slices.Equal(text, first) {
		t.Errorf("all undone: %q", text)
	}
	if left, known := c.Unsaved(texts[290].Bytes()); !known || len(left) > 9 {
		t.Errorf("after the file was saved at 291: %d left, known %v", len(left), known)
	}
	if left, known := c.Unsaved([]byte("something else")); known || len(left) != 300 {
		t.Errorf("a file changed by others: %d left, known %v", len(left), known)
	}
}

// TestATornEndIsLeftOut cuts the journal at every byte.
func TestATornEndIsLeftOut(t *testing.T) {
	dir, d := folder(t)
	first := Lines([]byte("a\nb\nc\n"))
	j := New(d, rel, first)
	texts := story(t, j, &History{}, first, 6)
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, rel)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	ends := []string{"", "\x00\x00\x00", "rubbish\n"}
	for n := range whole {
		if err := os.WriteFile(path, append(whole[:n:n], ends[n%len(ends)]...), 0o644); err != nil {
			t.Fatal(err)
		}
		c, err := Read(d, rel)
		lines := bytes.Count(whole[:n], []byte("\n"))
		switch {
		case err != nil:
			t.Fatalf("cut at %d: %v", n, err)
		case lines == 0:
			if c != nil {
				t.Fatalf("cut at %d: %d records without a base", n, len(c.Records))
			}
		case len(c.Records) != lines-1 || lines > 1 && !bytes.Equal(c.Text(), texts[lines-2].Bytes()):
			t.Fatalf("cut at %d: %d records of %d", n, len(c.Records), lines-1)
		}
	}
}

// TestEveryFailureIsMadeUpFor fails every disk operation in turn: no record that
// was confirmed is lost, and the next one brings what is missing.
func TestEveryFailureIsMadeUpFor(t *testing.T) {
	for _, kind := range faulty.Kinds() {
		reached, ends := true, kind == faulty.Crash || kind == faulty.PowerCut
		for n := 1; reached; n++ {
			_, under := folder(t)
			d := faulty.New(under, n, kind)
			first := Lines([]byte("saved"))
			j := New(d, rel, first)
			text, confirmed := first, first
			failures := 0
			for i := range 6 {
				text = Lines([]byte(fmt.Sprintf("saved\nedit %d", i)))
				if err := j.Add(Edit, fmt.Sprint("edit ", i), at, text); err != nil {
					failures++
				} else {
					confirmed = text
				}
				if ended := ends && d.Failed(); i == 2 && !ended {
					confirmed = text // it is in the saved file by now
					if err := j.Restart(text, text, at); err != nil {
						failures++
					}
				}
			}
			if !ends && !slices.Equal(confirmed, text) { // the failure hit the last edit
				text = Lines([]byte("saved\nedit 6"))
				if err := j.Add(Edit, "edit 6", at, text); err != nil {
					t.Errorf("%v at %d: the edit after the failure: %v", kind, n, err)
				}
			}
			reached = d.Failed()
			c, err := Read(under, rel)
			if err != nil {
				t.Fatalf("%v at %d: %v", kind, n, err)
			}
			switch {
			case c == nil && !slices.Equal(confirmed, Lines([]byte("saved"))) && !slices.Equal(confirmed, Lines([]byte("saved\nedit 2"))):
				t.Errorf("%v at %d: confirmed %q, no journal", kind, n, confirmed)
			case c != nil && ends && !reachedBy(c, confirmed):
				t.Errorf("%v at %d: confirmed %q, the journal leads to %q", kind, n, confirmed, c.Text())
			case !ends && (c == nil || !slices.Equal(Lines(c.Text()), text)):
				t.Errorf("%v at %d: the edits after it are lost", kind, n)
			case !ends && failures > 2:
				t.Errorf("%v at %d: one failure of the disk fails %d edits", kind, n, failures)
			}
			_ = j.Close() // after a crash nothing works
		}
	}
}

// reachedBy reports whether a text is on the journal's way.
func reachedBy(c *Content, text Text) bool {
	_, known := c.Unsaved(text.Bytes())
	return known
}

func TestALongJournalBeginsAnew(t *testing.T) {
	dir, d := folder(t)
	first := Lines([]byte("a\nb\nc\n"))
	j := New(d, rel, first)
	j.mostBytes = 3000
	texts := story(t, j, &History{}, first, 400)
	info, err := os.Stat(filepath.Join(dir, rel))
	if err != nil || info.Size() > 4*3000 {
		t.Errorf("%d bytes, %v", info.Size(), err)
	}
	c, err := Read(d, rel)
	if err != nil || !bytes.Equal(c.Text(), texts[399].Bytes()) || !bytes.Equal(c.Saved(), first.Bytes()) {
		t.Errorf("%v", err)
	}
	if !strings.HasSuffix(c.Records[0].Name, " edits") {
		t.Errorf("first record %q", c.Records[0].Name)
	}
	if err := j.Close(); err != nil {
		t.Error(err)
	}
}

func TestRestartSetAsideResume(t *testing.T) {
	dir, d := folder(t)
	one, two, three := Lines([]byte("one")), Lines([]byte("two")), Lines([]byte("three"))
	there := func(name string) bool { _, err := os.Stat(filepath.Join(dir, name)); return err == nil }
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	j := New(d, rel, one)
	if there(rel) {
		t.Error("a journal before the first edit")
	}
	must(j.Add(Edit, "to two", at, two))
	must(j.Restart(two, two, at))
	if there(rel) {
		t.Error("a journal although all is saved")
	}
	must(j.Add(Edit, "to three", at, three))
	c, err := Read(d, rel)
	must(err)
	if string(c.Saved()) != "two" || string(c.Text()) != "three" {
		t.Errorf("from %q to %q", c.Saved(), c.Text())
	}
	must(j.SetAside())
	if there(rel) || !there(AsideName(rel)) {
		t.Error("not set aside")
	}
	must(j.Add(Edit, "to one", at, one))
	again := New(d, rel, two)
	must(j.Close())
	must(again.Resume(c))
	must(again.Add(Edit, "to one again", at, one))
	c, err = Read(d, rel)
	must(err)
	if len(c.Records) != 2 || c.Records[0].Name != "to three" || string(c.Text()) != "one" {
		t.Errorf("resumed %+v", c.Records)
	}
	must(again.Close())
}

// TestAForeignFileIsNoJournal: what a stranger may have put there.
func TestAForeignFileIsNoJournal(t *testing.T) {
	dir, d := folder(t)
	lineOf := func(r Record) string {
		data, err := r.line()
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	base := lineOf(Record{Kind: Base, Format: Format, Version: Version, Text: "a", Sum: Sum([]byte("a"))})
	for name, text := range map[string]string{
		"begins with an edit": lineOf(Record{Kind: Edit, Sum: Sum([]byte("a"))}),
		"another format":      lineOf(Record{Kind: Base, Format: "x", Version: 1}),
		"a later version":     lineOf(Record{Kind: Base, Format: Format, Version: 2}),
		"a wrong sum":         base + lineOf(Record{Kind: Edit, Change: Change{{At: 0, Old: []string{"a"}, New: []string{"b"}}}, Sum: "00"}),
	} {
		if err := os.WriteFile(filepath.Join(dir, rel), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		var damaged *Damaged
		if c, err := Read(d, rel); !errors.As(err, &damaged) {
			t.Errorf("%s: %+v, %v", name, c, err)
		}
	}
	for name, text := range map[string]string{
		"a change of another text": base + lineOf(Record{Kind: Edit, Change: Change{{At: 7, New: []string{"b"}}}}),
		"a text without end":       base + lineOf(Record{Kind: Edit, Change: Change{{At: 1, New: []string{strings.Repeat("b", maxText)}}}}),
	} {
		if err := os.WriteFile(filepath.Join(dir, rel), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if c, err := Read(d, rel); err != nil || len(c.Records) != 0 || !c.Torn {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := errors.Join(os.Remove(filepath.Join(dir, rel)), os.Mkdir(filepath.Join(dir, rel), 0o755)); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(d, rel); err == nil {
		t.Error("a folder was read")
	}
	if err := New(d, rel, Text{"a"}).Add(Edit, "x", at, Text{"b"}); err == nil || errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a folder in the journal's place: %v", err)
	}
}

func FuzzRead(f *testing.F) {
	r := Record{Kind: Base, Format: Format, Version: Version, Text: "a\nb", Sum: Sum([]byte("a\nb"))}
	line, err := r.line()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(line)
	f.Add([]byte("00000000 {}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := parseAll("fuzz", data)
		if err != nil || c == nil || c.replay("fuzz") != nil {
			return
		}
		_, d := folder(t)
		j := New(d, rel, Text{"x"})
		if err := j.Resume(c); err != nil {
			t.Fatal(err)
		}
		again, err := Read(d, rel)
		if err != nil || !bytes.Equal(again.Text(), c.Text()) {
			t.Fatalf("read again: %v", err)
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
	})
}
