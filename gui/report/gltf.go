package report

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"math"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// Numbers of glTF 2.0 (Khronos Group, specification 2.0.1, sections 3.6, 3.9
// and 4.4: component types, buffer targets, chunk types of the binary form).
const (
	gltfMagic  = 0x46546C67 // "glTF"
	chunkJSON  = 0x4E4F534A
	chunkBin   = 0x004E4942
	typeUint32 = 5125
	typeFloat  = 5126
	forCorners = 34962 // ARRAY_BUFFER
	forIndices = 34963 // ELEMENT_ARRAY_BUFFER
)

// WriteGLB writes the scene as binary glTF 2.0, one node a part, for use in any
// program that reads it. glTF is in metres with +Y up: vehicle X, Y, Z (rearward,
// right, up; mm) become glTF X, −Z, Y. Each part has three materials: of its
// role, of its verdict and of its temperature, as variants
// (KHR_materials_variants) with the role's as default. The node's extras say
// role, verdict and temperature. The same model gives the same bytes.
func WriteGLB(w io.Writer, m *Model) error {
	if err := Check(m); err != nil {
		return err
	}
	if m.Scene == nil || len(m.Scene.Bodies) == 0 {
		return say.Errorf("%w: scene: has no parts to write", ErrModel)
	}
	const facetBytes = 3 * (12 + 12 + 4) // corners, normals, indices
	facets := 0
	for i := range m.Scene.Bodies {
		facets += len(m.Scene.Bodies[i].Mesh.Tris)
	}
	g := &gltf{tints: map[[4]uint8]int{}, bin: make([]byte, 0, facetBytes*facets)}
	for i := range m.Scene.Bodies {
		g.add(&m.Scene.Bodies[i])
	}
	return g.write(w, m)
}

// gltf is a file under way; the maps are as the specification names them.
type gltf struct {
	bin       []byte
	views     []map[string]any
	accessors []map[string]any
	meshes    []map[string]any
	nodes     []map[string]any
	materials []map[string]any
	tints     map[[4]uint8]int // material of a colour and its opacity
}

// add puts one part in: corners, normals, triangles, node.
func (g *gltf) add(o *Body) {
	corners, normals, faces := flatShaded(o.Mesh)
	if len(faces) == 0 {
		return // a mesh without area would be no valid primitive
	}
	role := g.material(o.Colour, o.Ghost)
	primitive := map[string]any{
		"attributes": map[string]int{"POSITION": g.vectors(corners, true), "NORMAL": g.vectors(normals, false)},
		"indices":    g.indices(faces),
		"material":   role,
		"extensions": map[string]any{"KHR_materials_variants": map[string]any{"mappings": []map[string]any{
			{"material": role, "variants": []int{0}},
			{"material": g.material(o.verdictColour(), o.Ghost), "variants": []int{1}},
			{"material": g.material(o.heatColour(), o.Ghost), "variants": []int{2}},
		}}},
	}
	extras := map[string]any{"role": o.Role, "verdict": string(o.Verdict)}
	if o.NominalDegC != nil {
		extras["nominal_degC"] = json.RawMessage(plain(*o.NominalDegC, tempDecimals))
	}
	g.nodes = append(g.nodes, map[string]any{"name": o.Name, "mesh": len(g.meshes), "extras": extras})
	g.meshes = append(g.meshes, map[string]any{"name": o.Name, "primitives": []any{primitive}})
}

// flatShaded returns the corners of every facet with its own normal, in metres
// and the axes of glTF. Facets without an area are left out.
func flatShaded(m *mesh.Mesh) (corners, normals []geom.Vec, faces []uint32) {
	room := 3 * len(m.Tris)
	corners, normals, faces = make([]geom.Vec, 0, room), make([]geom.Vec, 0, room), make([]uint32, 0, room)
	for t := range m.Tris {
		a, b, c := m.Corners(t)
		normal := b.Sub(a).Cross(c.Sub(a))
		if normal.Len() == 0 {
			continue
		}
		normal = normal.Normalize()
		for _, p := range []geom.Vec{a, b, c} {
			faces = append(faces, uint32(len(corners)))
			corners = append(corners, geom.Vec{p[0] / 1000, p[2] / 1000, -p[1] / 1000})
			normals = append(normals, geom.Vec{normal[0], normal[2], -normal[1]})
		}
	}
	return corners, normals, faces
}

// material returns the number of the material of a colour.
func (g *gltf) material(c [3]uint8, ghost bool) int {
	key := [4]uint8{c[0], c[1], c[2], 255}
	if ghost {
		key[3] = 64
	}
	if i, ok := g.tints[key]; ok {
		return i
	}
	made := map[string]any{
		"name": fmt.Sprintf("#%02x%02x%02x%02x", key[0], key[1], key[2], key[3]), "doubleSided": true,
		"pbrMetallicRoughness": map[string]any{
			"baseColorFactor": []float64{linear(c[0]), linear(c[1]), linear(c[2]), float64(key[3]) / 255},
			"metallicFactor":  0, "roughnessFactor": 0.8,
		},
	}
	if ghost {
		made["alphaMode"] = "BLEND"
	}
	g.tints[key] = len(g.materials)
	g.materials = append(g.materials, made)
	return g.tints[key]
}

// linear returns a colour component as light, 0..1: the sRGB curve of IEC
// 61966-2-1, which glTF 3.9.2 asks for.
func linear(v uint8) (light float64) {
	x := float64(v) / 255
	if x <= 0.04045 {
		return x / 12.92
	}
	return math.Pow((x+0.055)/1.055, 2.4)
}

// vectors stores corners or normals and returns their accessor; bounded adds
// the ends that the specification asks of positions.
func (g *gltf) vectors(list []geom.Vec, bounded bool) int {
	start := len(g.bin)
	low, high := [3]float64{}, [3]float64{} // of what is stored, to the last bit
	for i, v := range list {
		for k := range 3 {
			f := float32(v[k]) + 0 // no minus before zero
			g.bin = binary.LittleEndian.AppendUint32(g.bin, math.Float32bits(f))
			if i == 0 || float64(f) < low[k] {
				low[k] = float64(f)
			}
			if i == 0 || float64(f) > high[k] {
				high[k] = float64(f)
			}
		}
	}
	accessor := map[string]any{"bufferView": g.view(start, forCorners), "componentType": typeFloat, "count": len(list), "type": "VEC3"}
	if bounded {
		accessor["min"], accessor["max"] = low, high
	}
	g.accessors = append(g.accessors, accessor)
	return len(g.accessors) - 1
}

func (g *gltf) indices(list []uint32) int {
	start := len(g.bin)
	for _, i := range list {
		g.bin = binary.LittleEndian.AppendUint32(g.bin, i)
	}
	g.accessors = append(g.accessors, map[string]any{"bufferView": g.view(start, forIndices), "componentType": typeUint32, "count": len(list), "type": "SCALAR"})
	return len(g.accessors) - 1
}

func (g *gltf) view(start, target int) int {
	g.views = append(g.views, map[string]any{"buffer": 0, "byteOffset": start, "byteLength": len(g.bin) - start, "target": target})
	return len(g.views) - 1
}

// write puts both chunks behind the head.
func (g *gltf) write(w io.Writer, m *Model) error {
	roots := make([]int, len(g.nodes))
	for i := range roots {
		roots[i] = i
	}
	head, err := json.Marshal(map[string]any{
		"asset": map[string]any{"version": "2.0", "generator": m.Program, "extras": map[string]any{"title": m.Title, "revision": m.Revision, "heat_case": m.Scene.HeatCase}},
		"scene": 0, "scenes": []any{map[string]any{"name": m.Title, "nodes": roots}},
		"nodes": g.nodes, "meshes": g.meshes, "materials": g.materials, "accessors": g.accessors, "bufferViews": g.views,
		"buffers":        []any{map[string]any{"byteLength": len(g.bin)}},
		"extensionsUsed": []string{"KHR_materials_variants"},
		"extensions":     map[string]any{"KHR_materials_variants": map[string]any{"variants": []any{map[string]any{"name": "role"}, map[string]any{"name": "verdict"}, map[string]any{"name": "heat"}}}},
	})
	if err != nil {
		return say.Errorf("glb: %w", err)
	}
	for len(head)%4 != 0 {
		head = append(head, ' ')
	}
	out := binary.LittleEndian.AppendUint32(nil, gltfMagic)
	for _, v := range []int{2, 12 + 8 + len(head) + 8 + len(g.bin), len(head), chunkJSON} {
		out = binary.LittleEndian.AppendUint32(out, uint32(v))
	}
	out = append(out, head...)
	out = binary.LittleEndian.AppendUint32(out, uint32(len(g.bin)))
	out = binary.LittleEndian.AppendUint32(out, chunkBin)
	for _, part := range [][]byte{out, g.bin} {
		if _, err := w.Write(part); err != nil {
			return say.Errorf("glb: %w", err)
		}
	}
	return nil
}
