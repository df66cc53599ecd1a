package balance

import (
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// The verdicts of a temperature, worst first.
const (
	Over    = "over"
	Close   = "close"
	OK      = "ok"
	NoLimit = "no limit"
)

// NearK: a high end that is less than this below its limit is close. Common
// practice, no source.
const NearK = 10

// Judge compares a band with a limit, strictly by its high end: over above the
// limit, close less than NearK below it, else ok. The nominal figure decides
// nothing.
func Judge(b Band, limitDegC float64) string {
	switch marginK := limitDegC - b.HighDegC; {
	case marginK < 0:
		return Over
	case marginK < NearK:
		return Close
	}
	return OK
}

// Against says a band beside its limit: "nominal 142, up to 158 °C, limit 150 °C".
func (b Band) Against(limitDegC float64) say.Text {
	return say.F("nominal %s, up to %s, limit %s", units.NumberDegC(b.NominalDegC), units.FormatDegC(b.HighDegC), units.FormatDegC(limitDegC))
}

// Judged says a band beside its limit and what follows, and whether the nominal
// figure is above the limit too.
func (b Band) Judged(limitDegC float64) say.Text {
	nominalK, highK := limitDegC-b.NominalDegC, limitDegC-b.HighDegC
	text := b.Against(limitDegC)
	switch {
	case nominalK < 0:
		return say.F("%s: the nominal is %s over it, the high end %s", text, units.FormatK(-nominalK), units.FormatK(-highK))
	case highK < 0:
		return say.F("%s: the nominal is %s below it, the high end %s over it", text, units.FormatK(nominalK), units.FormatK(-highK))
	}
	return say.F("%s: the high end is %s below it", text, units.FormatK(highK))
}

// judge compares the band with what a part stands: in a standing case with what
// it stands for long, in a soak with its peak.
func (ph *PartHeat) judge(by *stands, soak bool) {
	ph.Verdict = NoLimit
	limitDegC := by.limitFor(soak)
	if limitDegC == nil {
		return
	}
	limit := *limitDegC
	marginK, highMarginK := limit-ph.Temperature.NominalDegC, limit-ph.Temperature.HighDegC
	ph.LimitDegC, ph.MarginK, ph.HighMarginK = &limit, &marginK, &highMarginK
	ph.LimitSource, ph.LimitHabit = by.Source, by.habit
	ph.Verdict = Judge(ph.Temperature, limit)
}
