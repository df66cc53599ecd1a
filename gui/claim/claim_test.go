package claim

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// holderDir, when set, makes the test binary take a claim, say so and wait.
const holderDir = "AFTBAY_CLAIM_DIR"

func TestMain(m *testing.M) {
	if dir := os.Getenv(holderDir); dir != "" {
		if _, err := Take(dir, ".lock", time.Now()); err != nil {
			os.Exit(3)
		}
		os.Stdout.WriteString("held\n")
		time.Sleep(time.Minute)
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func TestOneHolds(t *testing.T) {
	dir := t.TempDir()
	first, err := Take(dir, ".lock", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	_, err = Take(dir, ".lock", time.Now())
	var held *Held
	if !errors.As(err, &held) || held.Owner.Pid != os.Getpid() || !strings.Contains(err.Error(), "open in another window") {
		t.Fatalf("second claim: %v", err)
	}
	if err := first.Release(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(filepath.Join(dir, ".lock")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the lock's file is still there: %v", err)
	}
	second, err := Take(dir, ".lock", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	if err := second.Release(); err != nil {
		t.Fatal(err)
	}
}

// TestAKilledHolderLetsGo: the lock goes with its program, killed or not.
func TestAKilledHolderLetsGo(t *testing.T) {
	dir := t.TempDir()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), holderDir+"="+dir)
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := out.Read(make([]byte, 5)); err != nil {
		t.Fatal(err)
	}
	_, err = Take(dir, ".lock", time.Now())
	var held *Held
	if !errors.As(err, &held) || held.Owner.Pid != child.Process.Pid {
		t.Errorf("while it runs: %v", err)
	}
	if err := child.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = child.Wait() // killed
	c, err := Take(dir, ".lock", time.Now())
	if err != nil {
		t.Fatalf("after it was killed: %v", err)
	}
	if err := c.Release(); err != nil {
		t.Error(err)
	}
}

// TestAHostileFolderLosesNothing: what stands in the lock's place stays whole.
func TestAHostileFolderLosesNothing(t *testing.T) {
	for name, make := range map[string]func(dir string) error{
		"a link inside": func(dir string) error { return os.Symlink("victim", filepath.Join(dir, ".lock")) },
		"a hard link":   func(dir string) error { return os.Link(filepath.Join(dir, "victim"), filepath.Join(dir, ".lock")) },
		"a folder":      func(dir string) error { return os.Mkdir(filepath.Join(dir, ".lock"), 0o755) },
	} {
		dir := t.TempDir()
		victim := filepath.Join(dir, "victim")
		if err := os.WriteFile(victim, []byte("a layout"), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := make(dir); err != nil {
			t.Fatal(err)
		}
		if _, err := Take(dir, ".lock", time.Now()); err == nil {
			t.Errorf("%s: claimed", name)
		}
		if data, err := os.ReadFile(victim); err != nil || string(data) != "a layout" {
			t.Errorf("%s: the file now holds %q, %v", name, data, err)
		}
	}
	if _, err := Take(filepath.Join(t.TempDir(), "none"), ".lock", time.Now()); err == nil {
		t.Error("claimed in a folder that is not there")
	}
}

func TestOwnerRuns(t *testing.T) {
	host, err := os.Hostname()
	if err != nil {
		t.Skip(err)
	}
	for _, c := range []struct {
		owner Owner
		want  bool
	}{
		{Owner{}, false}, // an empty file
		{Owner{Host: host, Pid: os.Getpid()}, true},
		{Owner{Host: host, Pid: 1 << 30}, false}, // above the largest process number
		{Owner{Host: host + "-other", Pid: 1 << 30}, true},
	} {
		if got := c.owner.runs(); got != c.want {
			t.Errorf("%+v runs: %v", c.owner, got)
		}
	}
}
