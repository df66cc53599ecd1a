package desk

import (
	"os"
	"path/filepath"
	"testing"
)

// TestLeftoversOfACrashGo when a layout is opened to work, and stay while
// another window works on it: that one may be writing them.
func TestLeftoversOfACrashGo(t *testing.T) {
	dir := plainLayout(t)
	const mine, foreign = ".layout.json.1-0.new", ".notes.txt.1-0.new"
	leave := func() {
		for _, name := range []string{mine, foreign} {
			must(t, os.WriteFile(filepath.Join(dir, name), []byte("half"), 0o600))
		}
	}
	leave()
	atWork(t, dir, 0)
	if there(dir, mine) || !there(dir, foreign) {
		t.Errorf("ours stayed: %v, another's stayed: %v", there(dir, mine), there(dir, foreign))
	}
	leave()
	atWork(t, dir, 0)
	if !there(dir, mine) {
		t.Error("a second window took away what the first may be writing")
	}
}
