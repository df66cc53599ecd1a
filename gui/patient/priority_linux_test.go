package patient

import (
	"runtime"
	"syscall"
	"testing"
)

// The crew's threads give way, the caller's own does not.
func TestOnlyTheCrewGivesWay(t *testing.T) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	own := niceOf(t)
	var crews int
	NewCrew().Do(func() { crews = niceOf(t) })
	if crews != max(nice, own) && crews != nice {
		t.Errorf("nice %d of a patient thread, want %d", crews, nice)
	}
	if now := niceOf(t); now != own {
		t.Errorf("the caller's thread went from nice %d to %d", own, now)
	}
}

// niceOf returns the nice value of the calling thread. The system call gives 20
// less it. Source: getpriority(2).
func niceOf(t *testing.T) int {
	v, err := syscall.Getpriority(syscall.PRIO_PROCESS, 0)
	if err != nil {
		t.Error(err)
	}
	return 20 - v
}
