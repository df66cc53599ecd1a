package patient

import "syscall"

// belowNormal is the system's number for a thread that is served after ordinary
// ones. Source: Microsoft, SetThreadPriority, THREAD_PRIORITY_BELOW_NORMAL.
const belowNormal = -1

// giveWay lowers the calling thread; one that cannot be lowered works as any
// other.
func giveWay() {
	system := syscall.NewLazyDLL("kernel32.dll")
	current, set := system.NewProc("GetCurrentThread"), system.NewProc("SetThreadPriority")
	if current.Find() != nil || set.Find() != nil {
		return
	}
	thread, _, _ := current.Call()
	below := belowNormal
	_, _, _ = set.Call(thread, uintptr(below))
}
