package faulty

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"sync"
	"syscall"

	"aftbay/geom/disk"
)

// Kind is how an operation fails.
type Kind int

// Ways to fail. In the last two nothing works from there on, as after the end
// of the program; half of a write under way is done.
const (
	Error    Kind = iota // an error of the device; nothing is done
	NoSpace              // the disk is full; half of a write is done
	Short                // a write does half and says no error; else as Error
	Crash                // the program ends
	PowerCut             // the machine ends: what was not synced is lost
)

// Kinds returns every kind.
func Kinds() []Kind { return []Kind{Error, NoSpace, Short, Crash, PowerCut} }

// String returns the kind in words.
func (k Kind) String() string {
	return [...]string{"error", "no space", "short write", "crash", "power cut"}[k]
}

// ErrEnded is the error of every operation after a crash.
var ErrEnded = errors.New("the program has ended")

// Disk is a disk of which one operation fails. It may be used from several
// goroutines.
type Disk struct {
	under disk.Disk
	at    int
	kind  Kind

	mu    sync.Mutex
	log   []string
	ended bool
	dirty map[string]int64 // written since the last sync: its length then
}

// New returns a disk whose operation number at, counted from 1, fails; none
// fails if it is 0. Every call counts, also those that only read.
func New(under disk.Disk, at int, kind Kind) *Disk {
	return &Disk{under: under, at: at, kind: kind, dirty: map[string]int64{}}
}

// Count returns how many operations were asked for.
func (d *Disk) Count() int { return len(d.Log()) }

// Log returns the operations asked for, such as: rename a b.
func (d *Disk) Log() []string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return append([]string(nil), d.log...)
}

// Failed reports whether the operation that fails was reached.
func (d *Disk) Failed() bool { return d.at > 0 && d.Count() >= d.at }

// step counts an operation. halfDone asks that half of it is done although it
// fails; with a nil error it is a short write.
func (d *Disk) step(op, rel string) (err error, halfDone bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.log = append(d.log, op+" "+rel)
	fail := func(err error) error { return &fs.PathError{Op: op, Path: rel, Err: err} }
	switch {
	case d.ended:
		return fail(ErrEnded), false
	case len(d.log) != d.at:
		return nil, false
	}
	write := op == "write"
	switch d.kind {
	case NoSpace:
		return fail(syscall.ENOSPC), write
	case Short:
		if write {
			return nil, true
		}
	case Crash, PowerCut:
		d.ended = true
		if d.kind == PowerCut {
			d.lose()
		}
		return fail(ErrEnded), write && d.kind == Crash
	}
	return fail(syscall.EIO), false
}

// lose cuts off what was written and not synced; the lock is held.
func (d *Disk) lose() {
	for rel, safeBytes := range d.dirty {
		if f, err := d.under.OpenFile(rel, os.O_WRONLY, 0); err == nil {
			_ = f.Truncate(safeBytes)
			_ = f.Close()
		}
	}
}

// OpenFile implements disk.Disk.
func (d *Disk) OpenFile(rel string, flag int, perm fs.FileMode) (disk.File, error) {
	if err, _ := d.step("open", rel); err != nil {
		return nil, err
	}
	f, err := d.under.OpenFile(rel, flag, perm)
	if err != nil {
		return nil, err
	}
	return &file{d: d, rel: rel, under: f, safeBytes: d.sizeBytes(rel)}, nil
}

// Open implements disk.Disk.
func (d *Disk) Open(rel string) (io.ReadCloser, error) {
	if err, _ := d.step("read", rel); err != nil {
		return nil, err
	}
	return d.under.Open(rel)
}

// Stat implements disk.Disk.
func (d *Disk) Stat(rel string) (fs.FileInfo, error) {
	if err, _ := d.step("stat", rel); err != nil {
		return nil, err
	}
	return d.under.Stat(rel)
}

// Lstat implements disk.Disk.
func (d *Disk) Lstat(rel string) (fs.FileInfo, error) {
	if err, _ := d.step("lstat", rel); err != nil {
		return nil, err
	}
	return d.under.Lstat(rel)
}

// ReadDir implements disk.Disk.
func (d *Disk) ReadDir(rel string) ([]fs.DirEntry, error) {
	if err, _ := d.step("list", rel); err != nil {
		return nil, err
	}
	return d.under.ReadDir(rel)
}

// Chmod implements disk.Disk.
func (d *Disk) Chmod(rel string, perm fs.FileMode) error {
	if err, _ := d.step("chmod", rel); err != nil {
		return err
	}
	return d.under.Chmod(rel, perm)
}

// Rename implements disk.Disk.
func (d *Disk) Rename(from, to string) error {
	if err, _ := d.step("rename", from+" "+to); err != nil {
		return err
	}
	if err := d.under.Rename(from, to); err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	delete(d.dirty, to)
	if safeBytes, dirty := d.dirty[from]; dirty {
		d.dirty[to] = safeBytes
		delete(d.dirty, from)
	}
	return nil
}

// Remove implements disk.Disk.
func (d *Disk) Remove(rel string) error {
	if err, _ := d.step("remove", rel); err != nil {
		return err
	}
	d.mu.Lock()
	delete(d.dirty, rel)
	d.mu.Unlock()
	return d.under.Remove(rel)
}

// MkdirAll implements disk.Disk.
func (d *Disk) MkdirAll(rel string, perm fs.FileMode) error {
	if err, _ := d.step("mkdir", rel); err != nil {
		return err
	}
	return d.under.MkdirAll(rel, perm)
}

// SyncDir implements disk.Disk.
func (d *Disk) SyncDir(rel string) error {
	if err, _ := d.step("syncdir", rel); err != nil {
		return err
	}
	return nil // the test's machine doesn't fail: no need to wait for its disk
}

// file is a file of a faulty disk.
type file struct {
	d         *Disk
	rel       string
	under     disk.File
	safeBytes int64 // length at the last sync
}

// sizeBytes returns the length of a file, 0 if there is none.
func (d *Disk) sizeBytes(rel string) int64 {
	info, err := d.under.Stat(rel)
	if err != nil {
		return 0
	}
	return info.Size()
}

func (f *file) Write(data []byte) (int, error) {
	err, half := f.d.step("write", f.rel)
	if err != nil && !half {
		return 0, err
	}
	if half {
		data = data[:len(data)/2]
	}
	f.d.mu.Lock()
	f.d.dirty[f.rel] = f.safeBytes
	f.d.mu.Unlock()
	n, writeErr := f.under.Write(data)
	return n, errors.Join(err, writeErr)
}

func (f *file) Truncate(sizeBytes int64) error {
	if err, _ := f.d.step("truncate", fmt.Sprint(f.rel, " ", sizeBytes)); err != nil {
		return err
	}
	return f.under.Truncate(sizeBytes)
}

func (f *file) Sync() error {
	if err, _ := f.d.step("sync", f.rel); err != nil {
		return err
	}
	f.d.mu.Lock()
	delete(f.d.dirty, f.rel)
	f.d.mu.Unlock()
	f.safeBytes = f.d.sizeBytes(f.rel)
	return nil // as in SyncDir
}

// Close closes the file even when it fails: a test must not leak it.
func (f *file) Close() error {
	err, _ := f.d.step("close", f.rel)
	return errors.Join(err, f.under.Close())
}
