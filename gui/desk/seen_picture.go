package desk

import (
	"context"
	"image"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/rearview"
	"aftbay/geom/render"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/gui/phrase"
)

// Seen is what the driver sees: the figures and the pictures of them.
type Seen struct {
	Result  *rearview.Result // nil where the layout has no rear view
	Mirror  [2]*image.RGBA   // what the left and the right eye see in the mirror
	Section *image.RGBA      // the lines of sight from the side
}

// EyeNames are the captions of the mirror pictures. Read-only.
var EyeNames = [2]string{phrase.Of("What the left eye sees in the mirror"), phrase.Of("What the right eye sees in the mirror")}

// Widths of the pictures: about 200 dots an inch at half a page's width, and
// what follows a hand. Heights and letters go with them.
const seenPx, quickPx = 1000, 600

// lettersShare is the height of letters to the width of a picture.
const lettersShare = 0.03

// Colours of the road. Chosen by eye, common practice, no source. Read-only.
var (
	roadColor  = render.RGB{R: 172, G: 174, B: 176}
	fieldColor = render.RGB{R: 226, G: 232, B: 236}
	frameColor = render.RGB{R: 58, G: 60, B: 64}
)

// tintColors tell the blockers apart beside their names. Read-only.
var tintColors = []render.RGB{render.ShortColor, render.OverlapColor, render.CloseColor, render.AccentColor}

// seenPainter draws the pictures and remembers mirrored meshes and the edges of
// those it drew last.
// Use it from one goroutine at a time.
type seenPainter struct {
	meshes perMesh[*mesh.Mesh]
	edges  perMesh[[][2]int32]
}

// paint draws all pictures of a result.
func (p *seenPainter) paint(ctx context.Context, s *scene.Scene, r *rearview.Result, workers int) (*Seen, error) {
	p.meshes.turn()
	p.edges.turn()
	out := &Seen{Result: r}
	for k := range out.Mirror {
		var err error
		if out.Mirror[k], err = p.mirror(ctx, s, r, k, workers); err != nil {
			return nil, say.Errorf("mirror picture: %w", err)
		}
	}
	var err error
	if out.Section, err = p.section(ctx, s, r, workers); err != nil {
		return nil, say.Errorf("section of the view: %w", err)
	}
	return out, nil
}

// leftRight is what exchanges left and right of a mesh. Read-only.
var leftRight = geom.Pose{R: mgl64.Mat3{1, 0, 0, 0, -1, 0, 0, 0, 1}}

// mirrored returns a mesh with left and right exchanged, its outside out. Under
// a pose that mirrors, after leftRight, it stands as the mesh itself would, and the
// pose is a turn: light falls on the right side.
func mirrored(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Verts: make([]geom.Vec, len(m.Verts)), Tris: make([][3]int32, len(m.Tris))}
	for i, v := range m.Verts {
		out.Verts[i] = leftRight.Dir(v)
	}
	for i, t := range m.Tris {
		out.Tris[i] = [3]int32{t[0], t[2], t[1]}
	}
	return out
}

// mirrored is the same with a memory.
func (p *seenPainter) mirrored(m *mesh.Mesh) *mesh.Mesh { return p.meshes.made(m, mirrored) }

func (p *seenPainter) edgesOf(m *mesh.Mesh) [][2]int32 { return p.edges.made(m, featureEdges) }

// items returns the parts that block, posed after by; mirrors says that by
// exchanges left and right.
func (p *seenPainter) items(s *scene.Scene, by geom.Pose, mirrors bool) []render.Item {
	tints := roleTints(s.Parts)
	var out []render.Item
	for i := range s.Parts {
		part := &s.Parts[i]
		if rearview.SeeThrough(part.Role) || len(part.Mesh.Tris) == 0 {
			continue
		}
		it := render.Item{Mesh: part.Mesh, Edges: p.edgesOf(part.Mesh), Pose: by.After(part.Pose), Color: render.Swatch(tints[part.Role]), Closed: part.Closed}
		if mirrors {
			it.Mesh, it.Pose = p.mirrored(part.Mesh), it.Pose.After(leftRight)
		}
		out = append(out, it)
	}
	return out
}

// mirror draws what an eye sees: the world as the mirror reflects it, behind
// the mirror, looked at from the eye.
func (p *seenPainter) mirror(ctx context.Context, s *scene.Scene, r *rearview.Result, eye, workers int) (*image.RGBA, error) {
	reflect := r.Reflection()
	hidden := r.Hidden(eye)
	sc := render.Scene{Items: append(p.items(s, reflect, true), roadItems(r, reflect)...)}
	field := r.Field()
	outline := render.Path{Color: render.AccentColor, WidthPx: 2}
	for _, c := range append(field[:], field[0]) {
		outline.Points = append(outline.Points, reflect.Point(c))
	}
	sc.Overlay.Paths = []render.Path{outline}
	for _, h := range hidden {
		if mid, ok := middleOf(h); ok && h.Share >= 0.0005 {
			sc.Overlay.Labels = append(sc.Overlay.Labels, render.Label{At: reflect.Point(mid), Text: phrase.F("%s hides %s %%", h.Part, Percent(h.Share))})
		}
	}
	corners := r.MirrorCorners()
	sc.Items = append(sc.Items, frameItems(r.Eyes[eye].AtMM, corners)...)
	wide := widthPx(r)
	cam, hPx := lookAt(r.Eyes[eye].AtMM, r.Mirror.CentreMM, corners, wide)
	o := render.Options{
		Workers: workers, Supersample: fineness(r), TextPx: lettersShare * float64(wide),
		Cuts: []render.Cut{{Point: r.Mirror.CentreMM, Normal: r.Mirror.Normal}},
	}
	f, err := render.Draw(ctx, sc, cam, o, wide, hPx)
	if err != nil {
		return nil, err
	}
	for i, h := range hidden {
		for _, q := range h.Quads {
			fill(f, [4]geom.Vec{reflect.Point(q[0]), reflect.Point(q[1]), reflect.Point(q[2]), reflect.Point(q[3])}, tintColors[i%len(tintColors)])
		}
	}
	return f.Image, nil
}

// widthPx is how wide the pictures of a result are.
func widthPx(r *rearview.Result) int {
	if r.Quick {
		return quickPx
	}
	return seenPx
}

// fineness is the samples a pixel: a quick answer takes a quick picture.
func fineness(r *rearview.Result) int {
	if r.Quick {
		return 1
	}
	return 2
}

// lookAt returns the camera of an eye that looks at the middle of the mirror,
// and the height of a picture that the mirror just fills.
func lookAt(eye, at geom.Vec, corners [4]geom.Vec, wide int) (c render.Camera, hPx int) { // pixels
	toEye := eye.Sub(at)
	back := toEye.Normalize()
	c = render.Camera{Target: at, DistMM: toEye.Len(), AzimuthRad: math.Atan2(back[1], back[0]), ElevationRad: math.Asin(back[2])}
	sa, ca := math.Sincos(c.AzimuthRad)
	se, ce := math.Sincos(c.ElevationRad)
	right, up := geom.Vec{-sa, ca, 0}, geom.Vec{-se * ca, -se * sa, ce}
	side, high := 0.0, 0.0
	for _, p := range corners {
		d := p.Sub(eye)
		depthMM := -d.Dot(back)
		side, high = max(side, math.Abs(d.Dot(right))/depthMM), max(high, math.Abs(d.Dot(up))/depthMM)
	}
	const margin = 1.03
	hPx = max(40, int(math.Round(float64(wide)*high/side)))
	c.FieldRad = 2 * math.Atan(margin*side*float64(hPx)/float64(wide))
	return c, hPx
}

// roadItems lays the road with the field on it, without overlap, so that no two
// surfaces compete far out.
func roadItems(r *rearview.Result, reflect geom.Pose) []render.Item {
	f := r.Field()
	const wideMM = 1e6
	out := geom.Vec{0, wideMM, 0}
	nearMid, farMid := f[0].Add(f[1]).Mul(0.5), f[2].Add(f[3]).Mul(0.5)
	along := nearMid.Sub(farMid).Normalize()
	begin := along.Mul(nearMid.Sub(r.Eyes[0].AtMM).Len() - 3000)
	quad := func(color render.RGB, a, b, c, d geom.Vec) render.Item {
		m := &mesh.Mesh{Verts: []geom.Vec{a, b, c, d}, Tris: [][3]int32{{0, 2, 1}, {0, 3, 2}}}
		return render.Item{Mesh: mirrored(m), Pose: reflect.After(leftRight), Color: color}
	}
	n0, n1 := f[0].Add(begin), f[1].Add(begin)
	return []render.Item{
		quad(fieldColor, f[0], f[1], f[2], f[3]),
		quad(roadColor, n0, n1, f[1], f[0]),
		quad(roadColor, n0.Sub(out), n0, f[0], f[0].Sub(out)), quad(roadColor, f[0].Sub(out), f[0], f[3], f[3].Sub(out.Mul(100))),
		quad(roadColor, n1, n1.Add(out), f[1].Add(out), f[1]), quad(roadColor, f[1], f[1].Add(out), f[2].Add(out.Mul(100)), f[2]),
	}
}

// middleOf returns the middle of the quad of a patch that lies nearest to the
// middle of all, each counted as large as it looks from afar.
func middleOf(h rearview.Patch) (mid geom.Vec, ok bool) {
	mids := make([]geom.Vec, len(h.Quads))
	var mean geom.Vec // of directions
	var sum float64
	for i, q := range h.Quads {
		mids[i] = q[0].Add(q[1]).Add(q[2]).Add(q[3]).Mul(0.25)
		weight := q[2].Sub(q[0]).Cross(q[3].Sub(q[1])).Len() / math.Pow(mids[i].Len(), 3)
		mean, sum = mean.Add(mids[i].Normalize().Mul(weight)), sum+weight
	}
	if sum == 0 {
		return mid, false
	}
	mean = mean.Mul(1 / sum).Normalize()
	closest := -2.0
	for _, m := range mids {
		if cos := m.Normalize().Dot(mean); cos > closest {
			closest, mid = cos, m
		}
	}
	return mid, true
}

// tintShare is how much of what lies below a tint is covered.
const tintShare = 0.5

// fill tints a convex piece of the picture.
func fill(f *render.Frame, quad [4]geom.Vec, c render.RGB) {
	var xs, ys [4]float64
	for i, p := range quad {
		x, y, ok := f.Project(p)
		if !ok {
			return
		}
		xs[i], ys[i] = x, y
	}
	eachPixel(f.Image, xs, ys, func(img *image.RGBA, x, y int) { blend(img, x, y, c, tintShare) })
}

// eachPixel runs do for the pixels whose middle lies in a convex quad.
// Bare numbers: pixels.
func eachPixel(img *image.RGBA, xs, ys [4]float64, do func(img *image.RGBA, x, y int)) {
	top, bottom := math.Inf(1), math.Inf(-1)
	for i := range ys {
		top, bottom = min(top, ys[i]), max(bottom, ys[i])
	}
	b := img.Rect
	for y := max(b.Min.Y, int(math.Floor(top))); y < min(b.Max.Y, int(math.Ceil(bottom))+1); y++ {
		at := float64(y) + 0.5
		from, to := math.Inf(1), math.Inf(-1)
		for i := range ys {
			j := (i + 1) % len(ys)
			if (ys[i] <= at) == (ys[j] <= at) {
				continue
			}
			x := xs[i] + (xs[j]-xs[i])*(at-ys[i])/(ys[j]-ys[i])
			from, to = min(from, x), max(to, x)
		}
		for x := max(float64(b.Min.X), math.Ceil(from-0.5)); x < min(float64(b.Max.X), to-0.5); x++ {
			do(img, int(x), y)
		}
	}
}

func blend(img *image.RGBA, x, y int, c render.RGB, share float64) {
	i := img.PixOffset(x, y)
	for k, v := range [3]uint8{c.R, c.G, c.B} {
		img.Pix[i+k] = uint8(math.Round(float64(img.Pix[i+k])*(1-share) + float64(v)*share))
	}
}

// frameItems are four boards around the mirror, a hair behind its face as the
// eye sees it, so that they hide the world beside it but no text.
func frameItems(eye geom.Vec, corners [4]geom.Vec) []render.Item {
	const hair, wide = 1.002, 4 // times the distance from the eye; times the mirror
	var in, out [4]geom.Vec
	mid := corners[0].Add(corners[2]).Mul(0.5)
	for i, c := range corners {
		in[i] = eye.Add(c.Sub(eye).Mul(hair))
		out[i] = eye.Add(mid.Add(c.Sub(mid).Mul(wide)).Sub(eye).Mul(hair))
	}
	var boards []render.Item
	for i := range in {
		j := (i + 1) % len(in)
		m := &mesh.Mesh{Verts: []geom.Vec{in[i], in[j], out[j], out[i]}, Tris: [][3]int32{{0, 2, 1}, {0, 3, 2}}}
		boards = append(boards, render.Item{Mesh: m, Pose: geom.Identity(), Color: frameColor})
	}
	return boards
}
