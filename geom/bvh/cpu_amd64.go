package bvh

// askAVX2 asks the processor for AVX2, FMA, POPCNT, BMI1 and BMI2, and the system whether
// it keeps the 256-bit registers when it switches between threads.
//
// Source: Intel, "64 and IA-32 Architectures Software Developer's Manual",
// volume 1, section 14.7.1 (the order of the questions; from memory).
func askAVX2() bool {
	const (
		fma, popcnt      = 1 << 12, 1 << 23 // leaf 1, ecx
		savesAny, avx    = 1 << 27, 1 << 28
		bmi1, avx2, bmi2 = 1 << 3, 1 << 5, 1 << 8 // leaf 7, ebx
		keepsVectors     = 1<<1 | 1<<2            // 128 and 256 bits
	)
	most, _, _, _ := cpuid(0, 0)
	if most < 7 {
		return false
	}
	_, _, ecx, _ := cpuid(1, 0)
	if ecx&(fma|popcnt|savesAny|avx) != fma|popcnt|savesAny|avx {
		return false
	}
	_, ebx, _, _ := cpuid(7, 0)
	return ebx&(avx2|bmi1|bmi2) == avx2|bmi1|bmi2 && xgetbv()&keepsVectors == keepsVectors
}
