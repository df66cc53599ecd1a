package desk

import (
	"context"
	"os"
	"path/filepath"
	"strings"

	"aftbay/geom/layout"
	"aftbay/geom/layout/gather"
	"aftbay/geom/say"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// Gatherable reports whether paths are STL files, or one folder that is no
// layout yet: something to make parts of, not a layout to open.
func Gatherable(paths []string) bool {
	for _, path := range paths {
		info, err := os.Stat(path)
		switch {
		case err != nil:
			return false
		case info.IsDir():
			if _, err := os.Stat(filepath.Join(path, layout.FileName)); err == nil || len(paths) > 1 {
				return false
			}
		case !strings.EqualFold(filepath.Ext(path), ".stl"):
			return false
		}
	}
	return len(paths) > 0
}

// AddGathered adds what was gathered to the open layout, as one edit.
func (d *Desk) AddGathered(ctx context.Context, p *gather.Proposal) error {
	d.mu.Lock()
	doc, folder, refused := d.doc, d.folder, d.keep.refuses()
	d.mu.Unlock()
	switch {
	case doc == nil:
		return ErrNothingOpen
	case refused != nil:
		return refused
	}
	parts, err := p.Into(ctx, doc, folder)
	if err != nil {
		return err
	}
	name := "add " + parts[0].Name
	if len(parts) > 1 {
		name = phrase.F("add %s and %d more", parts[0].Name, len(parts)-1)
	}
	return d.Edit(name, func(doc *layout.Document) error {
		doc.Parts = append(doc.Parts, parts...)
		return nil
	})
}

// GatheredSize says how large a part is in the unit that it has now.
func GatheredSize(p *gather.Part) string {
	s := p.SidesMM()
	return units.NumberMM(s[0]) + " × " + units.NumberMM(s[1]) + " × " + units.FormatMM(s[2])
}

// GatheredWhy says why a part is taken for what it is. doubt is set where a
// guess should be looked at.
func GatheredWhy(p *gather.Part) (text string, doubt bool) {
	var said []string
	for _, g := range []struct {
		what string
		why  say.Text
		sure bool
	}{{phrase.Of("Role"), p.RoleWhy, p.RoleSure}, {phrase.Of("Unit"), p.UnitWhy, p.UnitSure}} {
		if g.sure {
			said = append(said, g.what+": "+phrase.Say(g.why)+".")
		} else {
			said = append(said, g.what+phrase.Of(", not sure: ")+phrase.Say(g.why)+".")
		}
	}
	return strings.Join(append(said, phrase.All(p.Said)...), " "), !p.RoleSure || !p.UnitSure
}

// GatheredText says what was found and what was left.
func GatheredText(p *gather.Proposal) string {
	text := phrase.F("%d STL files. Check roles and units: an STL file has neither, they are guessed from names and sizes.", len(p.Parts))
	if len(p.Parts) == 1 {
		text = phrase.Of("1 STL file. Check role and unit: an STL file has neither, they are guessed from its name and size.")
	}
	for i, l := range p.Left {
		if i == mostNamed {
			text += phrase.F("\nLeft out: %d more.", len(p.Left)-i)
			break
		}
		text += phrase.Of("\nLeft out: ") + filepath.Base(l.From) + ": " + strings.ReplaceAll(phrase.Say(l.Why), "\n", "; ") + "."
	}
	return text
}

// ErrNothingTaken means that every file was left out.
var ErrNothingTaken = say.New("no file is ticked: tick those that are to become parts")

// Taken returns a proposal without the parts that are left out.
func Taken(p *gather.Proposal, left []bool) *gather.Proposal {
	out := *p
	out.Parts = nil
	for i := range p.Parts {
		if i >= len(left) || !left[i] {
			out.Parts = append(out.Parts, p.Parts[i])
		}
	}
	return &out
}
