package desk

import (
	"fmt"
	"slices"
	"strings"

	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// PartsTable lists the parts as they were read; sound is what is known of
// facets that cross.
func PartsTable(s *scene.Scene, sound Sound) Table {
	t := Table{
		Title: phrase.Of("Parts"),
		Columns: []Column{
			text(phrase.Of("part")), text(phrase.Of("role")), text(phrase.Of("group")), number(phrase.Of("triangles")), text(phrase.Of("closed")),
			number("volume_cm3"), number("area_mm2"), text(phrase.Of("least corner mm")), text(phrase.Of("greatest corner mm")), text(phrase.Of("said")),
		},
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		closed, volume := "yes", units.NumberCM3(p.Measures.VolumeMM3)
		if !p.Closed {
			closed, volume = phrase.Of("no (lacks facets)"), ""
		}
		if p.Sheet {
			closed = phrase.Of("no (sheet)")
		}
		t.Rows = append(t.Rows, Row{
			Cells: []string{
				p.Name, p.Role, p.Group, fmt.Sprint(len(p.Mesh.Tris)), closed, volume,
				units.NumberMM2(p.Measures.AreaMM2), pointText(p.Box.Min), pointText(p.Box.Max), strings.Join(append(phrase.All(p.Said), crossedText(p, sound)...), "; "),
			},
			Key: p.Name, Parts: []string{p.Name},
		})
	}
	t.Foot = []string{PartsSentence(s)}
	return t
}

// crossedText says that the surface of a part passes through itself; empty if
// it is not known to.
func crossedText(p *scene.Part, sound Sound) []string {
	n := sound[p.Mesh].SelfCrossings
	if n == 0 {
		return nil
	}
	text := fmt.Sprint(n, phrase.Of(" pairs of facets cross"))
	if p.Closed {
		text += phrase.Of(", so that some volume may count twice")
	}
	return []string{text}
}

// MendedSentence says how many mesh files are not what a part should be, and of
// the first what was done; empty if all are sound.
func MendedSentence(s *scene.Scene) string {
	first, mended := "", 0
	for i := range s.Parts {
		p := &s.Parts[i]
		said := p.Said
		if p.Changed != nil { // told by itself: nothing was mended
			said = slices.DeleteFunc(slices.Clone(said), func(text say.Text) bool { return text.String() == p.Changed.Sentence().String() })
		}
		if len(said) == 0 {
			continue
		}
		if mended++; mended == 1 {
			first = p.Name + ": " + strings.Join(phrase.All(said), "; ")
		}
	}
	switch {
	case mended == 0:
		return ""
	case mended == 2:
		first += phrase.Of(" (and 1 mesh more, see inspect)")
	case mended > 2:
		first += phrase.F(" (and %d meshes more, see inspect)", mended-1)
	}
	return first
}

// PartsSentence counts the parts and those that are not what a part should be.
func PartsSentence(s *scene.Scene) string {
	triangles, sheets, lacking, mended := 0, 0, 0, 0
	for i := range s.Parts {
		p := &s.Parts[i]
		triangles += len(p.Mesh.Tris)
		switch {
		case p.Sheet:
			sheets++
		case !p.Closed:
			lacking++
		}
		if len(p.Said) > 0 {
			mended++
		}
	}
	text := phrase.F("%d parts, %d triangles; %d open sheets, %d files tolerated or mended", len(s.Parts), triangles, sheets, mended)
	if lacking > 0 {
		text += phrase.F("; %d lack facets, so that no inside is known", lacking)
	}
	return text
}
