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
	"aftbay/geom/scene"
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
			t.refuse(NearGround, r.leastMM-heightMM, "%.1f mm over the ground, %s; %g needed", heightMM, r.name, r.leastMM)
			return
		}
	}
}

const (
	// toolSides makes the tool's prism, drawn around the circle, at most
	// 0.03 % wider than it.
	toolSides = 128
	// pullMM is how far past its own height the component is pulled off.
	pullMM = 20 // common practice, no source
)

// toolShape returns the cylinder of a tool, standing on the component's top
// over the middle of its foot, in the component's frame.
func toolShape(t *layout.Tool, middle geom.Vec, topMM float64) *scene.Shape {
	radiusMM := t.DiameterMM / 2 / math.Cos(math.Pi/toolSides)
	m := &mesh.Mesh{Verts: []geom.Vec{{middle[0], middle[1], topMM}, {middle[0], middle[1], topMM + t.LengthMM}}}
	for i := range toolSides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / toolSides)
		rim := geom.Vec{middle[0] + radiusMM*cos, middle[1] + radiusMM*sin, topMM}
		m.Verts = append(m.Verts, rim, rim.Add(geom.Vec{0, 0, t.LengthMM}))
	}
	for i := range int32(toolSides) {
		a, b := 2+2*i, 2+2*((i+1)%toolSides)
		m.Tris = append(m.Tris, [3]int32{0, b, a}, [3]int32{1, a + 1, b + 1}, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1})
	}
	return &scene.Shape{Mesh: m, Tree: bvh.Build(m), Closed: true}
}

// reached tests that the tool gets in and the component comes off.
func (st *study) reached(ctx context.Context, t *trial) error {
	if st.tool != nil {
		if err := st.tooled(ctx, t); err != nil || t.reason != "" {
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

// tooled tests that no part reaches into the tool's cylinder.
func (st *study) tooled(ctx context.Context, t *trial) error {
	tool := dist.Body{Tree: st.tool.Tree, Pose: t.pose, Closed: true}
	box := posedBox(tool)
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if !st.inTheWay(i) || box.GapMM(p.Box) > 0 {
			continue
		}
		r, err := dist.Between(ctx, tool, st.scene.Body(i), dist.Options{EnoughMM: touchMM})
		if err != nil {
			return err
		}
		if r.Overlap {
			t.refuse(NoTool, 0, "%s stands in the tool's way", p.Name)
			return nil
		}
	}
	return nil
}

func posedBox(b dist.Body) geom.Box {
	box := geom.EmptyBox()
	for _, c := range b.Tree.Box().Corners() {
		box = box.Grow(b.Pose.Point(c))
	}
	return box
}

// pulled tests that the component comes off straight along the normal, by its
// own height and a bit. Its way is swept, not sampled.
func (st *study) pulled(ctx context.Context, t *trial) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	own := st.component.Tree.Box()
	wayMM := own.Max[2] - math.Min(own.Min[2], 0) + pullMM
	swept := own
	swept.Max[2] += wayMM
	way := geom.EmptyBox()
	for _, c := range swept.Corners() {
		way = way.Grow(t.pose.Point(c))
	}
	// The component's own frame, so that the pull is a shift along Z.
	body := dist.Body{Tree: st.component.Tree, Pose: geom.Identity(), Closed: st.component.Closed}
	back := t.pose.Inverse()
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if !st.inTheWay(i) || way.GapMM(p.Box) > 0 {
			continue
		}
		move := dist.Sweep{Shift: geom.Box{Max: geom.Vec{0, 0, wayMM}}}
		if i == t.host {
			move.Shift.Min[2] = liftMM
		}
		other := dist.Body{Tree: p.Tree, Pose: back.After(p.Pose), Closed: p.Closed}
		if meets(body, other, move) {
			freeMM := firstMM(body, other, move)
			t.refuse(NoRemoval, wayMM-freeMM, "%s is in the way after %.0f mm of %.0f", p.Name, freeMM, wayMM)
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
