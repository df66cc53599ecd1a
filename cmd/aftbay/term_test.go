//go:build window

package main_test

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// terms is how often the window is ended while it computes: each time a little
// later in its work.
const terms = 6

// The real window is told to end while jobs report to it. It ends with 0, and
// what they report then is not shown: no widget is touched any more.
func TestWindowEndsOnASignalUnderLoad(t *testing.T) {
	if os.Getenv("DISPLAY") == "" {
		t.Fatal("no DISPLAY: run this through cmd/test.sh")
	}
	ctx, cancel := context.WithTimeout(t.Context(), terms*patience)
	defer cancel()
	binary := filepath.Join(t.TempDir(), "aftbay")
	run(ctx, t, "go", "build", "-o", binary, ".")
	for i := range terms {
		home := t.TempDir()
		var said bytes.Buffer
		app := exec.CommandContext(ctx, binary, "--demo")
		app.Stdout, app.Stderr = &said, &said
		app.Env = append(os.Environ(), "LANG=en_US.UTF-8", "AFTBAY_THREADS=check", "HOME="+home, "TMPDIR="+home)
		if err := app.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan error, 1)
		go func() { ended <- app.Wait() }()
		awaitWindow(ctx, t, ended, &said)
		time.Sleep(time.Duration(i) * 300 * time.Millisecond)
		if err := app.Process.Signal(syscall.SIGTERM); err != nil {
			t.Fatal(err)
		}
		select {
		case err := <-ended:
			if text := said.String(); err != nil || strings.Contains(text, wrongThread) || strings.Contains(text, "panic:") {
				t.Fatalf("ended %d ms after its window came: %v\n%s", i*300, err, text)
			}
		case <-time.After(patience):
			t.Fatal("the window was told to end and did not")
		}
	}
}
