package mesh

import (
	"encoding/binary"
	"math"

	"github.com/hschendel/stl"

	"aftbay/geom/say"
)

const (
	headerBytes = 84 // 80 free bytes and the facet count
	facetBytes  = 50 // normal, three corners, attribute
	normalBytes = 12

	// maxFacets keeps corner indices well inside int32 and the memory of a
	// desktop computer: 50 million facets are a 2.5 GB file.
	maxFacets = 50_000_000

	// maxCoordinate is the largest coordinate believed, in file units: 10 km in
	// mm. A float32 there steps by 1 mm, so clearances would mean nothing.
	maxCoordinate = 1e7
)

// ReadSTL returns the mesh of a binary or ASCII STL file. Equal corners are
// welded (-0 equals 0); every facet is kept in file order, degenerate ones too;
// the numbers stay in the file's own unit. See ReadSTLNoted for what it accepts.
func ReadSTL(data []byte) (*Mesh, error) {
	m, _, err := ReadSTLNoted(data)
	return m, err
}

// ReadSTLNoted is ReadSTL and also returns remarks on what was tolerated, one
// sentence each: bytes after the last facet, several solids joined into one.
//
// A binary file is recognised by its length, so that a header that begins with
// "solid" does not mislead; its facet count is checked against the length before
// anything is allocated. ASCII may use any letter case and line ending.
// A refusal is a *ReadError whose kind is one of the Err… values.
func ReadSTLNoted(data []byte) (*Mesh, []say.Text, error) {
	switch {
	case len(data) == 0:
		return nil, nil, &ReadError{Kind: ErrEmpty, What: say.Of("the file has no bytes"), Mend: say.Of("export the part again")}
	case !isExactBinary(data) && isText(data):
		return readASCII(data)
	}
	return readBinary(data)
}

// isExactBinary reports whether the facet count matches the length to the byte.
func isExactBinary(data []byte) bool {
	return len(data) >= headerBytes && int64(len(data)) == headerBytes+facetBytes*declaredFacets(data)
}

func declaredFacets(data []byte) int64 {
	return int64(binary.LittleEndian.Uint32(data[headerBytes-4:]))
}

// isText reports whether the file's beginning holds no byte that text would not.
func isText(data []byte) bool {
	const probe = 512 // beyond any header, short enough to be free
	for _, c := range data[:min(len(data), probe)] {
		if c < ' ' && c != '\t' && c != '\n' && c != '\r' && c != '\f' && c != '\v' {
			return false
		}
	}
	return true
}

func readBinary(data []byte) (*Mesh, []say.Text, error) {
	facets, err := guardBinary(data)
	if err != nil {
		return nil, nil, err
	}
	end := headerBytes + facetBytes*facets
	w := newWeld(facets/2 + 8) // a closed mesh has about half as many corners as facets
	tris := make([][3]int32, facets)
	for t := range tris {
		at := data[headerBytes+facetBytes*t+normalBytes:]
		for k := range 3 {
			c := at[12*k : 12*k+12]
			tris[t][k] = w.corner(number(c), number(c[4:]), number(c[8:]))
		}
	}
	var notes []say.Text
	if extra := len(data) - end; extra > 0 {
		notes = append(notes, say.F("%d bytes after the last of %d facets were ignored", extra, facets))
	}
	return &Mesh{Verts: w.verts, Tris: tris}, notes, nil
}

// number returns a coordinate. Bare numbers: coordinates of a file have no unit.
func number(b []byte) float32 { return math.Float32frombits(binary.LittleEndian.Uint32(b)) }

// guardBinary returns the number of facets of a binary file once length, count
// and every corner coordinate are known to be sound.
func guardBinary(data []byte) (int, error) {
	if len(data) < headerBytes {
		return 0, &ReadError{
			Kind: ErrNotSTL, Byte: int64(len(data)),
			What: say.F("%d bytes are less than the %d of a binary header and the file is not ASCII STL", len(data), headerBytes),
			Mend: say.Of("export the part again as STL"),
		}
	}
	declared, possible := declaredFacets(data), int64(len(data)-headerBytes)/facetBytes
	switch {
	case declared > possible:
		return 0, &ReadError{
			Kind: ErrTruncated, Byte: int64(len(data)),
			What: say.F("the header declares %d facets, the %d bytes can hold %d", declared, len(data), possible),
			Mend: say.Of("copy or export the file again; if it is not an STL file, convert it"),
		}
	case declared == 0:
		return 0, &ReadError{
			Kind: ErrEmpty, Byte: headerBytes - 4, What: say.Of("the header declares 0 facets"),
			Mend: say.Of("export the part again with its surfaces shown"),
		}
	case declared > maxFacets:
		return 0, &ReadError{
			Kind: ErrTooLarge, Byte: headerBytes - 4,
			What: say.F("%d facets, at most %d can be held", declared, maxFacets), Mend: say.Of("export a coarser envelope"),
		}
	}
	return int(declared), guardCorners(data, int(declared))
}

// guardCorners looks at the nine corner coordinates of each facet; the normal
// before them is not used and may be anything.
func guardCorners(data []byte, facets int) error {
	for t := range facets {
		start := headerBytes + facetBytes*t + normalBytes
		for k := range 9 {
			at := start + 4*k
			x := math.Float32frombits(binary.LittleEndian.Uint32(data[at:]))
			kind := judge(float64(x))
			if kind == nil {
				continue
			}
			return &ReadError{
				Kind: kind, Byte: int64(at),
				What: say.F("facet %d, corner %d, %c = %g", t+1, k/3+1, 'x'+rune(k%3), x), Mend: mendFor(kind),
			}
		}
	}
	return nil
}

// judge returns nil for a coordinate that can be used, else the kind of fault.
// Bare numbers: coordinates of a file have no unit.
func judge(coordinate float64) error {
	switch {
	case math.IsNaN(coordinate) || math.IsInf(coordinate, 0):
		return ErrNumber
	case math.Abs(coordinate) > maxCoordinate:
		return ErrTooLarge
	}
	return nil
}

func mendFor(kind error) say.Text {
	if kind == ErrTooLarge {
		return say.Of("coordinates beyond ±1e7 are not believed: check the export unit and origin")
	}
	return say.Of("every corner needs three finite numbers: export the part again")
}

// collector welds what the library reads; it is the library's Writer.
type collector struct {
	weld *weld
	tris [][3]int32
}

func newCollector(facets int) *collector {
	return &collector{weld: newWeld(facets/2 + 8), tris: make([][3]int32, 0, facets)}
}

// AppendTriangle adds a facet; its normal and attribute are left out.
func (c *collector) AppendTriangle(t stl.Triangle) {
	var tri [3]int32
	for k, p := range t.Vertices {
		tri[k] = c.weld.corner(p[0], p[1], p[2])
	}
	c.tris = append(c.tris, tri)
}

func (c *collector) mesh() *Mesh { return &Mesh{Verts: c.weld.verts, Tris: c.tris} }

// SetName, SetBinaryHeader, SetASCII and SetTriangleCount complete the
// library's interface; names are not kept and the count was checked before.
func (c *collector) SetName(string)          {}
func (c *collector) SetBinaryHeader([]byte)  {}
func (c *collector) SetASCII(bool)           {}
func (c *collector) SetTriangleCount(uint32) {}
