package desk

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// PartRow is one part in the drawer.
type PartRow struct {
	Name, Role, Group string
	Verdict           string // of its most pressing finding, "" where none is judged
	Hidden            bool
	Faulty            bool // its mesh is not sound
}

// PartRows lists the parts whose name, role or group holds every word of the
// search text; "faulty" finds those whose mesh is not sound.
func PartRows(s *State, a *Attention, search string) []PartRow {
	if s.Scene == nil {
		return nil
	}
	words := strings.Fields(strings.ToLower(search))
	worst := worstByPart(s.Answers.Fit.Value)
	known := s.Answers.known()
	var rows []PartRow
	for i := range s.Scene.Parts {
		p := &s.Scene.Parts[i]
		haystack := strings.ToLower(p.Name + " " + p.Role + " " + p.Group)
		wrong := faulty(p, known)
		if wrong {
			haystack += " faulty"
		}
		if slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(haystack, w) }) {
			continue
		}
		rows = append(rows, PartRow{Name: p.Name, Role: p.Role, Group: p.Group, Verdict: worst[p.Name], Hidden: a.Hidden[p.Name], Faulty: wrong})
	}
	return rows
}

// worstByPart returns the worst verdict of each part that is judged.
func worstByPart(r *clearance.Result) map[string]string {
	worst := map[string]string{}
	if r == nil {
		return worst
	}
	for i := range r.Pairs {
		p := &r.Pairs[i]
		if p.Verdict == clearance.NoRule {
			continue
		}
		for _, name := range [2]string{p.A, p.B} {
			if had, ok := worst[name]; !ok || clearance.Rank(p.Verdict) < clearance.Rank(had) {
				worst[name] = p.Verdict
			}
		}
	}
	return worst
}

// PartText describes one part of the layout, ready for the form.
type PartText struct {
	Name, Role, Group string
	Facts             []string
	Pose              [6]string // move x, y, z in mm; turn x, y, z in degrees
	MoveMM, TurnDeg   geom.Vec
	Fixed             bool // it has no pose of its own
	Faulty            bool // its mesh is not sound
}

// PartTextOf returns the description of a part by name; ok is false without it.
func PartTextOf(s *State, name string) (t PartText, ok bool) {
	if s.Scene == nil {
		return t, false
	}
	i, ok := s.Scene.Index(name)
	if !ok {
		return t, false
	}
	p := &s.Scene.Parts[i]
	t = PartText{Name: p.Name, Role: p.Role, Group: p.Group, Fixed: p.Route != nil}
	if doc, err := partOf(s.Doc, name); err == nil {
		t.MoveMM, t.TurnDeg = doc.MoveMM, doc.TurnDeg
		for k := range 3 {
			t.Pose[k], t.Pose[k+3] = units.NumberMM(doc.MoveMM[k]), plainDeg(doc.TurnDeg[k])
		}
		if doc.Material != "" {
			t.Facts = append(t.Facts, doc.Material)
		}
		if doc.MassKg != nil {
			t.Facts = append(t.Facts, units.FormatKg(*doc.MassKg))
		}
	}
	size := p.Box.Max.Sub(p.Box.Min)
	t.Facts = append(t.Facts, "box "+units.NumberMM(size[0])+" × "+units.NumberMM(size[1])+" × "+units.FormatMM(size[2]))
	if p.Closed {
		t.Facts = append(t.Facts, units.FormatCM3(p.Measures.VolumeMM3))
	} else if p.Sheet {
		t.Facts = append(t.Facts, phrase.Of("open sheet"))
	} else {
		t.Facts = append(t.Facts, phrase.Of("not closed: no inside is known"))
	}
	t.Facts = append(t.Facts, fmt.Sprint(len(p.Mesh.Tris), " triangles"))
	t.Facts = append(t.Facts, soundFacts(p, s.Answers.known())...)
	t.Facts = append(t.Facts, phrase.All(p.Said)...)
	t.Faulty = faulty(p, s.Answers.known())
	return t, true
}

// plainDeg writes an angle with the digits that a hand would type.
func plainDeg(deg float64) string { return units.NumberMM(deg) }

// ParsePose reads the six fields of the form; faults holds a line for each one
// that cannot be read, by field.
func ParsePose(fields [6]string) (moveMM, turnDeg geom.Vec, faults [6]string) {
	for k := range 3 {
		var err error
		if moveMM[k], err = units.ParseMM(fields[k]); err != nil {
			faults[k] = phrase.Err(err)
		}
		if turnDeg[k], err = units.ParseDeg(fields[k+3]); err != nil {
			faults[k+3] = phrase.Err(err)
		}
	}
	return moveMM, turnDeg, faults
}

// sortedKeys returns the keys of a map in rising order.
func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

// BoxOf returns a box around some parts as shown.
func BoxOf(s *State, parts []string) geom.Box {
	box := geom.EmptyBox()
	if s.Scene == nil {
		return box
	}
	for _, name := range parts {
		if i, ok := s.Scene.Index(name); ok {
			b := s.Scene.Parts[i].Box
			box = box.Grow(b.Min).Grow(b.Max)
		}
	}
	return box
}
