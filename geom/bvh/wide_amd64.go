package bvh

import "golang.org/x/sys/cpu"

// wideRuns reports whether this processor and its system can run the wide walks.
func wideRuns() bool { return cpu.X86.HasAVX2 && cpu.X86.HasFMA && cpu.X86.HasBMI1 && cpu.X86.HasBMI2 }
