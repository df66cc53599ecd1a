package demo

import (
	"aftbay/geom"
	"aftbay/geom/layout"
)

// positionsFile holds the named load cases of the powertrain.
const positionsFile = "positions.csv"

// positions are load cases beside the motion box: a pothole goes lower than the
// box, full torque rolls to its edge. Common practice, no source.
const positions = `name,x_mm,y_mm,z_mm,roll_deg,pitch_deg,yaw_deg
full torque,2,0,0,1.5,0.2,0
overrun,-2,0,0,-0.8,-0.1,0
hard corner left,0,3,-1,0.5,0,0.1
pothole 3 g,0,0,-9,0,0.3,0
`

// vehicle: the numbers of the invented car.
func (c *car) vehicle() {
	c.doc.Vehicle = &layout.Vehicle{
		FrontAxleMM: geom.Vec{0, 0, wheelZMM}, RearAxleMM: geom.Vec{rearAxleMM, 0, wheelZMM}, TyreRadiusMM: wheelZMM,
		TrackMM: 2 * halfTrackMM, GroundZMM: 0, MassKg: 1390, CgMM: &geom.Vec{1479, 0, 445}, LateralG: new(1.1),
		LeastDepartureDeg: new(10.0), LeastRampDeg: new(8.0), LeastUnderAxleMM: new(90.0),
		Attitudes: []layout.Attitude{
			{Name: "design", LeastGroundMM: new(95.0)},
			{Name: "laden", FrontDownMM: 12, RearDownMM: 30, LeastGroundMM: new(65.0)},
			{Name: "full bump", FrontDownMM: 55, RearDownMM: 70, LeastGroundMM: new(25.0)},
			{Name: "rear axle in bump", RearDownMM: 70, LeastGroundMM: new(20.0)},
			{Name: "braking", FrontDownMM: 35, RearDownMM: -20, LeastGroundMM: new(60.0)},
		},
		Notes: "All invented for the demo.",
	}
	c.doc.Groups = []layout.Group{{
		Name: powertrain, PivotMM: geom.Vec{1950, 0, 340}, Positions: positionsFile,
		Motion: &layout.Motion{
			XMM: layout.Range{-5, 5}, YMM: layout.Range{-3, 3}, ZMM: layout.Range{-5, 4},
			RollDeg: layout.Range{-1.5, 1.5}, PitchDeg: layout.Range{-0.4, 0.4},
			Notes: "stiff sports mounts: common practice, no source",
		},
	}}
	crank := geom.Vec{blockToMM, 0, crankZMM}
	c.doc.Drop = &layout.Drop{
		Group: powertrain, RangeMM: layout.Range{0, 80}, ShiftMM: &layout.Range{-30, 30}, CrankMM: &crank,
		DeckPoints: []layout.DeckPoint{
			{Name: "plenum", AtMM: [2]float64{1815, 0}}, {Name: "throttle", AtMM: [2]float64{2060, 0}}, {Name: "muffler", AtMM: [2]float64{2900, 0}},
		},
	}
	c.doc.ShaftLines = []layout.ShaftLine{{Name: "crank to input", CrankMM: crank, CrankGroup: powertrain, InputMM: crank, InputGroup: powertrain}}
	c.doc.RearView = &layout.RearView{
		RPointMM:    &rPoint,
		Mirror:      &layout.Mirror{CentreMM: mirrorCentre, WidthMM: 240, HeightMM: 60, Aim: &mirrorAim},
		GlassMM:     rearGlass,
		RearEndXMM:  new(rearEndXMM),
		Requirement: "UN R46 class I",
		Variants: []layout.ViewVariant{
			{Name: "deck lid 8 mm higher", Parts: []layout.ViewShift{{Part: "deck lid", MoveMM: geom.Vec{0, 0, 8}}}},
			{Name: "deck lid off", Without: []string{"deck lid"}},
		},
		Forward: &layout.Forward{TargetMM: []geom.Vec{{-10750, -1500, 0}, {-10750, 1500, 0}}, Notes: "road 12 m ahead of the eyes, 3 m wide: common practice, no source"},
	}
}

// heat: the cases of the heat study.
func (c *car) heat() {
	c.doc.Heat = &layout.Heat{
		Cases: []layout.HeatCase{
			{Name: "hard drive", AirDegC: new(65.0), AirSpeedMS: new(3.0), SurroundingsDegC: new(60.0), Notes: "bay air 15-40 K over ambient: common practice, no source"},
			{Name: "slow climb", AirDegC: new(66.0), AirSpeedMS: new(2.6), SurroundingsDegC: new(60.0)},
			{Name: "hot soak", After: "hard drive", AirSpeedMS: new(0.0), Minutes: new(20.0), AirSettlesDegC: new(60.0), AirTimeS: new(600.0)},
		},
		Spread: &layout.Spread{
			SourceK: new(50.0), Emissivity: new(0.1), Film: &layout.Range{0.7, 1.4}, AirK: new(12.0), SurroundingsK: new(15.0),
			Notes: "Skin of the exhaust ±50 K, air ±12 K as if measured on the last car: invented. Film: correlations hold within 20 to 30 % (from memory), speed of the air within a third (invented).",
		},
		PatchMM: new(40.0), Rays: new(512), Seed: new(uint64(1)),
		Shields: []layout.Shield{{
			Name: "trial shield", Over: "primary 5", For: "coil 5", OffsetMM: new(12.0), Material: "Aluminium foil shield, embossed, in service (dust, oil film)",
			ThicknessMM: new(0.5), Notes: "there is hardly room for it; invented for the demo",
		}},
		Notes: "Invented for the demo. Estimate for comparing positions. Not a release. Measure before use.",
	}
}

// spots: where the hottest coil and the crank sensor could sit instead.
func (c *car) spots() {
	plug := banks[1].point(rightBoreMM+pitchMM, headTopMM, 0)
	flywheel := geom.Vec{2010, 0, crankZMM}
	c.doc.Spots = []layout.Spot{
		{
			Name: "coil 5 elsewhere", Mesh: coilFile, Role: "coil", Hosts: []string{"role:engine", "role:transaxle"},
			ServeMM: &plug, ReachMM: new(900.0), LimitDegC: &layout.Limit{ContinuousDegC: new(130.0), PeakDegC: new(150.0), Notes: coilLimit},
			Tool:       &layout.Tool{DiameterMM: 45, LengthMM: 150, Notes: "socket and ratchet: common practice, no source"},
			Thermal:    &layout.Thermal{PowerW: coilW, Mount: &layout.Mount{To: "block", WK: boltedWK, Notes: "two bolts, on whichever host; invented for the demo"}},
			Emissivity: new(0.92), Replaces: "coil 5",
		},
		{
			Name: "crank sensor elsewhere", Mesh: sensorFile, Role: "sensor", Hosts: []string{"part:block", "part:sump", "part:bell housing"},
			ServeMM: &flywheel, ReachMM: new(260.0), LimitDegC: &layout.Limit{ContinuousDegC: new(140.0), PeakDegC: new(150.0), Notes: hallLimit},
			Tool: &layout.Tool{DiameterMM: 30, LengthMM: 120}, Emissivity: new(0.92), Replaces: "crank sensor",
			Lead:     &layout.Lead{DiameterMM: new(6.0), Notes: "screened pair, invented for the demo"},
			KeepFrom: []layout.Keep{{From: "role:coil", LeastMM: 50, Notes: "high voltage to signal: common practice, no source"}},
			SplashMM: new(150.0),
		},
	}
}
