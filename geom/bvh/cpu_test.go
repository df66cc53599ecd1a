package bvh

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// TestProcessor: what the processor says is what the system says of it.
// Source: the list of flags that Linux keeps in /proc/cpuinfo.
func TestProcessor(t *testing.T) {
	text, err := os.ReadFile("/proc/cpuinfo")
	if err != nil {
		t.Skip("the system keeps no /proc/cpuinfo")
	}
	for line := range strings.Lines(string(text)) {
		name, list, _ := strings.Cut(line, ":")
		if strings.TrimSpace(name) != "flags" {
			continue
		}
		flags := strings.Fields(list)
		want := slices.Contains(flags, "avx2") && slices.Contains(flags, "fma") && slices.Contains(flags, "bmi1") && slices.Contains(flags, "bmi2") && slices.Contains(flags, "popcnt")
		if HasAVX2() != want {
			t.Errorf("HasAVX2 says %v, the system %v", HasAVX2(), want)
		}
		return
	}
	t.Skip("the system lists no flags of this processor")
}
