package balance

import (
	"strings"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/thermal/material"
)

// stands is what a part stands and who says so.
type stands struct {
	layout.Limit
	habit bool // common practice, no source
}

// standsOf returns the limits of something: given figures first, then those of
// what it is said to be like, then those of its material where nothing is said.
// It fails when what it is like is in no table.
func standsOf(t *material.Tables, given *layout.Limit, materialName string) (stands, error) {
	var s stands
	like := materialName
	if given != nil {
		s.Limit, like = *given, given.Like
		if s.ContinuousDegC == nil && s.PeakDegC == nil && like == "" {
			like = materialName
		}
		if s.ContinuousDegC != nil || s.PeakDegC != nil {
			s.Source = sourceOf(given)
			s.habit = strings.Contains(s.Source, "common practice")
		}
	}
	if like == "" || s.ContinuousDegC != nil && s.PeakDegC != nil {
		return s, nil
	}
	found, ok := t.StandsOf(like)
	if !ok {
		if given != nil && given.Like != "" {
			return s, say.Errorf("limit_degC: like: nothing called %q in the limit tables: name a cable class A to H, a material or one of %s", like, strings.Join(t.LimitNames(), ", "))
		}
		return s, nil
	}
	if s.ContinuousDegC == nil && s.PeakDegC == nil {
		s.Source, s.habit = found.Source, found.Habit
	} else {
		s.Source += "; the other from " + found.Source
	}
	if s.ContinuousDegC == nil {
		s.ContinuousDegC = found.ContinuousDegC
	}
	if s.PeakDegC == nil {
		s.PeakDegC = found.PeakDegC
	}
	return s, nil
}

// sourceOf says where given figures are from.
func sourceOf(l *layout.Limit) string {
	switch {
	case l.Source != "":
		return l.Source
	case l.Notes != "":
		return l.Notes
	}
	return "layout file"
}

// limitFor returns the limit that counts: continuous in a standing case, peak in
// a soak; the other where one is missing. Bare numbers: °C.
func (s *stands) limitFor(soak bool) *float64 {
	if soak && s.PeakDegC != nil || s.ContinuousDegC == nil {
		return s.PeakDegC
	}
	return s.ContinuousDegC
}
