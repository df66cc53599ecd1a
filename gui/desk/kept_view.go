package desk

import (
	"maps"
	"slices"

	"aftbay/geom/render"
	"aftbay/geom/units"
	"aftbay/gui/settings"
)

// ViewOf returns how the layout at a path is looked at, to be remembered.
func ViewOf(path string, s *State, a *Attention, c render.Camera) settings.View {
	v := settings.View{
		Layout: path, Title: s.Title, Page: int(a.Page), Hidden: slices.Sorted(maps.Keys(a.Hidden)), SeeThrough: slices.Sorted(maps.Keys(a.Clear)),
		Ghost: a.Ghost, Bodywork: a.Shells, NoMeasures: !a.Measures, Gaps: a.Gaps, Mirror: a.Mirror,
		Camera: &settings.Camera{TargetMM: c.Target, AzimuthDeg: units.Deg(c.AzimuthRad), ElevationDeg: units.Deg(c.ElevationRad), DistMM: c.DistMM, Parallel: c.Parallel},
	}
	for _, cut := range a.Sections {
		v.Cuts = append(v.Cuts, settings.Cut{Name: cut.Name, PointMM: cut.Point, Normal: cut.Normal, ZeroMM: cut.ZeroMM, Grid: cut.Grid, Idle: cut.Idle, Through: cut.Through})
	}
	return v
}

// Recall looks at a layout as it was left; parts that it no longer has are
// forgotten.
func (a *Attention) Recall(v *settings.View, s *State) {
	known := func(parts []string) map[string]bool {
		var set map[string]bool
		for _, name := range parts {
			if s.Scene == nil {
				break
			}
			if _, ok := s.Scene.Index(name); ok {
				if set == nil {
					set = map[string]bool{}
				}
				set[name] = true
			}
		}
		return set
	}
	if v.Page >= 0 && v.Page < len(questions) {
		a.Page = Question(v.Page)
	}
	a.Hidden, a.Clear = known(v.Hidden), known(v.SeeThrough)
	a.Ghost, a.Shells, a.Measures, a.Gaps, a.Mirror = v.Ghost, v.Bodywork, !v.NoMeasures, v.Gaps, v.Mirror
	a.Sections = nil
	for _, c := range v.Cuts[:min(len(v.Cuts), mostCuts)] {
		a.Sections = append(a.Sections, Section{Name: c.Name, Point: c.PointMM, Normal: c.Normal, ZeroMM: c.ZeroMM, Grid: c.Grid, Idle: c.Idle, Through: c.Through})
	}
}

// CameraOf returns the camera of a remembered view; ok is false if it has none.
func CameraOf(v *settings.View, now render.Camera) (c render.Camera, ok bool) {
	k := v.Camera
	if k == nil {
		return now, false
	}
	c = now
	c.Target, c.DistMM, c.Parallel = k.TargetMM, k.DistMM, k.Parallel
	c.AzimuthRad, c.ElevationRad = units.Rad(k.AzimuthDeg), units.Rad(k.ElevationDeg)
	return c, true
}
