package desk

import (
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/journal"
)

// system is what the desk needs of the machine around it.
type system struct {
	now      func() time.Time
	disks    func(dir string) (disk.Disk, io.Closer, error)
	stateDir func() (string, error) // for what can't be kept beside a layout
	every    time.Duration          // between two looks at the disk
}

// watchEvery is how often the disk is looked at for changes by others.
// Common practice, no source.
const watchEvery = 2 * time.Second

func realSystem() system {
	disks := func(dir string) (disk.Disk, io.Closer, error) {
		root, err := disk.At(dir)
		if err != nil {
			return nil, nil, err
		}
		return root, root, nil
	}
	return system{now: time.Now, disks: disks, stateDir: stateDir, every: watchEvery}
}

// stateDir returns where programs keep state of this user.
//
// Source: XDG Base Directory Specification 0.8 for systems other than Windows
// and macOS, where it is the folder of settings.
func stateDir() (string, error) {
	dir := os.Getenv("XDG_STATE_HOME")
	switch home, err := os.UserHomeDir(); {
	case runtime.GOOS == "windows" || runtime.GOOS == "darwin":
		if dir, err = os.UserConfigDir(); err != nil {
			return "", say.Errorf("journal: %w", err)
		}
	case filepath.IsAbs(dir):
	case err != nil:
		return "", say.Errorf("journal: %w", err)
	default:
		dir = filepath.Join(home, ".local", "state")
	}
	return filepath.Join(dir, "aftbay"), nil
}

// place is where a layout lies and what is kept about it while it is worked on.
type place struct {
	file   string // layout.json or the packed file
	dir    string // folder of journal and lock: the layout's
	prefix string // of their names
}

// placeOf returns the place of a layout folder, its layout.json or a packed
// file, whether it is there or not. Journal and lock of a folder lie in it, as
// .aftbay-journal and .aftbay-lock; those of NAME.aftbay beside it, as
// .NAME.aftbay-journal and .NAME.aftbay-lock.
func placeOf(path string) (place, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return place{}, err
	}
	info, err := os.Stat(full)
	switch {
	case strings.EqualFold(filepath.Ext(full), layout.PackedExt) && (err != nil || !info.IsDir()):
		return place{file: full, dir: filepath.Dir(full), prefix: "." + filepath.Base(full)}, nil
	case err == nil && !info.IsDir():
		if name := filepath.Base(full); name != layout.FileName {
			return place{}, layout.Fault{Where: full, What: say.F("a layout that is worked on is called %s", layout.FileName), Mend: say.Of("give the file that name in a folder of its own")}
		}
		full = filepath.Dir(full)
	}
	return place{file: filepath.Join(full, layout.FileName), dir: full, prefix: ".aftbay"}, nil
}

func (p place) packed() bool { return strings.EqualFold(filepath.Ext(p.file), layout.PackedExt) }

func (p place) journal() string { return p.prefix + "-journal" }

func (p place) lock() string { return p.prefix + "-lock" }

// elsewhere returns the place for journal and lock of a layout whose own folder
// can't be written: in the user's state, named after where the layout lies.
func (p place) elsewhere(stateDir func() (string, error)) (place, error) {
	dir, err := stateDir()
	if err != nil {
		return place{}, err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return place{}, err
	}
	return place{file: p.file, dir: dir, prefix: journal.Sum([]byte(p.file))}, nil
}
