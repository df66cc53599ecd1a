package page

import (
	"context"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
	"aftbay/gui/desk"
	"aftbay/gui/theme"
)

// bench writes a block between a lid and a tray with a hot pipe beside it, and
// returns a desk with all its answers: the block is 12 mm under the lid where 15
// are asked, and may go down 20 mm.
func bench(t testing.TB) *desk.Desk {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(theme.New(theme.Light))
	dir := fixture.Folder(t, benchLayout(), map[string]*mesh.Mesh{
		"block.stl": plain.Brick(geom.Vec{1500, -200, 230}, geom.Vec{1900, 200, 600}),
		"tray.stl":  plain.Brick(geom.Vec{1400, -300, 190}, geom.Vec{2000, 300, 200}),
		"lid.stl":   plain.Brick(geom.Vec{1400, -300, 612}, geom.Vec{2000, 300, 620}),
		"pipe.stl":  plain.Brick(geom.Vec{1500, 260, 400}, geom.Vec{1900, 300, 440}),
		"coil.stl":  plain.Brick(geom.Vec{-20, -20, 0}, geom.Vec{20, 20, 40}),
	})
	d := desk.New(2, nil)
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	})
	if err := d.Open(context.Background(), dir); err != nil {
		t.Fatal(err)
	}
	settle(t, d)
	return d
}

func benchLayout() *layout.Document {
	reach := 330.0
	return &layout.Document{
		Format: layout.Format, Version: layout.Version, Title: "Bench",
		Parts: []layout.Part{
			{Name: "block", Role: "engine", Mesh: "block.stl", Group: "powertrain", LimitDegC: &layout.Limit{ContinuousDegC: new(120.0)}},
			{Name: "tray", Role: "tray", Mesh: "tray.stl"},
			{Name: "lid", Role: "deck", Mesh: "lid.stl"},
			{Name: "pipe", Role: "exhaust", Mesh: "pipe.stl", Thermal: &layout.Thermal{HeldDegC: new(600.0)}},
		},
		Groups: []layout.Group{{Name: "powertrain", PivotMM: geom.Vec{1700, 0, 400}}},
		Rules: []layout.Rule{
			{A: "part:block", B: "part:tray", LeastMM: 10, Source: "test"},
			{A: "part:block", B: "part:lid", LeastMM: 15, Source: "test"},
		},
		HalfShafts: []layout.HalfShaft{{
			Name: "shaft", InnerMM: geom.Vec{1700, 150, 300}, InnerGroup: "powertrain", OuterMM: geom.Vec{1700, 650, 300},
			LimitDeg: &layout.JointLimit{StaticDeg: new(4.0)},
		}},
		Drop:  &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 60}},
		Heat:  &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0), SurroundingsDegC: new(50.0), AirSpeedMS: new(2.0)}}, Rays: new(64), PatchMM: new(100.0)},
		Spots: []layout.Spot{{Name: "coil", Mesh: "coil.stl", Role: "coil", Hosts: []string{"part:block"}, ServeMM: &geom.Vec{1500, 0, 500}, ReachMM: &reach}},
	}
}

func settle(t testing.TB, d *desk.Desk) {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	if err := d.Wait(ctx); err != nil {
		t.Fatal(err)
	}
}

// hostSpy notes what a page asks of its window.
type hostSpy struct {
	brings    string // path of the mesh that is chosen
	preferred []string
	at        desk.Attention
	drops     []float64 // Bare numbers: mm
	stands    []desk.Stand
	maps      []bool
	kept      int
	posed     string
	moveMM    geom.Vec
	used      []desk.Use
	tried     []layout.Shield

	keptShield, dropped int
	compared            int
	decided             []layout.Decision
	flown               []Flight
	refuse              error
	hints               []string
	opened              []string // in the editor
	changes             [][]desk.Change
}

func (h *hostSpy) Look(change func(a *desk.Attention)) { change(&h.at) }
func (h *hostSpy) PreviewStand(at desk.Stand)          { h.stands = append(h.stands, at) }
func (h *hostSpy) Map(wanted bool)                     { h.maps = append(h.maps, wanted) }
func (h *hostSpy) Preview(dropMM float64)              { h.drops = append(h.drops, dropMM) }
func (h *hostSpy) Keep()                               { h.kept++ }
func (h *hostSpy) Use(uses ...desk.Use)                { h.used = append(h.used, uses...) }
func (h *hostSpy) Prefer(study, margin string)         { h.preferred = append(h.preferred, study+": "+margin) }
func (h *hostSpy) Fly(to Flight)                       { h.flown = append(h.flown, to) }
func (h *hostSpy) TryShield(sh layout.Shield)          { h.tried = append(h.tried, sh) }
func (h *hostSpy) KeepShield()                         { h.keptShield++ }
func (h *hostSpy) DropShield()                         { h.dropped++ }
func (h *hostSpy) Compare()                            { h.compared++ }
func (h *hostSpy) Hint(text string)                    { h.hints = append(h.hints, text) }

func (h *hostSpy) Beside(_ string, work func() func()) {
	if show := work(); show != nil {
		show()
	}
}

func (h *hostSpy) Decide(of layout.Decision, failed func(err error)) {
	h.decided = append(h.decided, of)
	if h.refuse != nil {
		failed(h.refuse)
	}
}

func (h *hostSpy) Pose(part string, moveMM, _ geom.Vec, failed func(err error)) {
	h.posed, h.moveMM = part, moveMM
	if h.refuse != nil {
		failed(h.refuse)
	}
}
func (h *hostSpy) Edit(path string)                { h.opened = append(h.opened, path) }
func (h *hostSpy) CloseEditor()                    { h.opened = append(h.opened, "closed") }
func (h *hostSpy) BringMesh(done func(rel string)) { done(h.brings) }
func (h *hostSpy) TakeOver(rule string)            { h.opened = append(h.opened, rule) }
func (h *hostSpy) Change(_ string, tries [][]desk.Change, _ func(s *desk.State, made int, err error)) {
	h.changes = append(h.changes, tries...)
}
func (h *hostSpy) Check([]desk.Change, func(err error)) {}
