package window

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"

	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// Rescue writes what is neither saved nor in the journal into a packed file
// beside the system's other temporary files and returns its path, "" if there
// was nothing to rescue. It is the second line, for an end that asks nobody: a
// fault of our own, or a signal.
func (w *Window) Rescue() (path string, err error) {
	if w.closing || !w.desk.State().Unsaved || w.desk.Journaled() {
		return "", nil
	}
	path = filepath.Join(os.TempDir(), fmt.Sprintf("aftbay-rescued-%d%s", os.Getpid(), layout.PackedExt))
	return path, w.desk.SaveCopy(path)
}

// guarded runs a job; a fault of our own is shown once and the window lives on.
func (w *Window) guarded(run func()) {
	defer func() {
		fault := recover()
		if fault == nil {
			return
		}
		text := say.Errorf("internal fault, please report it: %v\n%s", fault, debug.Stack())
		w.o.onMain(func() {
			if !w.faulty {
				w.faulty = true
				w.showError(text)
			}
		})
	}()
	run()
}
