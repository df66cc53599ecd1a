package desk

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
)

// writePlain writes a layout without studies into a folder.
func writePlain(t testing.TB, dir string) string {
	t.Helper()
	for name, m := range map[string]*mesh.Mesh{
		"block.stl": plain.Brick(geom.Vec{1500, -200, 230}, geom.Vec{1900, 200, 600}),
		"tray.stl":  plain.Brick(geom.Vec{1400, -300, 190}, geom.Vec{2000, 300, 200}),
		"lid.stl":   plain.Brick(geom.Vec{1400, -300, 612}, geom.Vec{2000, 300, 620}),
	} {
		var buf bytes.Buffer
		must(t, m.WriteSTL(&buf, name))
		must(t, os.WriteFile(filepath.Join(dir, name), buf.Bytes(), 0o644))
	}
	must(t, layout.Save(dir, &layout.Document{
		Format: layout.Format, Version: layout.Version, Title: "Plain",
		Parts: []layout.Part{
			{Name: "block", Role: "engine", Mesh: "block.stl", Group: "powertrain"},
			{Name: "tray", Role: "tray", Mesh: "tray.stl"},
			{Name: "lid", Role: "cover", Mesh: "lid.stl"},
		},
		Groups: []layout.Group{{Name: "powertrain", PivotMM: geom.Vec{1700, 0, 400}}},
	}))
	return dir
}
