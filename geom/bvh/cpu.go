package bvh

//go:generate env PART=cpu go run -C pairavo . -pkg bvh -out ../cpu_amd64.s -stubs ../cpu_asm_amd64.go

// fast is what HasAVX2 says; asking the processor can take microseconds. Read-only.
var fast = askAVX2()

// HasAVX2 reports whether the processor and the system offer 256-bit vectors with
// fused multiply-add (AVX2 and FMA) and count bits (POPCNT, BMI1 and BMI2, as all that have
// AVX2 do), which the assembly beside the plain walks needs. False on other processors than amd64.
func HasAVX2() bool { return fast }
