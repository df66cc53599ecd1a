//go:build window

package main_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// patience is how long a step may take before the window counts as hung. It is
// wide, because the toolkit draws in software here and the machine may be busy.
const patience = 3 * time.Minute

// wrongThread is what the toolkit logs when a widget is touched from outside
// its own goroutine.
const wrongThread = "Error in Fyne call thread"

// The real window opens with the demo, draws something, closes by its frame's
// button, and ends with 0 and without a complaint. It needs DISPLAY, a window
// manager (openbox), wmctrl, xdotool and ImageMagick: cmd/test.sh provides them.
func TestWindowOpensDrawsAndCloses(t *testing.T) {
	if os.Getenv("DISPLAY") == "" {
		t.Fatal("no DISPLAY: run this through cmd/test.sh")
	}
	ctx, cancel := context.WithTimeout(t.Context(), 3*patience)
	defer cancel()
	manageWindows(ctx, t)

	binary := filepath.Join(t.TempDir(), "aftbay")
	run(ctx, t, "go", "build", "-o", binary, ".")
	var said bytes.Buffer
	app := exec.CommandContext(ctx, binary, "--demo")
	app.Stdout, app.Stderr = &said, &said
	app.Env = append(os.Environ(), "LANG=en_US.UTF-8", "AFTBAY_THREADS=check", "HOME="+t.TempDir())
	if err := app.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- app.Wait() }()

	id := awaitWindow(ctx, t, ended, &said)
	awaitPicture(ctx, t, id)
	run(ctx, t, "wmctrl", "-i", "-c", fmt.Sprintf("0x%x", id))
	select {
	case err := <-ended:
		if err != nil {
			t.Errorf("closed with %v\n%s", err, said.String())
		}
	case <-time.After(patience):
		t.Error("the window was asked to close and did not")
	}
	if text := said.String(); strings.Contains(text, wrongThread) || strings.Contains(text, "panic:") {
		t.Errorf("it complained:\n%s", text)
	}
}

// manageWindows starts the window manager that gives windows their close button.
func manageWindows(ctx context.Context, t *testing.T) {
	manager := exec.CommandContext(ctx, "openbox", "--sm-disable")
	if err := manager.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = manager.Process.Kill() // it may have ended with the display
		_ = manager.Wait()
	})
}

// awaitWindow returns the id of the visible window whose title names aftbay.
func awaitWindow(ctx context.Context, t *testing.T, ended <-chan error, said *bytes.Buffer) uint64 {
	t.Helper()
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(100 * time.Millisecond) {
		select {
		case err := <-ended:
			t.Fatalf("it ended before a window came: %v\n%s", err, said.String())
		default:
		}
		out, err := exec.CommandContext(ctx, "xdotool", "search", "--onlyvisible", "--name", "aftbay").Output()
		if err != nil {
			continue // none yet
		}
		if id, err := strconv.ParseUint(strings.Fields(string(out))[0], 10, 64); err == nil {
			return id
		}
	}
	t.Fatal("no window came")
	return 0
}

// awaitPicture waits until the window holds more than one colour.
func awaitPicture(ctx context.Context, t *testing.T, id uint64) {
	t.Helper()
	window := strconv.FormatUint(id, 10)
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(100 * time.Millisecond) {
		shot := filepath.Join(t.TempDir(), "window.png")
		if exec.CommandContext(ctx, "import", "-window", window, shot).Run() != nil {
			continue // not mapped yet
		}
		colours := run(ctx, t, "identify", "-format", "%k", shot)
		if n, err := strconv.Atoi(strings.TrimSpace(colours)); err == nil && n > 1 {
			return
		}
	}
	t.Fatal("the window stayed blank")
}

// run runs a command that must succeed and returns what it printed.
func run(ctx context.Context, t *testing.T, name string, args ...string) string {
	t.Helper()
	var said bytes.Buffer
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, said.String())
	}
	return string(out)
}
