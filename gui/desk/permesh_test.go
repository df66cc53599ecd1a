package desk

import (
	"fmt"
	"runtime"
	"testing"
	"weak"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// reshape edits the line of a hose, so that it gets another mesh.
func reshape(t *testing.T, d *Desk, edit int) {
	t.Helper()
	must(t, d.Edit(fmt.Sprintf("reshape %d", edit), func(doc *layout.Document) error {
		to := 400 + float64(edit%100)
		doc.Routes = []layout.Route{{
			Name: "hose", Role: "hose", DiameterMM: 20, BendRadiusMM: 60,
			PointsMM: []geom.Vec{{1500, -400, 300}, {1700, -400, 300}, {1700, -400, to}},
		}}
		return nil
	}))
}

// held counts what is still in memory.
func held[T any](all []weak.Pointer[T]) (n int) {
	for _, one := range all {
		if one.Value() != nil {
			n++
		}
	}
	return n
}

// Edits, each with its picture and a pick, some with all answers, each to be
// taken back: of all those scenes and meshes only a few may be held, else
// memory grows as long as someone works.
func TestOldScenesAndMeshesAreLetGo(t *testing.T) {
	d, painter, ends := opened(t), NewPainter(), NewEnds()
	const edits, settles = 200, 20
	scenes, meshes := make([]weak.Pointer[scene.Scene], edits), make([]weak.Pointer[mesh.Mesh], edits)
	var results []weak.Pointer[balance.Result]
	for i := range edits {
		reshape(t, d, i)
		if i%settles == 0 {
			wait(t, d)
			s := d.State()
			painter.Picture(&s, &Attention{Page: Heats})
			results = append(results, weak.Make(s.Answers.Heat.Value))
		}
		s := d.State()
		pic := painter.Picture(&s, &Attention{Page: Question(i % 6)})
		at, ok := s.Scene.Index("hose")
		if !ok {
			t.Fatal("no hose")
		}
		m := s.Scene.Parts[at].Mesh
		if _, _, err := ends.face(&pic, m, 0, layout.MeasuredEnd{Part: "hose"}); err != nil {
			t.Fatal(err)
		}
		scenes[i], meshes[i] = weak.Make(s.Scene), weak.Make(m)
	}
	wait(t, d)
	if n := len(d.history.Past); n < edits {
		t.Fatalf("%d edits can be taken back, of %d", n, edits)
	}
	runtime.GC()
	runtime.GC() // what had pools or finalizers goes in the second
	t.Logf("held: %d scenes, %d meshes, %d of %d temperature results", held(scenes), held(meshes), held(results), len(results))
	// As opened, as compared with, as shown, as answered last by jobs that have
	// something to wait for, as painted: ten are plenty.
	const most = 10
	if n := held(scenes); n > most {
		t.Errorf("%d scenes of %d are held, want at most %d", n, edits, most)
	}
	if n := held(meshes); n > most {
		t.Errorf("%d meshes of %d are held, want at most %d", n, edits, most)
	}
	// As opened, as answered last, and the one before it.
	const mostResults = 3
	if n := held(results); n > mostResults {
		t.Errorf("%d temperature results of %d are held, want at most %d", n, len(results), mostResults)
	}
	runtime.KeepAlive(d)
	runtime.KeepAlive(painter)
	runtime.KeepAlive(ends)
}

// What is shown stays known from one picture to the next, what is not shown any
// more is forgotten.
func TestPerMeshForgets(t *testing.T) {
	var m perMesh[int]
	worked := 0
	work := func(*mesh.Mesh) int { worked++; return worked }
	stays, goes := &mesh.Mesh{}, &mesh.Mesh{}
	m.made(goes, work)
	for range 5 {
		m.turn()
		m.made(stays, work)
		m.made(stays, work)
	}
	if worked != 2 {
		t.Errorf("worked out %d times for two meshes", worked)
	}
	if _, known := m.of(goes); known {
		t.Error("what is not shown any more is known still")
	}
	if v, known := m.of(stays); !known || v != 2 {
		t.Errorf("what is shown: %d, %v", v, known)
	}
}
