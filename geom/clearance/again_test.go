package clearance

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene"
	"aftbay/geom/scene/fixture"
)

// TestAgainIsAsAnew walks through random changes of a layout: the rows taken over
// from the run before and those made anew come out as in a run that knows nothing,
// to the last bit and in the same order.
func TestAgainIsAsAnew(t *testing.T) {
	meshes := map[string]*mesh.Mesh{
		"brick.stl": plain.Brick(geom.Vec{}, geom.Vec{100, 80, 60}),
		"sheet.stl": {Verts: []geom.Vec{{0, 0, 0}, {120, 0, 0}, {0, 90, 0}}, Tris: [][3]int32{{0, 1, 2}}},
	}
	doc := &layout.Document{Title: "bricks", Groups: []layout.Group{{Name: "g", Motion: &layout.Motion{ZMM: layout.Range{-4, 4}}}}}
	for i := range 7 {
		p := layout.Part{Name: fmt.Sprint("part ", i), Role: []string{"engine", "exhaust", "hose"}[i%3], Mesh: "brick.stl", MoveMM: geom.Vec{float64(i) * 110, 0, 0}}
		if i == 3 {
			p.Mesh = "sheet.stl"
		}
		if i < 3 {
			p.Group = "g"
		}
		doc.Parts = append(doc.Parts, p)
	}
	doc.Rules = []layout.Rule{{A: "*", B: "*", State: "moving", LeastMM: 10}, {A: "role:engine", B: "*", State: "all together", LeastMM: 8}, {A: "*", B: "*", LeastMM: 5}}
	r := rand.New(rand.NewPCG(11, 3))
	dir := fixture.Folder(t, doc, meshes)
	_, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	var s *scene.Scene
	var prev *Result
	taken := 0
	for step := range 60 {
		next, err := layout.Decode(encoded(t, doc), "")
		if err != nil {
			t.Fatal(err)
		}
		p := &next.Parts[r.IntN(len(next.Parts))]
		switch r.IntN(9) {
		case 0:
			p.ToleranceMM = float64(r.IntN(3))
		case 1:
			next.Joined = append(next.Joined[:0:0], [2]string{"part 0", fmt.Sprint("part ", 1+r.IntN(6))})
		case 2:
			next.Rules[r.IntN(3)].LeastMM = float64(3 + r.IntN(20))
		case 3:
			p.Growth = &layout.Growth{PerK: 1e-5, FromDegC: 20, ToDegC: float64(100 + 100*r.IntN(4))}
		case 4:
			next.Groups[0].Motion.ZMM[1] = float64(r.IntN(9))
		default: // the usual thing: a part is moved
			p.MoveMM = p.MoveMM.Add(geom.Vec{float64(r.IntN(21) - 10), float64(r.IntN(9) - 4), float64(r.IntN(9) - 4)})
		}
		doc = next
		if s, err = scene.Build(t.Context(), doc, folder, s, scene.Options{}); err != nil {
			t.Fatal(err)
		}
		want := run(t, s, Options{Workers: 1})
		got := run(t, s, Options{Workers: 1 + step%3, Prev: prev})
		if prev != nil {
			c, err := newCheck(t.Context(), s, Options{Prev: prev})
			if err != nil {
				t.Fatal(err)
			}
			m, again := c.plan()
			taken += len(m.jobs) - len(c.changed(m, again))
		}
		a, errA := json.Marshal(want)
		b, errB := json.Marshal(got)
		if errA != nil || errB != nil || string(a) != string(b) {
			t.Fatalf("step %d: not as anew:\n%s\n%s", step, b, a)
		}
		prev = got
		if step%4 == 3 { // what was left out of a brief run is filled in by the next
			prev = run(t, s, Options{Brief: true, Prev: prev})
		}
	}
	if taken < 200 {
		t.Errorf("only %d pairs were taken over: the test proves little", taken)
	}
}

func encoded(t *testing.T, doc *layout.Document) []byte {
	t.Helper()
	data, err := layout.Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestBriefTellsTheSameVerdicts: a brief run leaves out volumes and ways out only;
// a full one after it has them.
func TestBriefTellsTheSameVerdicts(t *testing.T) {
	meshes := map[string]*mesh.Mesh{"brick.stl": plain.Brick(geom.Vec{}, geom.Vec{100, 80, 60})}
	doc := &layout.Document{Title: "two", Parts: []layout.Part{
		{Name: "a", Role: "engine", Mesh: "brick.stl"}, {Name: "b", Role: "body", Mesh: "brick.stl", MoveMM: geom.Vec{90, 0, 0}},
	}, Rules: []layout.Rule{{A: "*", B: "*", LeastMM: 5}}}
	s := fixture.Scene(t, doc, meshes)
	full, brief := run(t, s, Options{}), run(t, s, Options{Brief: true})
	f, b := full.Pairs[0], brief.Pairs[0]
	if f.ClearanceMM != -10 || b.ClearanceMM != f.ClearanceMM || b.Verdict != f.Verdict || len(b.Notes) > 0 {
		t.Errorf("%+v, brief %+v", f, b)
	}
	if b.MoveOutMM != nil || b.OverlapVolumeMM3 != nil || f.MoveOutMM == nil || f.OverlapVolumeMM3 == nil {
		t.Error("a brief run leaves out volume and way out, and only it")
	}
	again := run(t, s, Options{Prev: brief}).Pairs[0]
	if again.MoveOutMM == nil || again.OverlapVolumeMM3 == nil || again.ChordErrorMM == nil || b.ChordErrorMM != nil {
		t.Error("the run after a brief one has all again")
	}
}
