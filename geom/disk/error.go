package disk

import (
	"errors"
	"io/fs"
	"strings"
	"syscall"

	"aftbay/geom/say"
)

// Error is what went wrong with a file: where, what, and how to mend it.
type Error struct {
	Where string // the file
	What  say.Text
	Mend  say.Text
	Err   error // of the system; may be nil
}

// Error returns it on one line.
func (e *Error) Error() string { return e.text().String() }

// In returns it on one line in the language of a catalogue.
func (e *Error) In(of say.Lookup) string { return e.text().In(of) }

func (e *Error) text() say.Text { return say.F("%s: %s; %s", e.Where, e.What, e.Mend) }

// Unwrap returns the system's error.
func (e *Error) Unwrap() error { return e.Err }

// fault words an error of the system; did says what was not done.
func fault(rel string, did say.Text, err error) error {
	what, mend := words(err)
	return &Error{Where: rel, What: say.F("%s: %s", did, what), Mend: mend, Err: err}
}

// words says what an error of the system means and how to mend it.
func words(err error) (what, mend say.Text) {
	switch {
	case isFull(err):
		return say.Of("the disk is full"), say.Of("make room on it, or save elsewhere")
	case errors.Is(err, syscall.EROFS):
		return say.Of("the disk is read-only"), say.Of("save elsewhere")
	case errors.Is(err, fs.ErrPermission):
		return say.Of("it is not permitted"), say.Of("ask for the permission, or save elsewhere")
	case errors.Is(err, fs.ErrNotExist):
		return say.Of("there is no such file or folder"), say.Of("check the name and that the folder is still there, or save elsewhere")
	case strings.Contains(err.Error(), "escapes from parent"):
		return say.Of("a link leads out of the folder"), say.Of("put the file itself there")
	}
	return innermost(err), say.Of("check the disk, or save elsewhere")
}

// innermost returns what the system said, without the names that our error
// already gives.
func innermost(err error) say.Text {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	if lines := strings.Split(err.Error(), "\n"); len(lines) > 1 {
		return say.Name(strings.Join(lines, ", "))
	}
	return say.Words(err)
}

// cannotSync reports whether a system refuses to sync a folder because it has
// no such operation: Windows and some network disks.
func cannotSync(err error) bool {
	return errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) || foldersNeverSync
}
