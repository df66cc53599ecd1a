package spot

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/dist"
	"aftbay/geom/drop"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// roadAbove is the ground in one attitude and the height wanted over it.
type roadAbove struct {
	drop.Road
	name    string
	leastMM float64
}

// roadsOf returns the ground in every attitude of the vehicle; as it stands
// where none is given; nothing without a vehicle.
func roadsOf(v *layout.Vehicle) []roadAbove {
	if v == nil {
		return nil
	}
	if len(v.Attitudes) == 0 {
		return []roadAbove{{Road: drop.NewRoad(v, layout.Attitude{}), name: "design"}}
	}
	var out []roadAbove
	for _, a := range v.Attitudes {
		r := roadAbove{Road: drop.NewRoad(v, a), name: a.Name}
		if a.LeastGroundMM != nil {
			r.leastMM = *a.LeastGroundMM
		}
		out = append(out, r)
	}
	return out
}

// grounds tests the height over the ground in every attitude.
func (st *study) grounds(t *trial) {
	for _, r := range st.roads {
		heightMM := math.Inf(1)
		for _, v := range st.component.Mesh.Verts {
			heightMM = math.Min(heightMM, r.HeightMM(t.pose.Point(v)))
		}
		if heightMM < r.leastMM {
			t.refuse(NearGround, r.leastMM-heightMM, say.F("%.1f mm over the ground, %s; %g needed", heightMM, r.name, r.leastMM))
			return
		}
	}
}

const (
	// toolSides makes the tool's prism, drawn inside the circle, at most 0.01 %
	// narrower than it: a tool passes a hole of its own diameter.
	toolSides = 256
	// pullMM is how far past its own height the component is pulled off.
	pullMM = 20 // common practice, no source
	// handleMM is how thick the handle of a tool is; swingStepDeg is between the
	// angles from which it may start; usualSwingDeg is how far it must turn
	// where nothing is said: a flat spanner on a hexagon. Common practice, no
	// source.
	handleMM      = 20
	swingStepDeg  = 15
	usualSwingDeg = 60
	// The tool's core lies inside it by coreMM and more: what meets the core
	// surely stands in the way, which is quickly found.
	coreMM    = 0.05
	coreSides = 48
)

// readTool makes the shapes of the tool: its cylinder, standing on the component
// or where it is told to, and what its handle sweeps from every angle.
func (st *study) readTool(t *layout.Tool) {
	tip := geom.Vec{st.foot.middle[0], st.foot.middle[1], st.component.Mesh.Box().Max[2]}
	if t.AtMM != nil {
		tip = *t.AtMM
	}
	st.toolOnAxis = math.Hypot(tip[0], tip[1]) < touchMM/10
	tool := sector{middle: tip, radiusMM: t.DiameterMM / 2, highMM: t.LengthMM, turnRad: 2 * math.Pi, sides: toolSides}
	st.tool = sectorShape(tool)
	if tool.radiusMM > 2*coreMM && tool.highMM > 2*coreMM {
		tool.middle[2] += coreMM
		tool.radiusMM, tool.highMM, tool.sides = tool.radiusMM-coreMM, tool.highMM-2*coreMM, coreSides
		st.core = sectorShape(tool)
	}
	if t.SwingMM == nil {
		return
	}
	turnRad := units.Rad(usualSwingDeg)
	if t.SwingDeg != nil {
		turnRad = units.Rad(*t.SwingDeg)
	}
	end := tip.Add(geom.Vec{0, 0, math.Max(0, t.LengthMM-handleMM)})
	full := sector{middle: end, radiusMM: *t.SwingMM, highMM: math.Min(handleMM, t.LengthMM), turnRad: turnRad, sides: int(math.Ceil(turnRad/units.Rad(2))) + 1}
	for fromDeg := 0; fromDeg < 360; fromDeg += swingStepDeg {
		full.fromRad = units.Rad(float64(fromDeg))
		st.swings = append(st.swings, sectorShape(full))
	}
}

// sector is a slice of a cylinder that stands along Z on its middle; the whole
// cylinder where it turns all around.
type sector struct {
	middle                             geom.Vec
	radiusMM, highMM, fromRad, turnRad float64
	sides                              int
}

// sectorShape returns the closed shape of a sector.
func sectorShape(s sector) *scene.Shape {
	top := geom.Vec{0, 0, s.highMM}
	m := &mesh.Mesh{Verts: []geom.Vec{s.middle, s.middle.Add(top)}}
	whole := s.turnRad >= 2*math.Pi
	rims := s.sides + 1
	if whole {
		rims = s.sides
	}
	for i := range rims {
		sin, cos := math.Sincos(s.fromRad + s.turnRad*float64(i)/float64(s.sides))
		rim := s.middle.Add(geom.Vec{s.radiusMM * cos, s.radiusMM * sin, 0})
		m.Verts = append(m.Verts, rim, rim.Add(top))
	}
	for i := range s.sides {
		a, b := int32(2+2*i), int32(2+2*((i+1)%rims))
		m.Tris = append(m.Tris, [3]int32{0, b, a}, [3]int32{1, a + 1, b + 1}, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1})
	}
	if !whole { // the two cut faces
		z := int32(2 + 2*s.sides)
		m.Tris = append(m.Tris, [3]int32{0, 2, 3}, [3]int32{0, 3, 1}, [3]int32{0, 1, z + 1}, [3]int32{0, z + 1, z})
	}
	return &scene.Shape{Mesh: m, Tree: bvh.Build(m), Closed: true}
}

// reached tests that the tool gets in and the component comes off.
func (st *study) reached(ctx context.Context, t *trial, of *turned) error {
	if st.tool != nil {
		if err := st.tooled(ctx, t, of); err != nil || t.reason != "" {
			return err
		}
	}
	return st.pulled(ctx, t)
}

// inTheWay reports whether a part is there when the component is worked on:
// drawings are not, a deck is open.
func (st *study) inTheWay(i int) bool {
	role := st.scene.Parts[i].Role
	return i != st.replaced && !drawn(role) && role != "deck"
}

// tooled tests that no part reaches into the tool's cylinder, and that its
// handle can turn somewhere.
func (st *study) tooled(ctx context.Context, t *trial, of *turned) error {
	if of.tool == nil || !st.toolOnAxis {
		by, err := st.stopper(ctx, t, st.tool)
		if err != nil {
			return err
		}
		of.tool = &by
	}
	if by := *of.tool; by >= 0 {
		t.refuse(NoTool, 0, say.F("%s stands in the tool's way", st.scene.Parts[by].Name))
		return nil
	}
	return st.swung(ctx, t)
}

// swung tests that the handle can turn as far as it must from some angle.
func (st *study) swung(ctx context.Context, t *trial) error {
	if len(st.swings) == 0 {
		return nil
	}
	first := -1
	for _, swing := range st.swings {
		by, err := st.stopper(ctx, t, swing)
		if err != nil || by < 0 {
			return err
		}
		if first < 0 {
			first = by
		}
	}
	t.refuse(NoSwing, 0, say.F("nowhere can the handle turn far enough, %s is in the way first", st.scene.Parts[first].Name))
	return nil
}

// stopper returns a part that reaches into a shape in the component's frame, −1
// where there is none.
func (st *study) stopper(ctx context.Context, t *trial, shape *scene.Shape) (int, error) {
	body := dist.Body{Tree: shape.Tree, Pose: t.pose, Closed: true}
	box := posedBox(body)
	if shape == st.tool && st.core != nil {
		core := dist.Body{Tree: st.core.Tree, Pose: t.pose, Closed: true}
		for i := range st.scene.Parts {
			if st.inTheWay(i) && box.GapMM(st.scene.Parts[i].Box) <= 0 && meets(core, st.scene.Body(i), dist.Sweep{}) {
				return i, nil
			}
		}
	}
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if !st.inTheWay(i) || box.GapMM(p.Box) > 0 {
			continue
		}
		r, err := dist.Between(ctx, body, st.scene.Body(i), dist.Options{EnoughMM: touchMM})
		if err != nil {
			return -1, err
		}
		if r.Overlap {
			return i, nil
		}
	}
	return -1, nil
}

func posedBox(b dist.Body) geom.Box {
	box := geom.EmptyBox()
	for _, c := range b.Tree.Box().Corners() {
		box = box.Grow(b.Pose.Point(c))
	}
	return box
}

// pull is the way on which a component comes off, in a frame whose Z is along
// it, so that it is a shift along Z.
type pull struct {
	frame, back geom.Pose // back: vehicle frame to that frame
	body        dist.Body
	wayMM       float64
}

// pullOf returns the way along the normal, or the direction given, by the
// component's own height and a bit.
func (st *study) pullOf(pose geom.Pose) pull {
	p := pull{frame: pose}
	if along := st.layout.Pull; along != nil {
		p.frame = poseAt(place{point: pose.T, normal: along.Normalize()}, 0, firstTurns)
	}
	p.back = p.frame.Inverse()
	p.body = dist.Body{Tree: st.component.Tree, Pose: p.back.After(pose), Closed: st.component.Closed}
	own := posedBox(p.body)
	p.wayMM = own.Max[2] - math.Min(own.Min[2], 0) + pullMM
	return p
}

// box returns the vehicle box of the whole way.
func (p *pull) box() geom.Box {
	swept := posedBox(p.body)
	swept.Max[2] += p.wayMM
	way := geom.EmptyBox()
	for _, c := range swept.Corners() {
		way = way.Grow(p.frame.Point(c))
	}
	return way
}

// pulled tests that the component comes off straight. Its way is swept, not
// sampled.
func (st *study) pulled(ctx context.Context, t *trial) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	pull := st.pullOf(t.pose)
	way := pull.box()
	move := dist.Sweep{Shift: geom.Box{Max: geom.Vec{0, 0, pull.wayMM}}}
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if !st.inTheWay(i) || way.GapMM(p.Box) > 0 {
			continue
		}
		body := pull.body
		if i == t.host {
			body.Pose.T = body.Pose.T.Add(pull.back.Dir(t.normal.Mul(liftMM)))
		}
		other := dist.Body{Tree: p.Tree, Pose: pull.back.After(p.Pose), Closed: p.Closed}
		if meets(body, other, move) {
			freeMM := firstMM(body, other, move)
			t.refuse(NoRemoval, pull.wayMM-freeMM, say.F("%s is in the way after %.0f mm of %.0f", p.Name, freeMM, pull.wayMM))
			return nil
		}
	}
	return nil
}

// meets reports whether the surfaces touch somewhere on a straight way.
func meets(body, other dist.Body, move dist.Sweep) bool {
	r := dist.Swept(body, other, move, touchMM)
	return !r.AtLeast && r.GapMM <= 0
}

// halvings finds the first contact to a thousandth of the way.
const halvings = 10

// firstMM returns how far along Z the body gets before it meets the other one.
func firstMM(body, other dist.Body, move dist.Sweep) float64 {
	freeMM, metMM := move.Shift.Min[2], move.Shift.Max[2]
	for range halvings {
		move.Shift.Max[2] = (freeMM + metMM) / 2
		if meets(body, other, move) {
			metMM = move.Shift.Max[2]
		} else {
			freeMM = move.Shift.Max[2]
		}
	}
	return metMM
}
