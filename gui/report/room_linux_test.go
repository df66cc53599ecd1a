package report

import (
	"os"
	"os/exec"
	"syscall"
	"testing"
)

// roomMB is the most memory that a packet of 500 findings and 300 parts may
// take, the program, the model and all of its pictures included: what a small
// laptop has to spare beside the layout.
const roomMB = 300

// TestLargePacketTakesLittleRoom writes a large packet in a process of its own
// and asks the system for the most memory that it had.
func TestLargePacketTakesLittleRoom(t *testing.T) {
	const child = "AFTBAY_WRITE_LARGE_PACKET"
	if dir := os.Getenv(child); dir != "" {
		if _, err := WritePacket(t.Context(), dir, largeModel(), PDFOptions{}); err != nil {
			t.Fatal(err)
		}
		return
	}
	cmd := exec.Command(os.Args[0], "-test.run", "^"+t.Name()+"$")
	cmd.Env = append(os.Environ(), child+"="+t.TempDir())
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	used, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		t.Fatal("the system does not say how much memory a process had")
	}
	mb := used.Maxrss >> 10 // from KiB: getrusage(2) of Linux
	t.Logf("%d MB, %v of processor time", mb, cmd.ProcessState.UserTime())
	if mb > roomMB {
		t.Errorf("the packet took %d MB, want %d at most", mb, roomMB)
	}
}
