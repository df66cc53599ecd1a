package window

import (
	"syscall"
	"time"
)

// ofThread asks for the figures of the calling thread alone. Source: getrusage(2),
// RUSAGE_THREAD; the number from linux/resource.h.
const ofThread = 1

// threadCPU returns the processor time of the calling thread so far, to within a
// tick of the system, some milliseconds; 0 where the system does not say.
func threadCPU() time.Duration {
	var used syscall.Rusage
	if syscall.Getrusage(ofThread, &used) != nil {
		return 0
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
