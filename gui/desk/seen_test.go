package desk

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/rearview"
	"aftbay/geom/render"
	"aftbay/geom/scene"
	"aftbay/geom/scene/fixture"
	"aftbay/geom/units"
	"aftbay/gui/report"
)

// viewLayout is the small layout with a driver's view over a deck whose crest
// hides part of the field.
func viewLayout(t *testing.T) string {
	t.Helper()
	doc := &layout.Document{
		Title: "View",
		Parts: []layout.Part{
			{Name: "deck", Role: "deck", Mesh: "deck.stl", Group: "powertrain"},
			{Name: "pane", Role: "glass", Mesh: "pane.stl"},
		},
		Groups: []layout.Group{{Name: "powertrain"}},
		Drop:   &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 60}},
		RearView: &layout.RearView{
			EyesMM:     []geom.Vec{{1500, -32.5, 1210}, {1500, 32.5, 1210}},
			Mirror:     &layout.Mirror{CentreMM: geom.Vec{981, 0, 1210}, WidthMM: 240, HeightMM: 60, Normal: &geom.Vec{1, 0, 0}},
			RearEndXMM: ptr(3550.0),
		},
		Heat: &layout.Heat{Rays: ptr(8), PatchMM: ptr(400.0)},
	}
	return fixture.Folder(t, doc, map[string]*mesh.Mesh{
		"deck.stl": plain.Brick(geom.Vec{2900, -800, 600}, geom.Vec{3000, 800, 1168}),
		"pane.stl": plain.Brick(geom.Vec{1700, -800, 900}, geom.Vec{1704, 800, 1300}),
	})
}

// TestSeenFollowsTheDrop: the tile, the page and the pictures tell the same
// answer as the study itself, and follow the previewed drop.
func TestSeenFollowsTheDrop(t *testing.T) {
	d := New(2, nil)
	t.Cleanup(func() { _ = d.Close() })
	if err := d.Open(t.Context(), viewLayout(t)); err != nil {
		t.Fatal(err)
	}
	if err := d.Wait(t.Context()); err != nil {
		t.Fatal(err)
	}
	s := d.State()
	own, err := rearview.Run(t.Context(), s.Scene, rearview.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	v := s.Answers.Seen.Value
	if !s.Answers.Seen.Fresh || v == nil || v.Result.Quick || v.Result.Seen != own.Seen {
		t.Fatalf("answer %+v, the study says %+v", v, own.Seen)
	}
	share := Percent(own.Seen.EitherShare)
	tile := s.Tiles[Sees]
	if !strings.Contains(tile.Answer, share) || !strings.Contains(tile.Answer, "deck takes") || tile.Verdict != own.Required.Verdict || tile.Verdict != rearview.Short {
		t.Errorf("tile %+v", tile)
	}
	table, says, notes := SightPage(&s)
	if table.Rows[0].Cells[1] != share || !strings.Contains(says[0], share) || !strings.Contains(strings.Join(notes, " "), "no approval") || !strings.Contains(strings.Join(notes, " "), "pane") {
		t.Errorf("page %v %q %q", table.Rows[0], says, notes)
	}
	packetSaysTheSame(t, &s, table)
	if table.Rows[1].Cells[0] != "deck" || table.Rows[2].Cells[0] != "left eye" {
		t.Errorf("who hides most does not come next: %v", table.Rows)
	}
	if more := strings.Join(SightMore(&s), " "); !strings.Contains(more, "from memory") {
		t.Errorf("more: %q", more)
	}
	for k, img := range []*image.RGBA{v.Mirror[0], v.Mirror[1], v.Section} {
		if img == nil {
			t.Fatalf("picture %d is missing", k)
		}
		if dir := os.Getenv("AFTBAY_PICTURES"); dir != "" {
			f, err := os.Create(dir + string(rune('a'+k)) + ".png")
			if err != nil {
				t.Fatal(err)
			}
			_ = png.Encode(f, img)
			_ = f.Close()
		}
	}
	if err := d.PreviewDrop(30); err != nil {
		t.Fatal(err)
	}
	if err := d.Wait(t.Context()); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	if r := s.Answers.Seen.Value.Result; r.Seen.EitherShare != 1 || s.Tiles[Sees].Verdict != rearview.OK {
		t.Errorf("30 mm lower: %+v, tile %+v", r.Seen, s.Tiles[Sees])
	}
}

// TestMirrorPictureIsTinted: in the picture of the mirror the share of tinted
// pixels is near that of the field's part of it, and grows with the crest.
func TestMirrorPictureIsTinted(t *testing.T) {
	doc, folder, err := layout.Open(viewLayout(t))
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	sc, err := scene.Build(t.Context(), doc, folder, nil, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	at := func(raisedMM float64) int {
		moved := sc.Moved("powertrain", geom.Shift(geom.Vec{0, 0, raisedMM}))
		r, err := rearview.Run(t.Context(), moved, rearview.Options{Quick: true}, nil)
		if err != nil {
			t.Fatal(err)
		}
		p := &seenPainter{}
		with, err := p.mirror(t.Context(), moved, r, 0, 1)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for i := 0; i < len(with.Pix); i += 4 {
			if isTint(color.RGBA{with.Pix[i], with.Pix[i+1], with.Pix[i+2], 255}, render.ShortColor) {
				n++
			}
		}
		return n
	}
	low, high := at(-30), at(10)
	if low != 0 || high < 200 {
		t.Errorf("%d tinted pixels without a loss, %d with one", low, high)
	}
}

// isTint reports whether a colour is strongly drawn to another: its red far
// over its blue, as no part of this picture is by itself.
func isTint(c color.RGBA, of render.RGB) bool {
	return int(c.R)-int(c.B) > (int(of.R)-int(of.B))/3
}

// TestKeepOutComesFirstOnTheTile: where the keep-out solid gives the verdict, the
// tile begins with it: what stands last may be cut.
func TestKeepOutComesFirstOnTheTile(t *testing.T) {
	d := New(2, nil)
	t.Cleanup(func() { _ = d.Close() })
	if err := d.Open(t.Context(), viewLayout(t)); err != nil {
		t.Fatal(err)
	}
	err := d.Edit("keep-out", func(doc *layout.Document) error {
		zone := doc.Parts[0]
		zone.Name, zone.Role, zone.Group, zone.MoveMM = "zone", "sightline", "", geom.Vec{0, 0, 560}
		doc.Parts = append(doc.Parts, zone)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Wait(t.Context()); err != nil {
		t.Fatal(err)
	}
	s := d.State()
	tile := s.Tiles[Sees]
	if tile.Verdict != clearance.Overlap || !strings.HasPrefix(tile.Answer, "keep-out: deck stands") || !strings.Contains(tile.Answer, "; "+Percent(s.Answers.Seen.Value.Result.Seen.EitherShare)+" % of the road seen") {
		t.Errorf("%+v", tile)
	}
}

// TestLayoutWithoutRearView: the tile speaks of the keep-out solid then.
func TestLayoutWithoutRearView(t *testing.T) {
	s := opened(t).State()
	if a := s.Answers.Seen; !a.Fresh || a.Err != nil || a.Value.Result != nil {
		t.Errorf("%+v", a)
	}
	if !strings.Contains(s.Tiles[Sees].Answer, "sightline") {
		t.Errorf("tile %+v", s.Tiles[Sees])
	}
	if _, says, _ := SightPage(&s); !strings.Contains(says[0], "rear_view") {
		t.Errorf("page %q", says)
	}
}

// packetSaysTheSame holds the packet's rows of the rear view against the study's
// own figures, each under its heading on the page.
func packetSaysTheSame(t *testing.T, s *State, page Table) {
	t.Helper()
	var m report.Model
	if err := (&packer{ctx: t.Context(), s: s, slots: make(chan struct{}, 1), failed: make(chan error, 1)}).sight(&m); err != nil {
		t.Fatal(err)
	}
	heads := map[string]int{}
	for k, c := range page.Columns {
		heads[c.Head] = k
	}
	for i, row := range m.RearView.Rows {
		for head, got := range map[string]string{
			"what": row.What, "seen %": row.Seen, "lost %": row.Lost, "no loss to mm": row.NoLoss, "allowed to mm": row.Allowed, "margin mm": row.Margin,
		} {
			if k, ok := heads[head]; !ok || page.Rows[i].Cells[k] != got {
				t.Errorf("row %d, %s: the packet says %q, the page %v", i, head, got, page.Rows[i].Cells)
			}
		}
	}
	h := s.Answers.Seen.Value.Result.HighestAllowedMM["deck"]
	for _, row := range m.RearView.Rows {
		if row.What == "deck" {
			if row.NoLoss != units.NumberMM(*h.NoLossMM) || row.Allowed != units.NumberMM(*h.AtAllowanceMM) || row.Margin != units.NumberMM(*h.AllowanceMarginMM) {
				t.Errorf("deck: the packet says %+v, the study %+v", row, h)
			}
			return
		}
	}
	t.Error("the packet has no row of the deck")
}
