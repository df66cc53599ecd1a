package layout

import (
	"fmt"

	"aftbay/geom/say"
)

// mounts checks what a group needs so that its loads can be solved, and that
// nothing has the same name twice.
func (c *checker) mounts(at string, g *Group) {
	springs, loads := names{word: say.Of("mount")}, names{word: say.Of("load")}
	for i, s := range g.Mounts {
		if s.Name != "" { // may be left out
			springs.add(c, fmt.Sprintf("%s/mounts/%d", at, i), s.Name)
		}
	}
	for i, l := range g.Loads {
		loads.add(c, fmt.Sprintf("%s/loads/%d", at, i), l.Name)
	}
	if len(g.Loads) == 0 {
		return
	}
	for _, need := range []struct {
		missing bool
		key     string
		mend    say.Text
	}{
		{len(g.Mounts) == 0, "mounts", say.Of("add the places and stiffnesses of its mounts")},
		{g.MassKg == nil, "mass_kg", say.Of("add the mass of all that hangs on the mounts")},
		{g.CgMM == nil, "cg_mm", say.Of("add the centre of gravity of all that hangs on the mounts")},
		{g.DrawnG == nil, "drawn_g", say.Of("add [0, 0, -1] if the parts are drawn as they hang at rest, [0, 0, 0] if the mounts are drawn without load")},
	} {
		if need.missing {
			c.fault(at+"/loads", say.F("loads are given without %s", need.key), need.mend)
		}
	}
}
