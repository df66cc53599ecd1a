package drop

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mounts"
	"aftbay/geom/scene/fixture"
)

// referenceCase is one closed-form case of testdata/reference/vehicle_open.json;
// sources and tolerances stand in that file.
type referenceCase struct {
	vehicleCase
	Group string `json:"group"`
	Kind  string `json:"kind"`
}

// TestReferenceCases exercises every case of the groups drop and mass and of
// the kind mounts: a case without a check here fails.
func TestReferenceCases(t *testing.T) {
	checks := map[string]func(t *testing.T, c vehicleCase){
		"overhang_angle": overhangCase, "breakover": breakoverCase, "under_axle": underAxleCase, "attitude": attitudeCase,
		"crank_height": crankCase, "halfshaft": halfShaftCase, "max_drop": mostDropCase, "bore_alignment": boreCase,
		"cg_shift": gravityCase, "load_transfer": transferCase, "ssf": stabilityCase, "mounts": mountsCase,
	}
	data, err := os.ReadFile("../../testdata/reference/vehicle_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []referenceCase }
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	done := map[string]bool{}
	for _, c := range file.Cases {
		if c.Group != "drop" && c.Group != "mass" && c.Kind != "mounts" {
			continue
		}
		check, known := checks[c.Kind]
		if !known {
			t.Errorf("case %s of kind %s is exercised by no test", c.ID, c.Kind)
			continue
		}
		done[c.Kind] = true
		t.Run(c.ID, func(t *testing.T) { check(t, c.vehicleCase) })
	}
	for kind := range checks {
		if !done[kind] {
			t.Errorf("no case of kind %s in the file", kind)
		}
	}
}

func overhangCase(t *testing.T, c vehicleCase) {
	r, a, h := c.num(t, "R"), c.num(t, "a"), c.num(t, "h")
	c.check(t, "exact_deg", TangentRad(r, a, h)*deg)
	c.check(t, "contact_point_deg", ContactRad(a, h)*deg)
	departure := departureOf(&layout.Vehicle{RearAxleMM: geom.Vec{2600, 0, 0}, TyreRadiusMM: r})
	c.check(t, "exact_deg", departure.tangentRad(point2{2600 + a, h})*deg)
	c.check(t, "contact_point_deg", departure.contactRad(point2{2600 + a, h})*deg)
}

func breakoverCase(t *testing.T, c vehicleCase) {
	v := &layout.Vehicle{RearAxleMM: geom.Vec{c.num(t, "wheelbase"), 0, 0}, TyreRadiusMM: c.num(t, "R")}
	ramp, at := rampOf(v), point2{c.num(t, "x"), c.num(t, "h")}
	if at[0] < ramp.fromMM || at[0] > ramp.toMM {
		t.Fatal("a point between the axles must count")
	}
	c.check(t, "exact_deg", ramp.tangentRad(at)*deg)
	c.check(t, "contact_point_deg", ramp.contactRad(at)*deg)
}

func underAxleCase(t *testing.T, c vehicleCase) {
	contactMM, yMM, zMM := c.num(t, "c"), c.num(t, "y0"), c.num(t, "z0")
	c.check(t, "apex", ArcApexMM(contactMM, yMM, zMM))
	c.check(t, "apex", ArcApexMM(contactMM, -yMM, zMM))
}

func attitudeCase(t *testing.T, c vehicleCase) {
	v := &layout.Vehicle{RearAxleMM: geom.Vec{c.num(t, "wheelbase"), 0, 0}}
	road := NewRoad(v, layout.Attitude{FrontDownMM: c.num(t, "dz_front"), RearDownMM: c.num(t, "dz_rear")})
	p := geom.Vec{c.num(t, "x"), 0, c.num(t, "z")}
	c.check(t, "vertical", road.VerticalMM(p))
	c.check(t, "perpendicular", road.HeightMM(p))
}

// crankCase lowers a clutch housing to the ground gap, then exchanges it for a
// smaller one: crank height and gain come out of the whole study.
func crankCase(t *testing.T, c vehicleCase) {
	groundMM := c.num(t, "ground")
	study := func(radiusMM float64) *Result {
		const crankZMM = 300
		doc := &layout.Document{
			Parts:   []layout.Part{{Name: "housing", Role: "transaxle", Mesh: "h.stl", Group: "powertrain"}},
			Drop:    &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 200}, CrankMM: &geom.Vec{2000, 0, crankZMM}},
			Vehicle: &layout.Vehicle{Attitudes: []layout.Attitude{{Name: "design", LeastGroundMM: &groundMM}}},
		}
		return lowest(t, fixture.Scene(t, doc, map[string]*mesh.Mesh{"h.stl": drum(geom.Vec{2000, 0, crankZMM}, radiusMM)}))
	}
	end := func(r *Result) Point { return r.At(r.WindowMM[1]) }
	loose := vehicleCase{ID: c.ID, Expected: c.Expected}
	loose.Tolerance.Absolute = 1e-4 // the mesh file holds float32
	loose.check(t, "z_crank", *end(study(c.num(t, "housing_radius"))).CrankMM)
	was, is := study(c.num(t, "clutch_d_old")/2), study(c.num(t, "clutch_d_new")/2)
	loose.check(t, "drop_gain", is.WindowMM[1]-was.WindowMM[1])
}

// drum is a cylinder along X with a corner straight below.
func drum(centre geom.Vec, radiusMM float64) *mesh.Mesh {
	const sides = 64
	var m mesh.Mesh
	for i := range sides {
		sin, cos := math.Sincos(2*math.Pi*float64(i)/sides - math.Pi/2)
		for _, xMM := range []float64{-50, 50} {
			m.Verts = append(m.Verts, centre.Add(geom.Vec{xMM, radiusMM * cos, radiusMM * sin}))
		}
	}
	at := func(i, end int) int32 { return int32(2*(i%sides) + end) }
	for i := range sides {
		m.Tris = append(m.Tris,
			[3]int32{at(i, 0), at(i+1, 0), at(i, 1)}, [3]int32{at(i+1, 0), at(i+1, 1), at(i, 1)})
		if i > 1 {
			m.Tris = append(m.Tris, [3]int32{at(0, 0), at(i, 0), at(i-1, 0)}, [3]int32{at(0, 1), at(i-1, 1), at(i, 1)})
		}
	}
	return &m
}

// halfShaftCase checks angles and joint distances at the listed travels. The
// file's plunge range covers those three positions only; the stroke over the
// whole travel is larger, since the joints pass level between two of them.
func halfShaftCase(t *testing.T, c vehicleCase) {
	s := shaft{layout.HalfShaft{InnerMM: c.vec(t, "flange"), OuterMM: c.vec(t, "wheel"), ReboundMM: 60, BumpMM: 70}, true}
	shift := geom.Vec{0, 0, -c.num(t, "drop")}
	angles, lengths := c.Expected["angles_deg"].([]any), c.Expected["lengths"].([]any)
	least, most := math.Inf(1), math.Inf(-1)
	for i, travel := range c.Inputs["travel"].([]any) {
		for _, e := range []end{inner, outer} {
			c.near(t, "angle", s.angleRad(e, shift, travel.(float64))*deg, angles[i].(float64))
		}
		l := s.lengthMM(shift, travel.(float64))
		c.near(t, "length", l, lengths[i].(float64))
		least, most = math.Min(least, l), math.Max(most, l)
	}
	c.check(t, "plunge_range", most-least)
	if got, dense := s.strokeMM(shift), denseStroke(s, shift); math.Abs(got-dense) > 1e-6 || got <= most-least {
		t.Errorf("stroke %.6f over the whole travel, densely sampled %.6f, three positions %.6f", got, dense, most-least)
	}
	all := s.anglesAt(shift)
	c.near(t, "rebound", all.ReboundDeg, angles[0].(float64))
	c.near(t, "static", all.StaticDeg, angles[1].(float64))
	c.near(t, "bump", all.BumpDeg, angles[2].(float64))
}

func mostDropCase(t *testing.T, c vehicleCase) {
	s := shaft{layout.HalfShaft{OuterMM: geom.Vec{c.num(t, "dx"), c.num(t, "dy"), c.num(t, "dz_static")}, BumpMM: c.num(t, "bump")}, true}
	w := s.angleWindow(inner, s.BumpMM, c.num(t, "limit_deg")/deg, geom.Vec{}, Window{0, 80})
	if len(w) != 1 || w[0][0] != 0 {
		t.Fatalf("windows %v", w)
	}
	c.check(t, "drop", w[0][1])
}

func boreCase(t *testing.T, c vehicleCase) {
	offsetMM, angleRad := Runout(c.num(t, "bore_tir"), c.num(t, "face_tir"), c.num(t, "diameter"))
	c.check(t, "parallel_offset", offsetMM)
	c.check(t, "angle_mrad", angleRad*1000)
	c.check(t, "offset_at_length", c.num(t, "length")*math.Tan(angleRad))
	// The reading of axes that are off by just that is what went in.
	axis := geom.Vec{math.Cos(angleRad), 0, math.Sin(angleRad)}
	l := shaftLine{ShaftLine: layout.ShaftLine{InputMM: geom.Vec{0, offsetMM, 0}, InputAxis: &axis}}
	r := l.reading(geom.Vec{})
	c.near(t, "bore reading", r.BoreRunoutMM, c.num(t, "bore_tir"))
	c.near(t, "face reading", r.FaceRunoutMM, c.num(t, "face_tir"))
	if b, f, d := l.mostMM(); b != c.num(t, "bore_tir") || f != c.num(t, "face_tir") || d != c.num(t, "diameter") {
		t.Errorf("limits without a word in the layout: %g, %g at %g", b, f, d)
	}
}

func gravityCase(t *testing.T, c vehicleCase) {
	cg := CGAt(geom.Vec{c.num(t, "x_cg"), 0, c.num(t, "z_cg")}, c.num(t, "m_total"), c.num(t, "m_part"), geom.Vec{c.num(t, "dx"), 0, -c.num(t, "drop")})
	c.check(t, "z_new", cg[2])
	c.check(t, "x_new", cg[0])
}

func transferCase(t *testing.T, c vehicleCase) {
	got := LoadTransferN(c.num(t, "m"), c.num(t, "ay_g"), c.num(t, "h"), c.num(t, "t"))
	c.check(t, "transfer_N", got)
	c.check(t, "share_of_weight", got/(c.num(t, "m")*gravityMS2))
}

func stabilityCase(t *testing.T, c vehicleCase) {
	c.check(t, "ssf", StabilityFactor(c.num(t, "t"), c.num(t, "h")))
}

// mountsCase splits each mount of the case in two before and behind, which
// leaves its equations as they are and holds the pitch.
func mountsCase(t *testing.T, c vehicleCase) {
	b := mounts.Body{MassKg: c.num(t, "m")}
	for _, m := range c.Inputs["mounts"].([]any) {
		m := m.(map[string]any)
		for _, xMM := range []float64{-150, 150} {
			b.Mounts = append(b.Mounts, mounts.Mount{At: geom.Vec{xMM, m["y"].(float64), 0}, Stiffness: geom.Vec{100, 80, m["kz"].(float64) / 2}})
		}
	}
	got, err := b.Under(mounts.Load{G: geom.Vec{0, 0, c.num(t, "n")}, TorqueNm: geom.Vec{c.num(t, "torque_Nm")}})
	if err != nil {
		t.Fatal(err)
	}
	c.check(t, "z_disp", got.ShiftMM[2])
	c.check(t, "roll_deg", got.TurnRad[0]*deg)
}
