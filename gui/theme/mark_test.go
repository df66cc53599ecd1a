package theme

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	fynetheme "fyne.io/fyne/v2/theme"
)

// picture draws an object alone in a window of 40 by 40 toolkit units.
func picture(t *testing.T, verdict string, look Look) image.Image {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(New(look))
	w := test.NewTempWindow(t, container.NewWithoutLayout())
	w.SetPadded(false)
	w.SetContent(VerdictMark(verdict))
	w.Resize(fyne.NewSquareSize(40))
	return w.Canvas().Capture()
}

// near reports whether two colours differ by no more than one step of the
// drawing's rounding per channel.
func near(a, b color.Color) bool {
	p, q := nrgba(a), nrgba(b)
	off := func(x, y uint8) bool { return max(x, y)-min(x, y) > 2 }
	return !off(p.R, q.R) && !off(p.G, q.G) && !off(p.B, q.B)
}

// The middle of a sign is its colour, the ring's middle is the ground, and the
// corner of the field tells the shapes apart.
func TestMarkIsDrawn(t *testing.T) {
	for _, look := range looks {
		ground := palettes[look].ground
		for _, c := range []struct {
			verdict string
			middle  color.Color
			corner  bool // the sign reaches the corner region at an eighth of the field
			top     bool // the sign covers the point right of the middle, near the top
		}{
			{"ok", rgb(0, 158, 115), false, true},
			{"close", rgb(230, 159, 0), false, false},
			{"short", rgb(213, 94, 0), true, true},
			{"over", rgb(213, 94, 0), true, true},
			{"overlap", rgb(204, 121, 167), false, false},
			{"no rule", ground, false, false},
		} {
			img := picture(t, c.verdict, look)
			side := img.Bounds().Dx()
			if got := img.At(side/2, side/2); !near(got, c.middle) {
				t.Errorf("%v %q: middle %v, want %v", look, c.verdict, got, c.middle)
			}
			if got := !near(img.At(side/8, side/8), ground); got != c.corner {
				t.Errorf("%v %q: corner covered %v, want %v", look, c.verdict, got, c.corner)
			}
			if got := !near(img.At(side*3/4, side/5), ground); got != c.top {
				t.Errorf("%v %q: top covered %v, want %v", look, c.verdict, got, c.top)
			}
		}
	}
}

// The signs are told apart without colour: their outlines differ.
func TestShapesDiffer(t *testing.T) {
	covered := map[string]string{}
	for _, v := range []string{"ok", "close", "short", "overlap", "no rule"} {
		img := picture(t, v, Light)
		side, shape := img.Bounds().Dx(), ""
		for y := range 16 {
			for x := range 16 {
				shape += map[bool]string{true: " ", false: "#"}[near(img.At((2*x+1)*side/32, (2*y+1)*side/32), palettes[Light].ground)]
			}
		}
		if other, ok := covered[shape]; ok {
			t.Errorf("%q has the shape of %q", v, other)
		}
		covered[shape] = v
	}
}

// The outline keeps its contrast to every ground that a sign lies on.
func TestOutlineContrast(t *testing.T) {
	test.NewTempApp(t)
	for _, look := range looks {
		p := palettes[look]
		for _, v := range verdicts {
			for _, ground := range []color.Color{p.ground, p.card, p.raised, New(look).Color(TileColor(v), 0)} {
				if got := Contrast(p.ink, ground); got < LeastSignContrast {
					t.Errorf("%v %q: outline contrast %.2f", look, v, got)
				}
			}
		}
	}
}

func TestMarkFollowsVerdictAndLook(t *testing.T) {
	app := test.NewTempApp(t)
	app.Settings().SetTheme(New(Light))
	m := VerdictMark("ok")
	w := test.NewTempWindow(t, m)
	w.Resize(fyne.NewSquareSize(40))
	side := w.Canvas().Capture().Bounds().Dx()
	m.SetVerdict("short")
	if got := w.Canvas().Capture().At(side/2, side/2); !near(got, VerdictColor("short")) {
		t.Errorf("after SetVerdict the middle is %v", got)
	}
	if got := m.MinSize().Width; got != deskSizes[fynetheme.SizeNameInlineIcon] {
		t.Errorf("width at the desk: %g", got)
	}
	app.Settings().SetTheme(New(Review))
	m.Refresh()
	if got := m.MinSize().Width; got != reviewSizes[fynetheme.SizeNameInlineIcon] {
		t.Errorf("width in the review: %g", got)
	}
}
