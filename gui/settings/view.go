package settings

import (
	"math"
	"slices"

	"aftbay/geom"
)

// View is how a layout was looked at last: nothing of it is the layout's own.
type View struct {
	Layout     string   `json:"layout"` // its path
	Title      string   `json:"title,omitempty"`
	Page       int      `json:"page,omitempty"`
	Camera     *Camera  `json:"camera,omitempty"`
	Hidden     []string `json:"hidden,omitempty"`      // parts
	SeeThrough []string `json:"see_through,omitempty"` // parts, by hand
	Cuts       []Cut    `json:"cuts,omitempty"`
	Ghost      bool     `json:"ghost,omitempty"`       // all but the selected
	Bodywork   bool     `json:"bodywork,omitempty"`    // solid
	NoMeasures bool     `json:"no_measures,omitempty"` // measurements are put away
	Gaps       bool     `json:"gaps,omitempty"`
	Mirror     bool     `json:"mirror,omitempty"`
}

// Camera is where the scene was looked at from.
type Camera struct {
	TargetMM     geom.Vec `json:"target_mm"`
	AzimuthDeg   float64  `json:"azimuth_deg"`
	ElevationDeg float64  `json:"elevation_deg"`
	DistMM       float64  `json:"dist_mm"`
	Parallel     bool     `json:"parallel,omitempty"`
}

// Cut is a cut through the scene.
type Cut struct {
	Name    string   `json:"name"`
	PointMM geom.Vec `json:"point_mm"`
	Normal  geom.Vec `json:"normal"`
	ZeroMM  float64  `json:"zero_mm"`
	Grid    bool     `json:"grid,omitempty"`
	Idle    bool     `json:"idle,omitempty"`
	Through string   `json:"through,omitempty"`
}

// mostViews is of how many layouts the view is remembered. Common practice, no
// source.
const mostViews = 20

// Looked remembers a view, in the place of an older one of its layout.
func (s *Settings) Looked(v View) {
	s.Views = slices.DeleteFunc(slices.Clone(s.Views), func(old View) bool { return old.Layout == v.Layout })
	s.Views = slices.Insert(s.Views, 0, v)
	s.Views = s.Views[:min(len(s.Views), mostViews)]
}

// ViewOf returns how a layout was looked at last; ok is false if nobody knows.
func (s *Settings) ViewOf(path string) (v View, ok bool) {
	i := slices.IndexFunc(s.Views, func(v View) bool { return v.Layout == path })
	if i < 0 {
		return v, false
	}
	return s.Views[i], true
}

// Limits of what is taken from the file: places within a kilometre, a camera from
// a millimetre to a kilometre away.
const leastDistMM, mostMM = 1, 1e6

// mend drops what no window can show.
func (v *View) mend() {
	if c := v.Camera; c != nil && (!within(c.TargetMM) || !(c.DistMM >= leastDistMM && c.DistMM <= mostMM) ||
		!(math.Abs(c.AzimuthDeg) <= 360) || !(math.Abs(c.ElevationDeg) <= 90)) {
		v.Camera = nil
	}
	v.Cuts = slices.DeleteFunc(v.Cuts, func(c Cut) bool {
		return c.Name == "" || !within(c.PointMM) || !(math.Abs(c.Normal.Len()-1) < 1e-6) || !(math.Abs(c.ZeroMM) <= mostMM)
	})
}

func within(p geom.Vec) bool {
	return !slices.ContainsFunc(p[:], func(mm float64) bool { return !(math.Abs(mm) <= mostMM) })
}
