//go:build !windows

package disk

import (
	"errors"
	"syscall"
)

const foldersNeverSync = false

// isFull reports whether a disk, or one's share of it, is full.
func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}
