package layout

import (
	"encoding/json"
	"math"

	"aftbay/geom/say"
)

// oldest is the oldest version that is read.
const oldest = 1

// step turns the raw tree of one version into that of the next, in place. It
// leaves what it doesn't understand: the schema of today's version, which
// judges the result, has the words for it.
type step func(root map[string]any)

// upgrades lead from oldest to Version, in order: the first one turns oldest into
// oldest+1. To change the format: raise Version, append the step, put a file of
// the old version into testdata, and let the test read it. Faults of an older
// file are told in the words of today's version, with the lines of the file.
// Read-only.
var upgrades = []step{}

// upgrade brings a tree of an older version up to date, first the oldest that
// the steps know. It reports whether it changed anything.
func (t *tree) upgrade(first int, list []step) bool {
	root, isObject := t.root.(map[string]any)
	v, isNumber := root["version"].(float64)
	if !isObject || !isNumber || v != math.Trunc(v) || v < float64(first) || v >= float64(first+len(list)) {
		return false
	}
	for n := int(v) - first; n < len(list); n++ {
		list[n](root)
		root["version"] = float64(first + n + 1)
	}
	t.values = valuesIn(root)
	return true
}

// newer returns the fault of a file of a version still to come.
func newer(v float64) *placed {
	return &placed{
		path: "/version", what: say.F("version %g is newer than this program reads (%d)", v, Version),
		mend: say.Of("open it with a newer program"),
	}
}

// text returns the file that the tree now stands for.
func (t *tree) text() ([]byte, error) { return json.Marshal(t.root) }
