package disk

import (
	"errors"
	"io/fs"
	"strings"
	"syscall"
)

// Error is what went wrong with a file: where, what, and how to mend it.
type Error struct {
	Where string // the file
	What  string
	Mend  string
	Err   error // of the system; may be nil
}

// Error returns it on one line.
func (e *Error) Error() string { return e.Where + ": " + e.What + "; " + e.Mend }

// Unwrap returns the system's error.
func (e *Error) Unwrap() error { return e.Err }

// fault words an error of the system; did says what was not done.
func fault(rel, did string, err error) error {
	what, mend := words(err)
	return &Error{Where: rel, What: did + ": " + what, Mend: mend, Err: err}
}

// words says what an error of the system means and how to mend it.
func words(err error) (what, mend string) {
	const elsewhere = ", or save elsewhere"
	switch {
	case isFull(err):
		return "the disk is full", "make room on it" + elsewhere
	case errors.Is(err, syscall.EROFS):
		return "the disk is read-only", "save elsewhere"
	case errors.Is(err, fs.ErrPermission):
		return "it is not permitted", "ask for the permission" + elsewhere
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder", "check the name and that the folder is still there" + elsewhere
	case strings.Contains(err.Error(), "escapes from parent"):
		return "a link leads out of the folder", "put the file itself there"
	}
	return strings.ReplaceAll(innermost(err), "\n", ", "), "check the disk" + elsewhere
}

// innermost returns what the system said, without the names that our error
// already gives.
func innermost(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}

// cannotSync reports whether a system refuses to sync a folder because it has
// no such operation: Windows and some network disks.
func cannotSync(err error) bool {
	return errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) || foldersNeverSync
}
