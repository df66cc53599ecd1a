package main

import (
	"github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/reg"
)

// askCPU writes cpuid and xgetbv.
func askCPU() {
	build.TEXT("cpuid", build.NOSPLIT, "func(leaf, sub uint32) (eax, ebx, ecx, edx uint32)")
	build.Doc("cpuid asks the processor what it is.")
	build.Load(build.Param("leaf"), reg.EAX)
	build.Load(build.Param("sub"), reg.ECX)
	build.CPUID()
	build.Store(reg.EAX, build.ReturnIndex(0))
	build.Store(reg.EBX, build.ReturnIndex(1))
	build.Store(reg.ECX, build.ReturnIndex(2))
	build.Store(reg.EDX, build.ReturnIndex(3))
	build.RET()

	build.TEXT("xgetbv", build.NOSPLIT, "func() (eax uint32)")
	build.Doc("xgetbv returns which registers the system saves.")
	build.XORL(reg.ECX, reg.ECX)
	build.XGETBV()
	build.Store(reg.EAX, build.ReturnIndex(0))
	build.RET()
}
