package gather

import (
	"cmp"
	"context"
	"os"
	"path/filepath"

	"aftbay/geom"
	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// Part is one file and what it is taken for. Name, Role and Unit may be changed
// before the proposal is written.
type Part struct {
	From string // the file that was found
	Name string

	Role    string
	RoleWhy say.Text
	Unit    string // mm, cm, m or in
	UnitWhy say.Text

	// RoleSure and UnitSure are false for what should be looked at.
	RoleSure, UnitSure bool

	Triangles int
	Said      []say.Text // what was tolerated in reading the file

	sides geom.Vec // of the box around it, in the file's own unit
	file  string   // inside the new layout
	print layout.Print
	at    place
}

// SidesMM returns the sides of the box around the part in the unit that it has
// now.
func (p *Part) SidesMM() geom.Vec { return p.sides.Mul(factor(p.Unit)) }

// Left is a file that is not taken.
type Left struct {
	From string
	Why  say.Text
}

// Proposal is a new layout that is still to be confirmed.
type Proposal struct {
	Title string
	Parts []Part // by file name
	Left  []Left
}

// Options steer Propose. The zero value uses every processor.
type Options struct {
	Workers  int
	Progress geom.Progress
}

// ErrNothing means that no file can be taken.
var ErrNothing = say.New("no STL file that can be read: give a folder of STL files, or the files")

// Propose reads STL files, and those in folders, and says what each is taken
// for. Files that can't be used are left with the reason; it is an error if
// none is of use. Nothing is written.
func Propose(ctx context.Context, paths []string, o Options) (*Proposal, error) {
	found, left, err := find(paths)
	if err != nil {
		return nil, err
	}
	parts := make([]*Part, len(found))
	failed := make([]error, len(found))
	err = geom.Each(ctx, o.Workers, len(found), o.Progress, func(i int) error {
		parts[i], failed[i] = read(found[i])
		return nil // go on: the others may be of use
	})
	if err != nil {
		return nil, err
	}
	p := &Proposal{Title: titleOf(paths), Left: left}
	for i, part := range parts {
		if failed[i] != nil {
			p.Left = append(p.Left, Left{found[i].path(), say.Words(failed[i])})
			continue
		}
		p.Parts = append(p.Parts, *part)
	}
	if len(p.Parts) == 0 {
		return nil, nothing(p.Left)
	}
	p.guess()
	return p, nil
}

// nothing says why no file is of use.
func nothing(left []Left) error {
	if len(left) == 0 {
		return ErrNothing
	}
	return say.Errorf("%w (%s: %s)", ErrNothing, left[0].From, left[0].Why)
}

// titleOf makes a title of the first path.
func titleOf(paths []string) string {
	full, err := filepath.Abs(paths[0])
	if err != nil {
		full = paths[0]
	}
	if info, err := os.Stat(full); err == nil && !info.IsDir() {
		full = filepath.Dir(full)
	}
	return cmp.Or(nameOf(filepath.ToSlash(full)+".stl"), "layout")
}

// read looks at one file. The mesh itself is let go: only its size is needed.
func read(at place) (*Part, error) {
	d, err := disk.At(at.dir)
	if err != nil {
		return nil, err
	}
	defer d.Close()
	data, err := disk.Read(d, at.rel, layout.MaxFileBytes)
	if err != nil {
		return nil, err
	}
	m, said, err := mesh.ReadSTLNoted(data)
	if err != nil {
		return nil, err
	}
	p := &Part{From: at.path(), Triangles: len(m.Tris), Said: said, print: layout.PrintOf(data), at: at}
	box := m.Box()
	p.sides = box.Max.Sub(box.Min)
	if largest(p.sides) <= 0 {
		return nil, say.New("all its corners are one point; export the part again")
	}
	return p, nil
}

func largest(v geom.Vec) float64 { return max(v[0], v[1], v[2]) } // Bare numbers: any unit, kept

// guess fills in names, roles and units.
func (p *Proposal) guess() {
	names := taken{}
	roles := make([]string, len(p.Parts))
	sides := make([]float64, len(p.Parts))
	for i := range p.Parts {
		part := &p.Parts[i]
		part.Name = names.unique(nameOf(part.at.rel), " ", "")
		role := roleOf(part.Name)
		part.Role, part.RoleWhy, part.RoleSure = role.value, role.why, role.sure
		roles[i], sides[i] = part.Role, largest(part.sides)
	}
	for i, u := range unitsOf(roles, sides) {
		p.Parts[i].Unit, p.Parts[i].UnitWhy, p.Parts[i].UnitSure = u.value, u.why, u.sure
	}
}
