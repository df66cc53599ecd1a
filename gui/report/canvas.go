package report

import (
	"bytes"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	"github.com/go-gl/mathgl/mgl64"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"aftbay/geom/say"
)

// ink is a colour, red, green, blue.
type ink [3]uint8

// The inks of the paper. Texts keep at least 4.5:1 on white. Read-only.
var (
	inkText   = ink{27, 33, 36}
	inkMuted  = ink{92, 101, 106}
	inkAccent = ink{10, 78, 84} // the one accent: deep blue-green
	inkLine   = ink{203, 210, 212}
	inkTint   = ink{237, 243, 243}
	inkBar    = ink{150, 184, 187}
	inkWhite  = ink{255, 255, 255}
)

// face is a font of the paper.
type face string

const (
	faceRegular face = "regular"
	faceBold    face = "bold"
	faceMono    face = "mono"
)

// style is how a run of text looks.
type style struct {
	face   face
	sizeMM float64 // body height of the letters
	ink    ink
}

// leadMM is the distance between lines of the style.
func (s style) leadMM() float64 { return 1.32 * s.sizeMM }

// align says where a text sits in its width.
type align int

const (
	left align = iota
	right
	centre
)

// point is a place on the page, from its upper left corner.
type point struct{ XMM, YMM float64 }

// frame is a rectangle on the page.
type frame struct{ XMM, YMM, WMM, HMM float64 }

// canvas draws on the pages of a PDF. It wraps the PDF library so that the
// pages speak of styles, frames and verdicts only.
type canvas struct {
	pdf    *fpdf.Fpdf
	size   fpdf.SizeType
	draft  bool  // a counting pass: pictures take their room only
	inUse  style // font and size that the PDF has selected
	font   *sfnt.Font
	buffer sfnt.Buffer
	known  map[rune]bool   // whether the fonts hold the sign
	placed map[string]bool // pictures in the file, by name
}

// newCanvas starts a document. size is that of the page as it lies, wide.
func newCanvas(m *Model, size fpdf.SizeType) (*canvas, error) {
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: size})
	font, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return nil, say.Errorf("font: %w", err)
	}
	c := &canvas{pdf: pdf, size: size, font: font, known: map[rune]bool{}, placed: map[string]bool{}}
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCellMargin(0)
	pdf.SetCatalogSort(true)
	stamp := m.Date
	if stamp.IsZero() {
		stamp = undated
	}
	pdf.SetCreationDate(stamp)
	pdf.SetModificationDate(stamp)
	// The library writes into the font while it cuts it down: give it copies.
	pdf.AddUTF8FontFromBytes(string(faceRegular), "", bytes.Clone(goregular.TTF))
	pdf.AddUTF8FontFromBytes(string(faceBold), "", bytes.Clone(gobold.TTF))
	pdf.AddUTF8FontFromBytes(string(faceMono), "", bytes.Clone(gomono.TTF))
	pdf.SetTitle(c.clean(m.Title), true)
	pdf.SetSubject("Layout review: fit, drop, rear view, heat, mounting spots", true)
	pdf.SetAuthor(c.clean(m.Author), true)
	pdf.SetCreator(c.clean(m.Program), true)
	pdf.SetKeywords(c.clean(strings.TrimSpace(m.Variant+" "+m.Revision)), true)
	pdf.SetLang("en")
	return c, pdf.Error()
}

// clean replaces what the fonts can't show: blanks of all kinds by a space,
// other signs without a glyph by □.
func (c *canvas) clean(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r < ' ' || r == '\u00a0' || r == '\u202f' || r == '\u2009':
			return ' '
		case c.has(r):
			return r
		}
		return '□'
	}, text)
}

// has tells whether the fonts hold r; all three share one set of glyphs.
func (c *canvas) has(r rune) bool {
	known, asked := c.known[r]
	if !asked {
		i, err := c.font.GlyphIndex(&c.buffer, r)
		known = err == nil && i != 0 && r <= 0xffff
		c.known[r] = known
	}
	return known
}

// use selects font, size and colour. The font is set only where it changes:
// each setting stays in the file, and most are made to measure.
func (c *canvas) use(s style) {
	const pointsPerMM = 72 / 25.4
	if s.face != c.inUse.face || s.sizeMM != c.inUse.sizeMM {
		c.pdf.SetFont(string(s.face), "", float64(s.sizeMM*pointsPerMM))
		c.inUse = s
	}
	c.pdf.SetTextColor(int(s.ink[0]), int(s.ink[1]), int(s.ink[2]))
}

// widthMM measures a line of text.
func (c *canvas) widthMM(s style, text string) float64 {
	c.use(s)
	return c.pdf.GetStringWidth(text)
}

// line writes one line of text whose top is at.YMM, aligned in wMM from at.XMM.
func (c *canvas) line(s style, at point, wMM float64, a align, text string) {
	text = strings.ReplaceAll(c.clean(text), "\n", " ")
	if text == "" {
		return
	}
	x := at.XMM
	switch a {
	case right:
		x += wMM - c.widthMM(s, text)
	case centre:
		x += (wMM - c.widthMM(s, text)) / 2
	}
	c.use(s)
	const baseline = 0.95 // of the size, below the top of the line
	c.pdf.Text(x, at.YMM+baseline*s.sizeMM, text)
}

// fill paints a rectangle.
func (c *canvas) fill(f frame, colour ink) {
	c.pdf.SetFillColor(int(colour[0]), int(colour[1]), int(colour[2]))
	c.pdf.Rect(f.XMM, f.YMM, f.WMM, f.HMM, "F")
}

// stroke is how a line is drawn.
type stroke struct {
	ink     ink
	thickMM float64
	dashMM  []float64 // solid when empty
}

// rule draws a straight line.
func (c *canvas) rule(s stroke, from, to point) {
	c.pdf.SetDrawColor(int(s.ink[0]), int(s.ink[1]), int(s.ink[2]))
	c.pdf.SetLineWidth(s.thickMM)
	if len(s.dashMM) > 0 {
		c.pdf.SetDashPattern(s.dashMM, 0)
		defer c.pdf.SetDashPattern(nil, 0)
	}
	c.pdf.Line(from.XMM, from.YMM, to.XMM, to.YMM)
}

// box draws the outline of a rectangle.
func (c *canvas) box(s stroke, f frame) {
	c.pdf.SetDrawColor(int(s.ink[0]), int(s.ink[1]), int(s.ink[2]))
	c.pdf.SetLineWidth(s.thickMM)
	c.pdf.Rect(f.XMM, f.YMM, f.WMM, f.HMM, "D")
}

// sign draws the mark of a verdict around a centre, sizeMM across.
func (c *canvas) sign(v Verdict, at point, sizeMM float64) {
	form, colour := v.sign()
	c.pdf.SetFillColor(int(colour[0]), int(colour[1]), int(colour[2]))
	h := sizeMM / 2
	corners := func(around ...mgl64.Vec2) {
		ps := make([]fpdf.PointType, len(around))
		for i, v := range around {
			ps[i] = fpdf.PointType{X: at.XMM + float64(h*v[0]), Y: at.YMM + float64(h*v[1])}
		}
		c.pdf.Polygon(ps, "F")
	}
	switch form {
	case shapeCircle:
		c.pdf.Circle(at.XMM, at.YMM, h, "F")
	case shapeTriangle:
		corners(mgl64.Vec2{0, -1}, mgl64.Vec2{1.08, 0.87}, mgl64.Vec2{-1.08, 0.87})
	case shapeSquare:
		corners(mgl64.Vec2{-0.9, -0.9}, mgl64.Vec2{0.9, -0.9}, mgl64.Vec2{0.9, 0.9}, mgl64.Vec2{-0.9, 0.9})
	case shapeDiamond:
		corners(mgl64.Vec2{0, -1.15}, mgl64.Vec2{1.15, 0}, mgl64.Vec2{0, 1.15}, mgl64.Vec2{-1.15, 0})
	case shapeRing:
		c.pdf.SetDrawColor(int(colour[0]), int(colour[1]), int(colour[2]))
		c.pdf.SetLineWidth(0.16 * sizeMM)
		c.pdf.Circle(at.XMM, at.YMM, 0.84*h, "D")
	}
}

// picture places an image as large as it fits into f, centred at the top, and
// returns the frame it fills.
func (c *canvas) picture(f frame, p *Picture) (frame, error) {
	scale := min(f.WMM/float64(p.SizePx.X), f.HMM/float64(p.SizePx.Y))
	w, h := scale*float64(p.SizePx.X), scale*float64(p.SizePx.Y)
	at := frame{f.XMM + (f.WMM-w)/2, f.YMM, w, h}
	if !c.draft {
		options := fpdf.ImageOptions{ImageType: "png"}
		info := c.pdf.RegisterImageOptionsReader(p.Name, options, bytes.NewReader(p.PNG))
		if err := c.pdf.Error(); err != nil {
			return at, say.Errorf("picture %q: %w", p.Name, err)
		}
		if !c.placed[p.Name] {
			c.placed[p.Name] = true
			if err := rank(info, len(c.placed)); err != nil {
				return at, say.Errorf("picture %q: %w", p.Name, err)
			}
		}
		c.pdf.ImageOptions(p.Name, at.XMM, at.YMM, w, h, false, options, 0, "")
	}
	c.box(stroke{ink: inkLine, thickMM: 0.2}, at)
	return at, c.pdf.Error()
}
