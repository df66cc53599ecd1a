package desk

import (
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/render"
	"aftbay/geom/say"
	"aftbay/thermal/balance"
	"aftbay/thermal/spot"
)

// askFor makes the layout ask for places of coils on the block.
func askFor(t *testing.T, d *Desk, names ...string) {
	t.Helper()
	err := d.Edit("ask for coils", func(doc *layout.Document) error {
		for _, name := range names {
			doc.Spots = append(doc.Spots, layout.Spot{
				Name: name, Mesh: "pipe.stl", Role: "coil", Hosts: []string{"part:block"},
				Thermal: &layout.Thermal{PowerW: 5, Mount: &layout.Mount{To: "pipe", WK: 1}},
			})
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Several components are mounted as one edit, each with its own thermal links,
// and one undo takes them back.
func TestUseSpotsIsOneEdit(t *testing.T) {
	d := opened(t)
	askFor(t, d, "left coil", "right coil")
	before := len(d.State().Doc.Parts)
	err := d.UseSpots([]Use{
		{"left coil", spot.Spot{Rank: 1, Host: "block", PointMM: geom.Vec{1, 2, 3}}},
		{"right coil", spot.Spot{Rank: 1, Host: "pipe", PointMM: geom.Vec{4, 5, 6}}},
	})
	if err != nil {
		t.Fatal(err)
	}
	doc := d.State().Doc
	if len(doc.Parts) != before+2 {
		t.Fatalf("%d parts", len(doc.Parts))
	}
	for i, host := range []string{"block", "pipe"} {
		if p := doc.Parts[before+i]; p.Thermal.Mount.To != host || p.Thermal.PowerW != 5 {
			t.Errorf("%s: %+v", p.Name, p.Thermal.Mount)
		}
		if to := doc.Spots[i].Thermal.Mount.To; to != "pipe" {
			t.Errorf("the task's own mount now leads to %s", to)
		}
	}
	if err := d.Undo(); err != nil || len(d.State().Doc.Parts) != before {
		t.Errorf("undo: %v, %d parts", err, len(d.State().Doc.Parts))
	}
}

// What matters most is an edit of the weights, and is told back.
func TestPriority(t *testing.T) {
	d := opened(t)
	askFor(t, d, "coil")
	s := d.State()
	s.Answers.Spots.Value = &spot.Result{Studies: []spot.Study{{Name: "coil"}}}
	for _, margin := range Priorities[1:] {
		if err := d.SetPriority("coil", margin); err != nil {
			t.Fatal(err)
		}
		s.Doc = d.State().Doc
		if got := PriorityOf(&s, &Attention{}); got != margin {
			t.Errorf("asked for %q, told %q", margin, got)
		}
	}
	if err := d.SetPriority("coil", PriorityNone); err != nil || d.State().Doc.Spots[0].Weights != nil {
		t.Errorf("all alike: %v, %+v", err, d.State().Doc.Spots[0].Weights)
	}
	if err := d.SetPriority("lamp", PriorityCool); err == nil {
		t.Error("a component that nobody asks for has weights")
	}
}

// The map cuts the hosts into pieces without losing any of their area, each
// piece in the colour of what was tried nearest, and its key counts them.
func TestWhyMap(t *testing.T) {
	d := opened(t)
	askFor(t, d, "coil")
	s := d.State()
	i, _ := s.Scene.Index("block")
	box := s.Scene.Parts[i].Box
	st := spot.Study{Name: "coil"}
	top := geom.Vec{0, 0, 1}
	for k := range 40 { // the front half of the top passes, the rear is too hot
		reason := ""
		x := box.Min[0] + (box.Max[0]-box.Min[0])*(float64(k%10)+0.5)/10
		if x > box.Center()[0] {
			reason = spot.TooHot
		}
		y := box.Min[1] + (box.Max[1]-box.Min[1])*(float64(k/10)+0.5)/4
		st.Tried = append(st.Tried, spot.Tried{Host: i, PointMM: geom.Vec{x, y, box.Max[2]}, Normal: top, Reason: reason})
	}
	s.Answers.Spots.Value = &spot.Result{Studies: []spot.Study{st}}
	pic := NewPainter().Picture(&s, &Attention{Page: Mounts, Why: true})
	if KeyOf(&s, &Attention{Page: Mounts, Why: true}) == KeyOf(&s, &Attention{Page: Mounts}) {
		t.Error("the picture with the map counts as the same as that without")
	}
	areaMM2 := 0.0
	colors := map[render.RGB]float64{}
	for k := len(s.Scene.Parts); k < len(pic.Items); k++ {
		it := &pic.Items[k]
		for tri := range it.Mesh.Tris {
			a, b, c := it.Mesh.Corners(tri)
			cross := it.Pose.Dir(b.Sub(a).Cross(c.Sub(a)))
			areaMM2 += cross.Len() / 2
			if cross.Normalize()[2] > 0.9 {
				colors[it.Color] += cross.Len() / 2
			}
		}
		if pic.Parts[k] != "block" {
			t.Errorf("a piece of %q", pic.Parts[k])
		}
	}
	if want := s.Scene.Parts[i].Measures.AreaMM2; areaMM2 < 0.999*want || areaMM2 > 1.001*want {
		t.Errorf("pieces of %.0f mm² in all, the host has %.0f", areaMM2, want)
	}
	ok, hot := colors[render.OkColor], colors[render.ShortColor]
	if ok == 0 || hot/ok < 0.9 || hot/ok > 1.1 {
		t.Errorf("top: %.0f mm² pass, %.0f too hot", ok, hot)
	}
	if !pic.Items[i].Hidden || pic.Overlay.Key == nil || len(pic.Overlay.Key.Entries) != 2 || !strings.HasSuffix(pic.Overlay.Key.Entries[0].Text, ": 20") {
		t.Errorf("key %+v", pic.Overlay.Key)
	}
	for _, reason := range []string{
		"", spot.Buried, spot.TooFar, spot.Walled, spot.NotFlat, spot.NearGround, spot.Splashed, spot.Overlap, spot.NotKept,
		spot.OverFill, spot.TooClose, spot.NoTool, spot.NoSwing, spot.NoRemoval, spot.NoLead, spot.TooHot,
	} {
		if kindOf(reason) < 0 {
			t.Errorf("%q has no colour", reason)
		}
	}
}

// A place is compared with where the part sits now, and what would help is told.
func TestSpotWords(t *testing.T) {
	st := &spot.Study{
		Present: &spot.Present{Temperature: &balance.Band{LowDegC: 104, NominalDegC: 143, HighDegC: 184}},
		Changes: []spot.Change{{Opens: 3, Sentence: say.Of("A longer lead opens 3.")}, {Sentence: say.Of("opens none")}, {Opens: 2, Estimate: true, Sentence: say.Of("A shield opens 2.")}},
	}
	straightMM, leadMM := 200.0, 260.0
	sp := &spot.Spot{Sentence: say.Of("Left side of block."), Temperature: &balance.Band{LowDegC: 84, NominalDegC: 118, HighDegC: 153}, ReachMM: &leadMM, StraightMM: &straightMM, SlackMM: 12}
	text := strings.Join(SpotText(st, sp), "\n")
	for _, want := range []string{"Left side of block.", "Now 104 to 184 °C", "here 84 to 153 °C", "25 K cooler", "Lead 260 mm around", "200 mm straight", "leave 12 mm of slack"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if got := scoreText(-0.002) + scoreText(1.005) + scoreText(-1.2); got != "0.00"+"1.00"+"-1.20" {
		t.Errorf("scores %q", got)
	}
	if lines := ChangesText(st); len(lines) != 2 || lines[0] != "A longer lead opens 3." || lines[1] != "[estimate] A shield opens 2." {
		t.Errorf("%q", lines)
	}
}
