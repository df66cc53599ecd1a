//go:build unix

package layout

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestPipe: a named pipe in the place of a mesh must not wait for a writer.
func TestPipe(t *testing.T) {
	dir, _ := sampleFolder(t)
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.stl"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, f := opened(t, dir)
	if _, err := f.ReadFile("pipe.stl"); err == nil || !strings.Contains(err.Error(), "no plain file") {
		t.Errorf("got %v", err)
	}
}
