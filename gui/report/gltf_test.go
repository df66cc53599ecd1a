package report

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"math"
	"testing"
)

// glb is what of a file the specification's rules are checked on.
type glb struct {
	Asset          struct{ Version string }
	ExtensionsUsed []string
	Extensions     map[string]struct{ Variants []struct{ Name string } }
	Scene          int
	Scenes         []struct{ Nodes []int }
	Nodes          []struct {
		Name   string
		Mesh   int
		Extras map[string]any
	}
	Meshes []struct {
		Primitives []struct {
			Attributes map[string]int
			Indices    int
			Material   int
			Extensions map[string]struct {
				Mappings []struct {
					Material int
					Variants []int
				}
			}
		}
	}
	Materials []struct {
		AlphaMode            string
		PbrMetallicRoughness struct{ BaseColorFactor []float64 }
	}
	Accessors []struct {
		BufferView, ComponentType, Count int
		Type                             string
		Min, Max                         []float64
	}
	BufferViews []struct{ Buffer, ByteOffset, ByteLength, Target int }
	Buffers     []struct{ ByteLength int }
}

// TestGLBKeepsTheRules checks the file against glTF 2.0: 4.4 (binary form), 3.6
// (buffers, accessors, their ends), 3.7 (meshes). Corners must be the model's,
// turned into metres and +Y up.
func TestGLBKeepsTheRules(t *testing.T) {
	m := richModel()
	m.Scene = sampleScene()
	var out, again bytes.Buffer
	if err := errors.Join(WriteGLB(&out, m), WriteGLB(&again, m)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Fatal("the same model gives two files")
	}
	data := out.Bytes()
	word := func(at int) int { return int(binary.LittleEndian.Uint32(data[at:])) }
	if word(0) != gltfMagic || word(4) != 2 || word(8) != len(data) || word(16) != chunkJSON || word(12)%4 != 0 {
		t.Fatalf("head: % x", data[:20])
	}
	var g glb
	if err := json.Unmarshal(data[20:20+word(12)], &g); err != nil {
		t.Fatal(err)
	}
	start := 20 + word(12)
	if word(start+4) != chunkBin || word(start)%4 != 0 || start+8+word(start) != len(data) || word(start) != g.Buffers[0].ByteLength {
		t.Fatal("the second chunk does not fill the file")
	}
	bin := data[start+8:]
	for i, v := range g.BufferViews {
		if v.ByteOffset%4 != 0 || v.ByteOffset+v.ByteLength > len(bin) || v.Buffer != 0 {
			t.Errorf("view %d: %+v", i, v)
		}
	}
	read := func(accessor, k int) uint32 {
		return binary.LittleEndian.Uint32(bin[g.BufferViews[g.Accessors[accessor].BufferView].ByteOffset+4*k:])
	}
	for i, n := range g.Nodes {
		o := &m.Scene.Bodies[i]
		p := g.Meshes[n.Mesh].Primitives[0]
		if n.Name != o.Name || n.Extras["verdict"] != string(o.Verdict) || g.Scenes[g.Scene].Nodes[i] != i {
			t.Errorf("node %d: %+v", i, n)
		}
		corners, normals, indices := g.Accessors[p.Attributes["POSITION"]], g.Accessors[p.Attributes["NORMAL"]], g.Accessors[p.Indices]
		if corners.Count != normals.Count || indices.Count != 3*len(o.Mesh.Tris) || indices.Count%3 != 0 {
			t.Errorf("%s: %d corners, %d normals, %d indices", n.Name, corners.Count, normals.Count, indices.Count)
		}
		for k := range indices.Count {
			at := int(read(p.Indices, k))
			if at >= corners.Count {
				t.Fatalf("%s: index %d of %d", n.Name, at, corners.Count)
			}
			v := o.Mesh.Verts[o.Mesh.Tris[k/3][k%3]]
			lengthSquared := 0.0
			for axis, want := range []float64{v[0] / 1000, v[2] / 1000, -v[1] / 1000} {
				is := float64(math.Float32frombits(read(p.Attributes["POSITION"], 3*at+axis)))
				if math.Abs(is-want) > 1e-6 || is < corners.Min[axis] || is > corners.Max[axis] {
					t.Errorf("%s: corner %d axis %d is %v, want %v within %v..%v", n.Name, at, axis, is, want, corners.Min, corners.Max)
				}
				c := float64(math.Float32frombits(read(p.Attributes["NORMAL"], 3*at+axis)))
				lengthSquared += c * c
			}
			if math.Abs(lengthSquared-1) > 1e-5 {
				t.Errorf("%s: a normal is %v long", n.Name, math.Sqrt(lengthSquared))
			}
		}
		maps := p.Extensions["KHR_materials_variants"].Mappings
		_, verdict := o.Verdict.sign()
		for k, colour := range [][3]uint8{o.Colour, verdict, o.heatColour()} {
			is := g.Materials[maps[k].Material]
			if math.Abs(is.PbrMetallicRoughness.BaseColorFactor[0]-linear(colour[0])) > 1e-12 || (is.AlphaMode == "BLEND") != o.Ghost || maps[k].Variants[0] != k {
				t.Errorf("%s: variant %d is %+v, want %v", n.Name, k, is, colour)
			}
		}
	}
}

// TestGLBHoldsNothingAmiss checks what a general validator (the Khronos one, run
// by hand on the demo car: no error, warning, hint) also asks for: ends that are
// those of the stored numbers to the last bit, targets that fit the use, views
// that do not overlap, nothing that is not used, variants that are declared.
func TestGLBHoldsNothingAmiss(t *testing.T) {
	m := richModel()
	m.Scene = sampleScene()
	var out bytes.Buffer
	if err := WriteGLB(&out, m); err != nil {
		t.Fatal(err)
	}
	data := out.Bytes()
	size := int(binary.LittleEndian.Uint32(data[12:]))
	var g glb
	if err := json.Unmarshal(data[20:20+size], &g); err != nil {
		t.Fatal(err)
	}
	bin := data[28+size:]
	accessors, materials, views := map[int]bool{}, map[int]bool{}, map[int]bool{}
	vectors := func(i int) {
		accessors[i] = true
		a := g.Accessors[i]
		v := g.BufferViews[a.BufferView]
		if a.ComponentType != typeFloat || a.Type != "VEC3" || v.Target != forCorners || v.ByteLength != 12*a.Count {
			t.Errorf("accessor %d: %+v in %+v", i, a, v)
		}
		for axis := range a.Min {
			low, high := math.Inf(1), math.Inf(-1)
			for k := range a.Count {
				c := float64(math.Float32frombits(binary.LittleEndian.Uint32(bin[v.ByteOffset+12*k+4*axis:])))
				low, high = min(low, c), max(high, c)
			}
			if low != a.Min[axis] || high != a.Max[axis] {
				t.Errorf("accessor %d, axis %d: ends %v and %v, stored %v and %v", i, axis, a.Min[axis], a.Max[axis], low, high)
			}
		}
	}
	for _, mesh := range g.Meshes {
		for _, p := range mesh.Primitives {
			vectors(p.Attributes["POSITION"])
			vectors(p.Attributes["NORMAL"])
			if len(g.Accessors[p.Attributes["POSITION"]].Min) != 3 {
				t.Error("corners have no ends")
			}
			accessors[p.Indices], materials[p.Material] = true, true
			a := g.Accessors[p.Indices]
			if v := g.BufferViews[a.BufferView]; a.ComponentType != typeUint32 || a.Type != "SCALAR" || v.Target != forIndices || v.ByteLength != 4*a.Count {
				t.Errorf("indices %+v in %+v", a, v)
			}
			for _, to := range p.Extensions["KHR_materials_variants"].Mappings {
				materials[to.Material] = true
				if to.Variants[0] >= len(g.Extensions["KHR_materials_variants"].Variants) {
					t.Errorf("variant %d is not declared", to.Variants[0])
				}
			}
		}
	}
	end := 0
	for i := range g.Accessors {
		if !accessors[i] {
			t.Errorf("accessor %d is not used", i)
		}
		views[g.Accessors[i].BufferView] = true
	}
	for i, v := range g.BufferViews {
		if !views[i] || v.ByteOffset < end {
			t.Errorf("view %d is used: %v, begins at %d, the one before ends at %d", i, views[i], v.ByteOffset, end)
		}
		end = v.ByteOffset + v.ByteLength
	}
	for i := range g.Materials {
		if !materials[i] {
			t.Errorf("material %d is not used", i)
		}
	}
	if len(g.ExtensionsUsed) != 1 || g.ExtensionsUsed[0] != "KHR_materials_variants" {
		t.Errorf("extensions used: %q", g.ExtensionsUsed)
	}
}

// TestLinearMeetsTheCurve: IEC 61966-2-1, middle grey of sRGB 188 is about half
// the light; the ends are exact.
func TestLinearMeetsTheCurve(t *testing.T) {
	for v, want := range map[uint8]float64{0: 0, 255: 1, 188: 0.5029} {
		if got := linear(v); math.Abs(got-want) > 1e-4 {
			t.Errorf("%d is %v, want %v", v, got, want)
		}
	}
}
