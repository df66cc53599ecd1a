package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"time"

	"aftbay/geom/disk"
)

// MaxBytes is the largest journal that is read; a longer one is never written.
const MaxBytes = 256 << 20

// compactBytes is where a journal begins anew with all its edits as one. The
// text itself comes twice then, and is far smaller.
const compactBytes = MaxBytes / 2

// Journal writes the record of one layout. It is used by one goroutine at a
// time.
type Journal struct {
	d       disk.Disk
	rel     string
	saved   Text
	written Text // after the last record on the disk
	edits   int  // on the disk
	file    *disk.Appender
	failed  bool // the last record could not be added

	mostBytes int64 // where it begins anew
}

// New returns a journal at rel whose layout is saved as text. Nothing is
// written before the first edit.
func New(d disk.Disk, rel string, saved Text) *Journal {
	return &Journal{d: d, rel: rel, saved: saved, written: saved, mostBytes: compactBytes}
}

// Add writes ahead that the text becomes another; it is on the disk when the
// call returns. After an error the next call makes up for what is missing.
func (j *Journal) Add(kind Kind, name string, at time.Time, to Text) error {
	if j.file != nil && j.file.SizeBytes() > j.mostBytes {
		if err := j.closeFile(); err != nil {
			return err
		}
	}
	if j.file == nil {
		if err := j.open(at); err != nil {
			return err
		}
	}
	r := Record{Kind: kind, Name: name, At: at, Change: Diff(j.written, to), Sum: Sum(to.Bytes())}
	line, err := r.line()
	if err != nil {
		return err
	}
	if err := j.file.Add(line); err != nil {
		if j.failed { // again: the next call writes the whole journal anew
			err = errors.Join(err, j.closeFile())
		}
		j.failed = true
		return err
	}
	j.written, j.failed = to, false
	j.edits++
	return nil
}

// open makes sure that a journal stands on the disk that leads to what was
// written last, and opens it for adding.
func (j *Journal) open(at time.Time) error {
	if err := j.begin(fmt.Sprintf("%d edits", j.edits), at, j.written); err != nil {
		return err
	}
	file, err := disk.Append(j.d, j.rel, perm)
	if err != nil {
		return err
	}
	j.file, j.failed = file, false
	return nil
}

// perm of a journal: as of the layout file beside it.
const perm fs.FileMode = 0o644

// begin puts a new journal in the place of the old one: the saved text and,
// if the text written last is another, one edit that leads to it.
func (j *Journal) begin(name string, at time.Time, written Text) error {
	text := j.saved.Bytes()
	records := []Record{{Kind: Base, Format: Format, Version: Version, At: at, Text: string(text), Sum: Sum(text)}}
	if c := Diff(j.saved, written); len(c) > 0 {
		records = append(records, Record{Kind: Edit, Name: name, At: at, Change: c, Sum: Sum(written.Bytes())})
	}
	return j.write(records)
}

func (j *Journal) write(records []Record) error {
	var data []byte
	for i := range records {
		line, err := records[i].line()
		if err != nil {
			return err
		}
		data = append(data, line...)
	}
	return disk.Replace(j.d, j.rel, data, disk.Options{Perm: perm})
}

// Resume puts what was read of an earlier journal in the place of this one and
// goes on after it.
func (j *Journal) Resume(c *Content) error {
	if err := j.closeFile(); err != nil {
		return err
	}
	records := append([]Record{c.base}, c.Records...)
	if err := j.write(records); err != nil {
		return err
	}
	file, err := disk.Append(j.d, j.rel, perm)
	if err != nil {
		return err
	}
	j.file, j.saved, j.written, j.edits = file, Lines([]byte(c.base.Text)), c.text, len(c.Records)
	return nil
}

// Restart says that the layout is saved as text: the journal goes from the
// disk. now, which may be another text by then, is written into a new one.
func (j *Journal) Restart(saved, now Text, at time.Time) error {
	err := errors.Join(j.closeFile(), Remove(j.d, j.rel))
	j.saved, j.written, j.edits = saved, saved, 0
	if err == nil && len(Diff(saved, now)) > 0 {
		err = j.Add(Edit, "edits made while saving", at, now)
	}
	return err
}

// Close lets go of the file and leaves it where it is.
func (j *Journal) Close() error { return j.closeFile() }

// SetAside keeps the file under another name, in the place of one kept before,
// and ends the journal. Without a file it does nothing.
func (j *Journal) SetAside() error {
	err := j.closeFile()
	j.written, j.edits = j.saved, 0
	return errors.Join(err, SetAside(j.d, j.rel))
}

func (j *Journal) closeFile() error {
	if j.file == nil {
		return nil
	}
	err := j.file.Close()
	j.file = nil
	return err
}

// AsideName is where a journal is kept that was set aside.
func AsideName(rel string) string { return rel + "-aside" }

// SetAside keeps a journal under another name, in the place of one kept before.
func SetAside(d disk.Disk, rel string) error {
	err := d.Rename(rel, AsideName(rel))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// Remove removes a journal that is of no use any more.
func Remove(d disk.Disk, rel string) error {
	if err := d.Remove(rel); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
