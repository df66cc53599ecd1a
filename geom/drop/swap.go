package drop

import (
	"context"
	"slices"
	"strings"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

// Change is one part with another mesh in its place.
type Change struct {
	Part, Name     string // Name: of the alternative
	Mesh, MeshUnit string
	MassKg         *float64 // nil: as the part has it
}

// Swap is how low the group goes with one part exchanged, or as it is.
type Swap struct {
	Name      string             `json:"name"`
	Part      string             `json:"part"` // "" for the layout as it is
	Mesh      string             `json:"mesh"`
	WindowMM  *Window            `json:"window_mm"`
	WindowsMM []Window           `json:"windows_mm"`
	ReachMM   *Window            `json:"reach_mm"`
	Binding   Binding            `json:"binding"`
	Verdict   string             `json:"verdict"`
	GroundMM  map[string]float64 `json:"ground_mm"` // as the group stands, by attitude, of the group alone
	LowPart   string             `json:"low_part"`  // lowest of the group in the first attitude
	CrankMM   *float64           `json:"crank_mm"`  // at the lowest drop that holds
	HighestMM *float64           `json:"highest_mm"`
	GroupKg   float64            `json:"group_kg"`
	CGMM      *geom.Vec          `json:"cg_mm"` // of the vehicle at the lowest drop that holds
}

// Alternatives lists the changes that a layout names.
func Alternatives(doc *layout.Document) []Change {
	var out []Change
	for _, p := range doc.Parts {
		for _, a := range p.Alternatives {
			out = append(out, Change{p.Name, a.Name, a.Mesh, a.MeshUnit, a.MassKg})
		}
	}
	return out
}

// ParseChange reads PART=MESH, the mesh a path in the layout folder.
func ParseChange(text string) (Change, error) {
	part, mesh, ok := strings.Cut(text, "=")
	if part, mesh = strings.TrimSpace(part), strings.TrimSpace(mesh); !ok || part == "" || mesh == "" {
		return Change{}, say.Errorf("%q is no exchange: write PART=MESH, such as \"sump=meshes/sump_shallow.stl\"", text)
	}
	return Change{Part: part, Name: mesh, Mesh: mesh}, nil
}

// Swaps studies the layout as it is, of which the result is at hand, and with
// each of the changes alone. folder holds the meshes; base lends what does not
// change.
//
// Errors: no such part, a mesh that cannot be read, a cancelled ctx.
func Swaps(ctx context.Context, present *Result, base *scene.Scene, folder *layout.Folder, changes []Change, o Options, progress geom.Progress) ([]Swap, error) {
	out := []Swap{swapOf(AsItIs, present)}
	o.noSight = true
	for i, c := range changes {
		if progress != nil {
			progress(i, len(changes))
		}
		s, err := Changed(ctx, base, folder, c, o)
		if err != nil {
			return nil, say.Errorf("drop: %s instead of %q: %w", c.Mesh, c.Part, err)
		}
		r, err := Run(ctx, s, o, nil)
		if err != nil {
			return nil, say.Errorf("%s instead of %q: %w", c.Mesh, c.Part, err)
		}
		row := swapOf(c.Name, r)
		row.Part, row.Mesh = c.Part, c.Mesh
		out = append(out, row)
	}
	return out, nil
}

// Changed returns the scene with one part exchanged.
func Changed(ctx context.Context, base *scene.Scene, folder *layout.Folder, c Change, o Options) (*scene.Scene, error) {
	doc := *base.Doc
	doc.Parts = slices.Clone(doc.Parts)
	i := slices.IndexFunc(doc.Parts, func(p layout.Part) bool { return p.Name == c.Part })
	if i < 0 {
		return nil, say.Errorf("no part is called %q", c.Part)
	}
	p := &doc.Parts[i]
	p.Mesh = c.Mesh
	if c.MeshUnit != "" {
		p.MeshUnit = c.MeshUnit
	}
	if c.MassKg != nil {
		p.MassKg = c.MassKg
	}
	if err := layout.Check(&doc); err != nil {
		return nil, err
	}
	if folder == nil {
		return nil, say.New("no layout folder to read the mesh from")
	}
	return scene.Build(ctx, &doc, folder, base, scene.Options{Workers: o.Workers})
}

// swapOf sums a result up.
func swapOf(name string, r *Result) Swap {
	row := Swap{
		Name: name, WindowMM: r.WindowMM, WindowsMM: r.WindowsMM, ReachMM: r.ReachMM, Binding: r.Binding, Verdict: r.Verdict,
		GroundMM: map[string]float64{}, GroupKg: r.Mass.GroupKg,
	}
	end := r.WindowMM
	if end == nil {
		end = r.ReachMM
	}
	if end != nil {
		p := r.At(end[1])
		row.CrankMM, row.HighestMM, row.CGMM = p.CrankMM, p.HighestMM, p.CGMM
	}
	st := r.study
	if st.v == nil {
		return row
	}
	for i, att := range st.v.Attitudes {
		mm, part := st.groundAt(NewRoad(st.v, att), 0, follows)
		if part == "" {
			continue
		}
		row.GroundMM[att.Name] = mm
		if i == 0 {
			row.LowPart = part
		}
	}
	return row
}
