package report

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strings"
	"time"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
)

// The sample car and all its figures are invented.

func ptr(v float64) *float64 { return &v }

func vec(x, y, z float64) *geom.Vec { return &geom.Vec{x, y, z} }

// samplePicture draws a coloured gradient with a disc; seed varies it.
func samplePicture(name, caption string, w, h, seed int) *Picture {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.NRGBA{uint8(200 + 40*x/w), uint8(210 + 30*y/h), 225, 255}
			dx, dy := x-w/2-seed/2, y-h/2
			if dx*dx+dy*dy < h*h/9 {
				c = color.NRGBA{uint8(60 + 7*seed%90), 110, 118, 255}
			}
			img.SetNRGBA(x, y, c)
		}
	}
	return packed(name, img, caption)
}

// packed is the picture of an image that can be packed.
func packed(name string, img image.Image, caption string) *Picture {
	p, err := NewPicture(name, img, caption)
	if err != nil {
		panic(err)
	}
	return p
}

// sampleFinding is the i-th of the findings; every sixth fails.
func sampleFinding(i int) Finding {
	f := Finding{
		ID: fmt.Sprintf("F-%03d", i), Zone: []string{"left bank", "right bank", "tunnel", "deck", "rear"}[i%5],
		PartA: fmt.Sprintf("coil %d", i), PartB: fmt.Sprintf("primary right %d", i%7), RevA: "b", RevB: "c",
		RoleA: "coil", RoleB: "exhaust", State: []string{"static", "hot", "moving", "all together"}[i%4],
		StaticMM: ptr(61.25 + float64(i)), MotionMM: ptr(4.5), HeatMM: ptr(1.25), ToleranceMM: ptr(1.5),
		LiveMM: ptr(54 + float64(i)), ErrorMM: ptr(1e-6), RequiredMM: ptr(50), MarginMM: ptr(4 + float64(i)),
		Rule: "role:coil to role:exhaust", Source: "common practice, no source", Habit: true,
		PointAMM: vec(1842.31+float64(i), -212.04, 415.5), PointBMM: vec(1850, -258.125, 401.75), Direction: vec(0.164, -0.98, -0.113),
		Verdict: OK,
	}
	switch {
	case i == 6:
		f.PartA = "Lüftungskanal_für_Ölkühler_hinten_rechts_mit_sehr_langem_Namen_und_Übergangsstück_Größe_3"
		f.PartB = "secondary_air_injection_valve_bracket_reinforcement_plate_upper_left_outer_including_fasteners_and_tool_room"
		f.Source = strings.Repeat("A rule text that goes on and on, with reasons, history and exceptions. ", 14)
		f.Habit = false
		fallthrough
	case i%6 == 0:
		f.Verdict, f.LiveMM, f.MarginMM = Short, ptr(45.8-float64(i)/10), ptr(-4.2-float64(i)/10)
		f.Picture = samplePicture(fmt.Sprintf("f-%03d", i), "Seen along the narrowest gap, from the rear right", 160, 100, i)
		f.Section = samplePicture(fmt.Sprintf("f-%03d-section", i), "Section square to the deck through both points", 160, 65, i+3)
		f.Dimension = "45.20 mm between coil body and pipe outer wall"
		f.WorstPose = "roll 3.0°, pitch −1.0°, down 10 mm"
	case i%10 == 7:
		f.Verdict, f.LiveMM, f.MarginMM = Close, ptr(51.5), ptr(1.5)
		f.Owner, f.Due, f.Decision, f.Comment = "exhaust group", "2027-01-31", "accepted", "=SUM(A1) is what a rogue text looks like"
	case i%10 == 9:
		f.Verdict, f.AtLeast, f.RequiredMM, f.MarginMM, f.Source, f.Habit = NoRule, true, nil, nil, "", false
	}
	if i == 12 {
		f.Verdict, f.StaticMM, f.LiveMM, f.MarginMM = Overlap, ptr(-3.75), ptr(-8.25), ptr(-58.25)
		f.VolumeMM3, f.MoveOutMM, f.Section = ptr(1234.4), vec(0, 8.3, -0.4), nil
	}
	if i == 18 {
		f.Decision, f.Owner, f.History = "open", "coil group", []string{"undated: open, exhaust group", "2027-01-08: open, coil group. It's theirs"}
		f.Picture, f.Section, f.LiveMM, f.MarginMM = nil, nil, ptr(49.9996), ptr(-0.0004)
	}
	return f
}

// richModel fills every part of a report.
func richModel() *Model {
	m := &Model{
		Title: "Bramble: low powertrain, Übergabe an den Prüfkreis", Variant: "bramble-b", Revision: "r17", Author: "Layout team",
		Program: "aftbay 0.1.0", Date: time.Date(2027, 1, 15, 9, 30, 0, 0, time.UTC),
		Axes:  "Vehicle axes: X rearward, Y to the right, Z up, right-handed; origin at the front axle on the ground.",
		Units: "Lengths in mm, angles in degrees, temperatures in °C, differences of temperature in K.",
		States: []State{
			{"static", "as posed"},
			{"hot", "parts with growth scaled about their anchor"},
			{"moving", "every group anywhere in its motion box; the least clearance over the whole box, not of samples"},
			{"all together", "hot and moving at once, tolerances taken off"},
		},
		Tiles: []Tile{
			{"Does it fit?", "−8.25 mm, coil 12 to primary right 5: solids share space; 19 more pairs are short", Overlap},
			{"How low can it go?", "31.40 mm: the left half-shaft's inner joint reaches 18° at full bump", OK},
			{"Can the driver see?", "84 % of the required field, either eye; plenum top takes 9 %", Close},
			{"What gets hot?", "coil 5: 162 °C (138 to 190), limit 150 °C, hard drive", Over},
			{"Where can it be mounted?", "front left of the block, 96 °C, 180 mm of lead", OK},
			{"What changed?", "2 findings cured, 1 new since r16", NoRule},
		},
		Stop: "Coil 12 overlaps primary right 5 by 8.25 mm with everything moving.",
	}
	for i := 1; i <= 120; i++ {
		m.Findings = append(m.Findings, sampleFinding(i))
	}
	fillStudies(m)
	fillBasis(m)
	return m
}

func fillStudies(m *Model) {
	ground, angle, soak := Line{Name: "ground clearance, laden"}, Line{Name: "half-shaft angle, full bump"}, Line{Name: "coil 5"}
	air := Line{Name: "bay air"}
	for i := 0; i <= 40; i++ {
		x := 2 * float64(i)
		ground.Points = append(ground.Points, mgl64.Vec2{x, 160 - x})
		angle.Points = append(angle.Points, mgl64.Vec2{x, 120 + 12*math.Sin(x/20)})
		soak.Points = append(soak.Points, mgl64.Vec2{x * 15, 120 + 50*math.Exp(-math.Pow((x-30)/25, 2))})
		air.Points = append(air.Points, mgl64.Vec2{x * 15, 60 + 30*math.Exp(-x/30)})
	}
	m.Drop = &Drop{
		Sentence: "The powertrain can drop by 31.40 mm; then the left half-shaft's inner joint reaches its limit.",
		LeastMM:  ptr(0), MostMM: ptr(31.4),
		Limits: []DropLimit{
			{Name: "half-shaft left, inner joint, bump", MostMM: ptr(31.4), Detail: "18.0°", Source: "joint maker's figure, invented", Verdict: OK, Binding: true},
			{Name: "ground, laden", MostMM: ptr(50), Detail: "110.0 mm", Source: "common practice, no source", Habit: true, Verdict: OK},
			{Name: "deck, no limit within the range", Detail: unknown, Verdict: NoRule},
		},
		Plots: []Plot{{
			Title: "What the drop does", XLabel: "drop, mm", YLabel: "clearance, mm", Lines: []Line{ground, angle},
			Marks:   []PlotMark{{Name: "least ground clearance 110 mm", Place: mgl64.Vec2{0, 110}}, {Name: "half-shaft limit at 31.40 mm", Upright: true, Place: mgl64.Vec2{31.4, 0}}},
			Caption: "Both curves in the laden attitude.",
		}},
		Picture: samplePicture("drop", "At the lowest place", 200, 75, 4),
	}
	m.RearView = &RearView{
		Sentence: "Either eye sees 84 % of the required field.", Requirement: "UN R46 class I",
		Rows:     []RearRow{{What: "either eye", Seen: "84.00", Verdict: Close}, {What: "plenum top", Lost: "9.00", NoLoss: "941.60", Allowed: "959.20", Margin: "-3.10", Verdict: NoRule}},
		Pictures: []*Picture{samplePicture("rear-view", "What the mirror shows", 160, 65, 6)},
		Notes:    []string{"An engineering check of the geometry, no approval."},
	}
	limit := ptr(150)
	rows := []HeatRow{
		{Part: "coil 5", Role: "coil", LowDegC: 137.6, NominalDegC: 162.2, HighDegC: 189.9, LimitDegC: limit, LimitSource: "common practice, no source", Habit: true, MarginK: ptr(-12.2), HighMarginK: ptr(-39.9), Verdict: Over, From: []Share{{"primary right 2", 0.61}, {"collector right", 0.17}, {"surroundings", 0.22}}},
		{Part: "harness, coils", Role: "harness", LowDegC: 82, NominalDegC: 96, HighDegC: 113, LimitDegC: ptr(125), LimitSource: "cable class, from memory", MarginK: ptr(29), HighMarginK: ptr(12), Verdict: Close, From: []Share{{"collector right", 0.4}}},
		{Part: "primary right 2", Role: "exhaust", LowDegC: 700, NominalDegC: 760, HighDegC: 820, Verdict: NoRule},
	}
	soaked := append([]HeatRow(nil), rows...)
	for i := range soaked {
		soaked[i].PeakTimeS, soaked[i].AboveLimitS = ptr(420+60*float64(i)), ptr(30)
	}
	m.Heat = &Heat{
		Sentence:   "Coil 5 is over its limit in the hard drive: 162 °C (138 to 190), limit 150 °C.",
		Validation: "No measured validation yet: held against published closed forms only.",
		Shields: []Shield{{
			Name: "trial shield", Over: "primary right 2", For: "coil 5", Sentence: "Coil 5 in hard drive: 162 °C without, 139 °C with trial shield.", Left: 3,
			Rows: []ShieldRow{{Case: "hard drive", Part: "coil 5", BeforeDegC: 162.2, AfterDegC: 139.4, HighBeforeDegC: 189.9, HighAfterDegC: 161, ByK: -22.8, BeforeWM2: 8210, AfterWM2: 4730, BeforeVerdict: Over, Verdict: Over}},
		}},
		Warnings: []HeatWarning{{"Oil hose: if engine oil leaks onto primary 3, it may ignite.", "invented row for this test"}},
		Cases: []HeatCase{
			{Name: "hard drive", Conditions: "Air 60 °C at 2 m/s, surroundings 50 °C.", BalanceW: ptr(0.42), Rows: rows, Left: 12, Ways: []HeatWay{{"coil 5", 38.2, 11.7, -24.9, -13.8, 10, -21.2, "temperature of held parts −33 +33 K"}}, Picture: samplePicture("heat-hard-drive", "Nominal temperature, seen from the rear right", 200, 105, 9), Irradiation: samplePicture("heat-hard-drive-irradiation", "Nominal irradiation, seen from the rear right", 200, 105, 9)},
			{Name: "hot soak after hard drive", Conditions: "Air at rest, 20 min.", Rows: soaked, Plots: []Plot{{Title: "After key-off", XLabel: "time, s", YLabel: "temperature, °C", Lines: []Line{soak, air}, Marks: []PlotMark{{Name: "limit of coil 5, peak", Place: mgl64.Vec2{0, 150}}}}}},
			{Name: "slow climb", Conditions: "Not run."},
		},
	}
	m.Spots = []SpotStudy{
		{Name: "coil", Role: "coil", Sentence: "The front left of the block is best.", LimitDegC: ptr(130), Spots: []Spot{
			{Rank: 1, Host: "block", PointMM: mgl64.Vec3{1620, -180, 320}, LowDegC: ptr(84), NominalDegC: ptr(96), HighDegC: ptr(110), ClearanceMM: ptr(18.5), ReachMM: ptr(180), Score: ptr(0.82), Verdict: OK, Remark: "tool path free"},
			{Rank: 2, Host: "cam cover left", PointMM: mgl64.Vec3{1700, -260, 520}, LowDegC: ptr(101), NominalDegC: ptr(118), HighDegC: ptr(131), ClearanceMM: ptr(12), ReachMM: ptr(95), Score: ptr(0.4), Verdict: Over},
		}, Refused: []Refusal{{"hotter than the limit", 412, "block, at 1, 2, 3: 131 °C, 130 allowed"}, {"no room for the body", 1203, ""}, {"no straight way for the tool", 77, ""}}},
		{Name: "crank sensor", Role: "sensor", Sentence: "No place meets every demand.", Refused: []Refusal{{"out of reach", 900, ""}}},
	}
	m.Changes = &Changes{Sentence: "2 findings cured, 1 new since r16.", Others: []string{"Drop: 0.00 to 31.40 mm; before 0.00 to 25.00 mm.", "Heat: 1 newly over, 0 worse."}, Tables: []Figures{
		{Title: "Heat", Heads: []Head{{"change", false}, {"part", false}, {"before °C", true}, {"now °C", true}, {"by K", true}}, Rows: [][]string{{"new", "coil 5", "121", "162", "+41"}, {"cooler", "deck", "80", "71", "-9"}}},
		{Title: "Drop: how low each limit lets it go", Heads: []Head{{"what", false}, {"unit", false}, {"before", true}, {"now", true}}, Rows: [][]string{{"sump to undertray", "mm", "25.00", "53.25"}, {"pump (gone)", "mm", "44.10", ""}}},
	}, Rows: []ChangeRow{
		{"moved", "oil tank", "0, 0, 0", "0, 12, −4 mm", ""},
		{"new", "F-012 coil 12 to primary right 5", "ok 3.10 mm", "−8.25 mm", Overlap},
	}}
}

func fillBasis(m *Model) {
	m.Assumptions = []string{
		"Envelopes are rigid; growth and motion are those of the layout file.",
		"Exhaust temperatures are held as given: ± 50 K in the band.",
		strings.Repeat("A long assumption that needs several lines to be told in full. ", 6),
	}
	m.Unchecked = []Unchecked{{"airbox to deck lid", "moving", "airbox is an open sheet without an inside"}}
	for i := range 40 {
		m.Joined = append(m.Joined, Joined{fmt.Sprintf("head left %d", i), "block"})
		m.Inputs = append(m.Inputs, Input{fmt.Sprintf("meshes/part_%02d.stl", i), strings.Repeat(fmt.Sprintf("%02x", i+16), 32)})
	}
	m.Sources = []Source{
		{"coil to exhaust 50 mm", "common practice, no source", Habit},
		{"burn threshold", "ISO 13732-1:2006, figures from memory", Memory},
		{"fuel line to exhaust 50 mm", "student racing rules, fuel system location clause", Seen},
	}
	m.Cautions = StandingCautions()
	m.Cautions[1].Rows = []CautionRow{{"engine oil", "304 to 610 °C", "hot surface, range over tests", "invented row for this test"}}
}
