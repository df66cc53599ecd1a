package drop

import (
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// notes says what could not be answered and where to give what is missing, and
// where the body itself breaks a limit that no drop of the group changes.
func (st *Study) notes(r *Result) {
	add := func(note say.Text) { r.Notes = append(r.Notes, note) }
	if st.within[0] == st.within[1] {
		add(say.Of("drop range_mm holds one drop only: give a least and a most one to study more"))
	}
	if len(st.shafts) == 0 {
		add(say.Of("no half-shafts in the layout: joint angles and plunge are not checked; give half_shafts"))
	}
	if st.v == nil {
		add(say.Of("no vehicle in the layout: ground, departure, ramp and centre of gravity are not checked; give vehicle"))
		return
	}
	asked := false
	for _, att := range st.v.Attitudes {
		asked = asked || att.LeastGroundMM != nil
	}
	if !asked {
		add(say.Of("no attitude asks for a height over the road: give vehicle attitudes with least_ground_mm (usual ones: design, laden, full bump, one axle in bump, braking)"))
	}
	switch {
	case !st.noAxles().IsZero():
		add(say.F("the axles are not given: departure, ramp and the arc under the axles are not checked; give %s", st.noAxles()))
	case st.v.TyreRadiusMM <= 0:
		add(say.Of("the tyres' radius is not given: departure and ramp are not checked; give vehicle tyre_radius_mm"))
	case !st.noAxleArc().IsZero():
		add(say.F("the arc under the axles is not checked; give %s", st.noAxleArc()))
	}
	if r.Mass.CGMM == nil {
		add(say.F("centre of gravity not known: %s", r.Mass.From))
	} else if st.v.TrackMM <= 0 {
		add(say.Of("load transfer and static stability factor are not computed; give vehicle track_mm"))
	}
	st.fixedNotes(r)
}

// fixedNotes says where the body itself is lower than asked: no drop of the
// group changes that, so it is no limit of the study.
func (st *Study) fixedNotes(r *Result) {
	for _, att := range st.v.Attitudes {
		if att.LeastGroundMM == nil {
			continue
		}
		mm, part := st.groundAt(NewRoad(st.v, att), 0, stands)
		if part != "" && mm < *att.LeastGroundMM {
			r.Notes = append(r.Notes, say.F("%s, not part of the group, is %s over the road, attitude %s: asked %s",
				part, units.FormatMM(mm), att.Name, units.FormatMM(*att.LeastGroundMM)))
		}
	}
	if least := st.v.LeastUnderAxleMM; least != nil {
		for axle, name := range [2]string{"front", "rear"} {
			if mm, part := st.underAxle(axle, 0, stands); part != "" && mm < *least {
				r.Notes = append(r.Notes, say.F("%s, not part of the group, leaves %s under the %s axle: asked %s",
					part, units.FormatMM(mm), say.Word(name), units.FormatMM(*least)))
			}
		}
	}
}
