//go:build !windows

package desk

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"aftbay/geom/layout"
)

// TestAHostileFolderIsOpenedWithoutHarm: what a stranger may have put in the
// place of our own files. Nothing waits for ever, nothing else is written.
func TestAHostileFolderIsOpenedWithoutHarm(t *testing.T) {
	outside := filepath.Join(t.TempDir(), "precious")
	must(t, os.WriteFile(outside, []byte("precious"), 0o644))
	for name, c := range map[string]struct {
		make func(dir string) error
		says string // of the notice after an edit
	}{
		"journal is a link that leaves":   {func(dir string) error { return os.Symlink(outside, filepath.Join(dir, journalName)) }, "kept as " + asideName},
		"journal is a link to the file":   {func(dir string) error { return os.Symlink(layout.FileName, filepath.Join(dir, journalName)) }, "a link stands there"},
		"journal is a pipe":               {func(dir string) error { return syscall.Mkfifo(filepath.Join(dir, journalName), 0o644) }, "kept as " + asideName},
		"aside is a link that leaves":     {func(dir string) error { return os.Symlink(outside, filepath.Join(dir, asideName)) }, ""},
		"lock is a link that leaves":      {func(dir string) error { return os.Symlink(outside, filepath.Join(dir, lockName)) }, ""},
		"lock is a pipe":                  {func(dir string) error { return syscall.Mkfifo(filepath.Join(dir, lockName), 0o644) }, ""},
		"revisions is a link that leaves": {func(dir string) error { return os.Symlink(filepath.Dir(outside), filepath.Join(dir, "revisions")) }, ""},
		"the layout is a pipe": {func(dir string) error {
			must(t, os.Remove(filepath.Join(dir, layout.FileName)))
			return syscall.Mkfifo(filepath.Join(dir, layout.FileName), 0o644)
		}, "refused"},
	} {
		dir := plainLayout(t)
		must(t, c.make(dir))
		d := bareDesk(t)
		err := d.OpenToWork(context.Background(), dir, Ask)
		if c.says == "refused" {
			if err == nil || !strings.Contains(err.Error(), "no plain file") {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		must(t, err)
		retitle(t, d, "edited")
		if n := d.State().Notice.Text; !strings.Contains(n, c.says) {
			t.Errorf("%s: notice %q", name, n)
		}
		if _, err := d.KeepRevision("", "hostile"); name[:3] == "rev" && err == nil {
			t.Errorf("%s: kept outside", name)
		}
		d.LookAtDisk()
		must(t, d.SetAside())
		must(t, d.Save())
		if data, err := os.ReadFile(outside); err != nil || string(data) != "precious" {
			t.Errorf("%s: the file outside holds %q, %v", name, data, err)
		}
	}
	if list, err := os.ReadDir(filepath.Dir(outside)); err != nil || len(list) != 1 {
		t.Errorf("%d files outside, %v", len(list), err)
	}
}
