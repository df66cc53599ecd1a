package desk

import "aftbay/geom/layout"

// lowerGroup moves the drop group of the document down, with all that is given
// in vehicle axes but sits on the group: pivot, growth anchors, temperature
// lines, the half-shafts' inner joints, routes and the points that spots serve.
func lowerGroup(doc *layout.Document, dropMM float64) {
	in := map[string]bool{}
	for i := range doc.Parts {
		if p := &doc.Parts[i]; p.Group == doc.Drop.Group {
			in[p.Name] = true
			lowerPart(p, dropMM)
		}
	}
	for i := range doc.Groups {
		if doc.Groups[i].Name == doc.Drop.Group {
			doc.Groups[i].PivotMM[2] -= dropMM
		}
	}
	for i := range doc.HalfShafts {
		if doc.HalfShafts[i].InnerGroup == doc.Drop.Group {
			doc.HalfShafts[i].InnerMM[2] -= dropMM
		}
	}
	for i := range doc.Routes {
		if doc.Routes[i].Group != doc.Drop.Group {
			continue
		}
		for k := range doc.Routes[i].PointsMM {
			doc.Routes[i].PointsMM[k][2] -= dropMM
		}
	}
	for i := range doc.Spots {
		if s := &doc.Spots[i]; in[s.Replaces] && s.ServeMM != nil {
			s.ServeMM[2] -= dropMM
		}
	}
}

func lowerPart(p *layout.Part, dropMM float64) {
	p.MoveMM[2] -= dropMM
	if p.Growth != nil {
		p.Growth.AnchorMM[2] -= dropMM
	}
	if p.Thermal != nil && p.Thermal.HeldAlong != nil {
		p.Thermal.HeldAlong.FromMM[2] -= dropMM
		p.Thermal.HeldAlong.ToMM[2] -= dropMM
	}
}
