package disk

import (
	"errors"
	"io/fs"
	"os"
	"path"

	"aftbay/geom/say"
)

// Appender adds records to the end of a file. It is used by one goroutine at a
// time.
type Appender struct {
	rel       string
	f         File
	sizeBytes int64 // of the records that are whole
	broken    error // a torn record could not be cut off
}

// Append opens a file to which records are added, and makes it with the
// permission perm if it isn't there. A link is refused.
func Append(d Disk, rel string, perm fs.FileMode) (*Appender, error) {
	did := say.Of("can't be added to")
	old, err := replaceable(d, rel)
	if err != nil {
		return nil, err
	}
	f, err := d.OpenFile(rel, os.O_WRONLY|os.O_CREATE|os.O_APPEND, perm)
	if err != nil {
		return nil, fault(rel, did, err)
	}
	a := &Appender{rel: rel, f: f}
	if old != nil {
		a.sizeBytes = old.Size()
		return a, nil
	}
	if err := d.SyncDir(path.Dir(rel)); err != nil {
		return nil, fault(rel, did, errors.Join(err, f.Close()))
	}
	return a, nil
}

// Add writes one record and brings it to the disk. When that fails, whatever
// was written of it is cut off again, so that a later record may still be
// added; where even that fails, so does every later call.
func (a *Appender) Add(record []byte) error {
	if a.broken != nil {
		return a.broken
	}
	_, err := whole{a.f}.Write(record)
	if err == nil {
		err = a.f.Sync()
	}
	if err == nil {
		a.sizeBytes += int64(len(record))
		return nil
	}
	err = fault(a.rel, say.Of("the record was not added"), err)
	if cut := a.f.Truncate(a.sizeBytes); cut != nil {
		a.broken = fault(a.rel, say.Of("no more can be added, a record is torn"), cut)
	}
	return err
}

// SizeBytes returns the length of the file up to its last whole record.
func (a *Appender) SizeBytes() int64 { return a.sizeBytes }

// Close lets go of the file.
func (a *Appender) Close() error {
	if err := a.f.Close(); err != nil {
		return fault(a.rel, say.Of("can't be closed"), err)
	}
	return nil
}
