//go:build !windows

package claim

import (
	"errors"
	"io/fs"
	"os"
	"syscall"

	"aftbay/geom/say"
)

// errBusy means that another holds the lock.
var errBusy = say.New("locked")

// openFile opens the lock's file for reading and writing; one that belongs to
// another user for reading, which is enough to see that it is locked.
func openFile(root *os.Root, rel string) (*os.File, error) {
	file, err := root.OpenFile(rel, os.O_RDWR|os.O_CREATE, 0o644)
	if !errors.Is(err, fs.ErrPermission) {
		return file, err
	}
	file, readErr := root.Open(rel)
	if readErr != nil {
		return nil, err
	}
	return file, nil
}

// lock locks a file until it is closed, also by the end of the program.
func lock(file *os.File) error {
	err := syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errBusy
	}
	return err
}

// unsupported reports whether files can't be locked here.
func unsupported(err error) bool {
	return errors.Is(err, syscall.ENOLCK) || errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL)
}

// alive reports whether a process of this machine runs.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
