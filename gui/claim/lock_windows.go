package claim

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"

	"aftbay/geom/say"
)

// errBusy means that another holds the lock.
var errBusy = say.New("locked")

// sharingViolation is the system's error for a file that another has open in a
// way that shuts this one out: ERROR_SHARING_VIOLATION.
//
// Source: System Error Codes (0-499), from memory.
const sharingViolation = syscall.Errno(32)

// openFile opens the lock's file so that no other program can open it for
// writing until it is closed: that is the lock. One that is shut out gets it
// for reading.
func openFile(root *os.Root, rel string) (*os.File, error) {
	path := filepath.Join(root.Name(), filepath.FromSlash(rel))
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, err
	}
	const access = syscall.GENERIC_READ | syscall.GENERIC_WRITE
	h, err := syscall.CreateFile(name, access, syscall.FILE_SHARE_READ, nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if errors.Is(err, sharingViolation) {
		return root.Open(rel)
	}
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	return os.NewFile(uintptr(h), path), nil
}

// lock reports whether openFile has got the lock: only then it may write.
func lock(file *os.File) error {
	info, err := file.Stat()
	if err != nil {
		return err
	}
	if file.Truncate(info.Size()) != nil {
		return errBusy
	}
	return nil
}

func unsupported(error) bool { return false }

// alive is not asked where the system always locks.
func alive(int) bool { return true }
