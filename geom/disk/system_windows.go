package disk

import (
	"errors"
	"syscall"
)

// foldersNeverSync: Windows has no such operation; names are in its log.
const foldersNeverSync = true

// isFull reports whether a disk is full: ERROR_HANDLE_DISK_FULL and
// ERROR_DISK_FULL.
//
// Source: System Error Codes (0-499), from memory.
func isFull(err error) bool {
	return errors.Is(err, syscall.Errno(39)) || errors.Is(err, syscall.Errno(112)) || errors.Is(err, syscall.ENOSPC)
}
