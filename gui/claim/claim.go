package claim

import (
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"aftbay/geom/say"
)

// Owner is who holds a claim.
type Owner struct {
	Host  string    `json:"host"`
	Pid   int       `json:"pid"`
	Since time.Time `json:"since"`
}

// String names the owner for a reader.
func (o Owner) String() string { return o.text().String() }

func (o Owner) text() say.Text {
	if o.Pid == 0 {
		return say.Of("another program")
	}
	since := o.Since.Local().Format("2006-01-02 15:04")
	if host, err := os.Hostname(); err != nil || host != o.Host {
		return say.F("process %d on %s, since %s", o.Pid, o.Host, since)
	}
	return say.F("process %d, since %s", o.Pid, since)
}

// Held means that another program, or another window, holds the claim.
type Held struct {
	Path  string // of the lock's file
	Owner Owner
	Bare  bool // the system could not lock: the file alone says so
}

// Error returns it on one line.
func (h *Held) Error() string { return h.text().String() }

// In returns it on one line in the language of a catalogue.
func (h *Held) In(of say.Lookup) string { return h.text().In(of) }

func (h *Held) text() say.Text {
	text := say.F("open in another window (%s)", h.Owner.text())
	if h.Bare {
		text = say.F("%s; if that window is gone, remove %s", text, h.Path)
	}
	return text
}

// errForeign means that a file of the lock's name is something else.
var errForeign = say.New("a file of this name is there that is no lock; move it away")

// maxBytes is the largest lock's file that is read.
const maxBytes = 4096

// Claim is a lock that is held.
type Claim struct {
	root *os.Root
	rel  string
	file *os.File
}

// tries is how often a lock's file that vanishes under the hand is made anew.
const tries = 10

// Take claims the lock named rel in a folder. The error is *Held if another has
// it. Other errors mean that nothing can be locked here.
func Take(dir, rel string, now time.Time) (*Claim, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	c := &Claim{root: root, rel: rel}
	if err := c.take(filepath.Join(dir, rel), now); err != nil {
		return nil, errors.Join(err, root.Close())
	}
	return c, nil
}

func (c *Claim) take(path string, now time.Time) error {
	for range tries {
		file, owner, err := c.open()
		if err != nil {
			return err
		}
		bare, err := false, lock(file)
		if unsupported(err) {
			bare, err = true, nil
			if owner.runs() {
				err = errBusy
			}
		}
		switch {
		case errors.Is(err, errBusy):
			return errors.Join(&Held{path, owner, bare}, file.Close())
		case err != nil:
			return errors.Join(err, file.Close())
		case !c.stands(file):
			if err := file.Close(); err != nil {
				return err
			}
			continue // its holder has just removed it
		}
		c.file = file
		if err := c.sign(now); err != nil {
			return errors.Join(err, file.Close())
		}
		return nil
	}
	return say.New("the lock's file vanishes again and again")
}

// open opens the lock's file, made if it isn't there, and reads who holds it. A
// link, and a file that holds anything else, is refused.
func (c *Claim) open() (*os.File, Owner, error) {
	var owner Owner
	if info, err := c.root.Lstat(c.rel); err == nil && !info.Mode().IsRegular() {
		return nil, owner, errForeign
	}
	file, err := openFile(c.root, c.rel)
	if err != nil {
		return nil, owner, err
	}
	data, err := io.ReadAll(io.LimitReader(file, maxBytes+1))
	if err == nil && len(data) > 0 && (len(data) > maxBytes || json.Unmarshal(data, &owner) != nil) {
		err = errForeign
	}
	if err != nil {
		return nil, owner, errors.Join(err, file.Close())
	}
	return file, owner, nil
}

// stands reports whether the file is still the one of its name.
func (c *Claim) stands(file *os.File) bool {
	mine, err := file.Stat()
	there, errThere := c.root.Stat(c.rel)
	return err == nil && errThere == nil && os.SameFile(mine, there)
}

// sign writes who holds the lock.
func (c *Claim) sign(now time.Time) error {
	host, err := os.Hostname()
	if err != nil {
		host = "an unnamed machine"
	}
	data, err := json.Marshal(Owner{Host: host, Pid: os.Getpid(), Since: now})
	if err != nil {
		return err
	}
	if err := c.file.Truncate(0); err != nil {
		return err
	}
	_, err = c.file.WriteAt(append(data, '\n'), 0)
	return err
}

// runs reports whether the owner may still be there: a program on this machine
// that runs, or any on another.
func (o Owner) runs() bool {
	host, err := os.Hostname()
	return o.Pid != 0 && (err != nil || host != o.Host || alive(o.Pid))
}

// Release gives the claim back and removes its file.
func (c *Claim) Release() error {
	err := c.root.Remove(c.rel) // before the lock goes, so that no other's file is removed
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	closed := c.file.Close()
	if err != nil { // where an open file can't be removed
		if err = c.root.Remove(c.rel); errors.Is(err, fs.ErrNotExist) {
			err = nil
		}
	}
	return errors.Join(err, closed, c.root.Close())
}
