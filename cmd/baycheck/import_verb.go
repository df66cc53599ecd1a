package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"aftbay/geom"
	"aftbay/geom/layout/gather"
	"aftbay/geom/say"
	"aftbay/geom/units"
	"aftbay/gui/desk"
)

// proposal is the JSON of import.
type proposal struct {
	Title   string         `json:"title"`
	Into    string         `json:"into"` // "" when nothing was written
	Parts   []proposedPart `json:"parts"`
	LeftOut []leftOut      `json:"left_out"`
}

// proposedPart is one file and what it is taken for; sure is false for what
// should be looked at.
type proposedPart struct {
	File      string     `json:"file"`
	Name      string     `json:"name"`
	Role      string     `json:"role"`
	RoleWhy   say.Text   `json:"role_why"`
	RoleSure  bool       `json:"role_sure"`
	Unit      string     `json:"mesh_unit"`
	UnitWhy   say.Text   `json:"mesh_unit_why"`
	UnitSure  bool       `json:"mesh_unit_sure"`
	SidesMM   geom.Vec   `json:"sides_mm"` // of the box around it
	Triangles int        `json:"triangles"`
	Said      []say.Text `json:"said,omitempty"`
}

type leftOut struct {
	File string `json:"file"`
	Why  string `json:"why"`
}

// imports proposes a layout made of STL files and, with --into, writes it.
func imports(ctx context.Context, c *call) (bool, error) {
	if c.unit != "" {
		if _, err := units.MeshFactor(c.unit); err != nil {
			return false, fmt.Errorf("--unit %q: give mm, cm, m or in", c.unit)
		}
	}
	p, err := gather.Propose(ctx, c.paths, gather.Options{Workers: c.workers, Progress: c.progress("reading meshes")})
	if err != nil {
		return false, err
	}
	for i := range p.Parts {
		if c.unit != "" {
			p.Parts[i].Unit, p.Parts[i].UnitWhy, p.Parts[i].UnitSure = c.unit, say.Of("as the call says"), true
		}
	}
	if c.into != "" {
		if err := p.Write(ctx, c.into); err != nil {
			return false, err
		}
	}
	return false, c.give(proposed(p, c.into), proposedTable(p, c.into))
}

func proposed(p *gather.Proposal, into string) proposal {
	out := proposal{Title: p.Title, Into: into, Parts: []proposedPart{}, LeftOut: []leftOut{}}
	for i := range p.Parts {
		q := &p.Parts[i]
		out.Parts = append(out.Parts, proposedPart{
			File: q.From, Name: q.Name, Role: q.Role, RoleWhy: q.RoleWhy, RoleSure: q.RoleSure,
			Unit: q.Unit, UnitWhy: q.UnitWhy, UnitSure: q.UnitSure,
			SidesMM: q.SidesMM(), Triangles: q.Triangles, Said: q.Said,
		})
	}
	for _, l := range p.Left {
		out.LeftOut = append(out.LeftOut, leftOut{l.From, oneLine(l.Why)})
	}
	return out
}

// oneLine returns the English words on one line.
func oneLine(t say.Text) string { return strings.ReplaceAll(t.String(), "\n", "; ") }

func proposedTable(p *gather.Proposal, into string) desk.Table {
	t := desk.Table{Title: p.Title, Columns: []desk.Column{
		{Head: "name"},
		{Head: "role"},
		{Head: "unit"},
		{Head: "x_mm", Right: true},
		{Head: "y_mm", Right: true},
		{Head: "z_mm", Right: true},
		{Head: "triangles", Right: true},
		{Head: "file"},
		{Head: "why"},
	}}
	doubtful := 0
	for i := range p.Parts {
		q := &p.Parts[i]
		sides := q.SidesMM()
		row := []string{q.Name, unsure(q.Role, q.RoleSure), unsure(q.Unit, q.UnitSure)}
		for _, sideMM := range sides {
			row = append(row, strconv.FormatFloat(sideMM, 'f', 1, 64))
		}
		if !q.RoleSure || !q.UnitSure {
			doubtful++
		}
		t.Rows = append(t.Rows, desk.Row{Cells: append(row, strconv.Itoa(q.Triangles), filepath.Base(q.From), q.RoleWhy.String()+"; "+q.UnitWhy.String())})
	}
	t.Foot = append(t.Foot, "")
	for _, l := range p.Left {
		t.Foot = append(t.Foot, "left out: "+l.From+": "+oneLine(l.Why))
	}
	t.Foot = append(t.Foot, fmt.Sprintf("%d parts; a question mark stands behind what should be looked at (%d parts)", len(p.Parts), doubtful))
	if into == "" {
		t.Foot = append(t.Foot, "nothing written yet: --into DIR makes the layout, --unit U says the unit of all files; names, roles and units can be changed in its layout.json")
	} else {
		t.Foot = append(t.Foot, "wrote "+filepath.Join(into, "layout.json")+"; next: baycheck inspect "+into)
	}
	return t
}

func unsure(word string, sure bool) string {
	if sure {
		return word
	}
	return word + " ?"
}
