package demo

import (
	"fmt"
	"strings"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/route"
)

// Group name of all that rides on the engine mounts.
const powertrain = "powertrain"

// car is the layout while it is put together.
type car struct {
	variant Variant
	doc     *layout.Document
	files   []meshFile
	err     error // the first thing that went wrong
}

// meshFile is one STL file to write.
type meshFile struct {
	path string
	mesh *mesh.Mesh
}

// add takes a part and its mesh, and returns the part for further filling in;
// the pointer is good until the next add.
func (c *car) add(name, role, group string, m *mesh.Mesh) *layout.Part {
	path := "meshes/" + strings.ReplaceAll(name, " ", "_") + ".stl"
	c.files = append(c.files, meshFile{path, m})
	return c.place(name, role, group, path)
}

// place adds a part that shares a mesh file already written.
func (c *car) place(name, role, group, path string) *layout.Part {
	c.doc.Parts = append(c.doc.Parts, layout.Part{Name: name, Role: role, Group: group, Mesh: path})
	return &c.doc.Parts[len(c.doc.Parts)-1]
}

// bent is a round tube along points.
type bent struct {
	radiusMM, bendMM float64
	points           []geom.Vec
}

// tube returns the mesh of a bent tube; a tube that can't be bent is noted
// under its name and comes back empty.
func (c *car) tube(name string, t bent) *mesh.Mesh {
	m, _, err := route.Tube(t.points, t.radiusMM, t.bendMM, tubeSides)
	if err != nil {
		if c.err == nil {
			c.err = fmt.Errorf("demo: %s: %w", name, err)
		}
		return &mesh.Mesh{}
	}
	return m
}

// join says that one part may touch each of the others.
func (c *car) join(name string, others ...string) {
	for _, o := range others {
		c.doc.Joined = append(c.doc.Joined, [2]string{name, o})
	}
}

// stuff is what a part is made of and how it looks to heat.
type stuff struct {
	material    string // as the material table names it
	emissivity  float64
	wallMM      float64 // for the heat capacity after key-off
	toleranceMM float64
}

// Materials of the car. Names and emissivities: the material tables (cast
// aluminium 0.46, anodised 0.55, service-oxidised stainless 0.85,
// polished metallic-ceramic header coating 0.3, black
// mouldings and rubber 0.92, oxide paint 0.94, commercial aluminium sheet
// 0.09). Walls are invented. Tolerances are common practice, no source: casting
// 0.8, exhaust weld assembly 2.5, body 1.5, trim 1.5. Read-only.
var (
	casting   = stuff{"Cast aluminium (Al-Si)", 0.46, 6, 0.8}
	steelTube = stuff{"Carbon steel (exhaust, brackets)", 0.94, 3, 1.5}
	coated    = stuff{"Austenitic stainless 304/321", 0.3, 1.5, 2.5}
	stainless = stuff{"Austenitic stainless 304/321", 0.85, 1.5, 2.5}
	moulding  = stuff{"PA66 33 percent glass", 0.92, 3, 1.5}
	potted    = stuff{"Epoxy potting (filled)", 0.92, 12, 1}
	rubber    = stuff{"EPDM rubber", 0.92, 4, 1.5}
	sheet     = stuff{"Wrought aluminium sheet 1050/3003", 0.94, 2, 1.5}
	foil      = stuff{"Wrought aluminium sheet 1050/3003", 0.15, 0.8, 1.5}
	copper    = stuff{"Copper", 0.92, 3, 1.5}
)

// of gives a part its material and mass.
func of(p *layout.Part, s stuff, massKg float64) *layout.Part {
	p.Material = s.material
	p.Emissivity = new(s.emissivity)
	p.ToleranceMM = s.toleranceMM
	p.MassKg = new(massKg)
	thermalOf(p).ThicknessMM = new(s.wallMM)
	return p
}

func thermalOf(p *layout.Part) *layout.Thermal {
	if p.Thermal == nil {
		p.Thermal = &layout.Thermal{}
	}
	return p.Thermal
}

// held keeps a part at one temperature while driving.
func held(p *layout.Part, heldDegC float64) *layout.Part {
	thermalOf(p).HeldDegC = new(heldDegC)
	return p
}

// cooledOffK: coolant or oil keeps a casting at its temperature within this.
// Invented for the demo; an exhaust's skin is known far worse.
const cooledOffK = 8.0

// cooled keeps a casting at the temperature of its coolant or oil.
func cooled(p *layout.Part, heldDegC float64) *layout.Part {
	held(p, heldDegC).Thermal.HeldOffK = new(cooledOffK)
	return p
}

// stands gives a part its limits.
func stands(p *layout.Part, continuousDegC, peakDegC float64, source string) *layout.Part {
	p.LimitDegC = &layout.Limit{ContinuousDegC: new(continuousDegC), PeakDegC: new(peakDegC), Notes: source}
	return p
}

// side is one side of the car: its name and the sign of its Y.
type side struct {
	name string
	sign float64 // Bare numbers: -1 left, +1 right
}

// sides of the car, left first. Read-only.
var sides = [2]side{{"left", -1}, {"right", 1}}

// at returns a point given for the right side, mirrored to this one.
func (s side) at(xMM, yMM, zMM float64) geom.Vec { return geom.Vec{xMM, s.sign * yMM, zMM} }

// box returns a box given for the right side, mirrored to this one.
func (s side) box(least, most geom.Vec) *mesh.Mesh {
	b := geom.EmptyBox().Grow(s.at(least[0], least[1], least[2])).Grow(s.at(most[0], most[1], most[2]))
	return box(b.Min, b.Max)
}
