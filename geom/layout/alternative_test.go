package layout

import (
	"slices"
	"testing"
)

// TestAlternativesAreFilesOfTheLayout: what is packed, saved elsewhere and
// remembered holds the meshes of alternatives too.
func TestAlternativesAreFilesOfTheLayout(t *testing.T) {
	doc := &Document{Parts: []Part{{Name: "sump", Mesh: "deep.stl", Alternatives: []Alternative{{Name: "a", Mesh: "shallow.stl"}, {Name: "b", Mesh: "deep.stl"}}}}}
	want := []string{"deep.stl", "shallow.stl"}
	if got := doc.Files(); !slices.Equal(got, want) {
		t.Errorf("files %v, want %v", got, want)
	}
	if got := doc.Meshes(); !slices.Equal(got, want) {
		t.Errorf("meshes %v, want %v", got, want)
	}
}
