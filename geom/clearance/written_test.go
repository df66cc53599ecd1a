package clearance

import (
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
)

// TestWrittenOutRulesChangeNothingAndCanBeEdited: same verdicts, the copy wins
// once it is changed, and writing out twice adds nothing.
func TestWrittenOutRulesChangeNothingAndCanBeEdited(t *testing.T) {
	doc := &layout.Document{Parts: []layout.Part{
		{Name: "pipe", Role: "exhaust", Mesh: "a.stl"},
		{Name: "tank", Role: "fuel", Mesh: "a.stl", MoveMM: geom.Vec{0, 0, 55}},
	}}
	meshes := map[string]*mesh.Mesh{"a.stl": plain.Brick(geom.Vec{}, geom.Vec{10, 10, 10})}
	const id = "pipe ~ tank @ static"
	before := find(t, run(t, fixture.Scene(t, doc, meshes), Options{}), id)
	doc.Rules = WrittenOut(doc)
	after := find(t, run(t, fixture.Scene(t, doc, meshes), Options{}), id)
	if before.Verdict != Short || after.Verdict != before.Verdict || *after.LeastMM != *before.LeastMM || after.Source != before.Source {
		t.Errorf("before %s %v, written out %s %v", before.Verdict, before.LeastMM, after.Verdict, after.LeastMM)
	}
	if again := WrittenOut(doc); len(again) != len(doc.Rules) {
		t.Errorf("written out twice: %d rules, then %d", len(doc.Rules), len(again))
	}
	for i := range doc.Rules {
		doc.Rules[i].LeastMM = 1
	}
	if edited := find(t, run(t, fixture.Scene(t, doc, meshes), Options{}), id); edited.Verdict == Short || *edited.LeastMM != 1 {
		t.Errorf("the edited copy must win: %s, least %v", edited.Verdict, *edited.LeastMM)
	}
}
