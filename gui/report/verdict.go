package report

// Verdict is the sign beside an answer.
type Verdict string

// The verdicts, worst first. The empty verdict means that nothing was judged.
const (
	Overlap Verdict = "overlap" // solids share space
	Short   Verdict = "short"   // below the required clearance
	Over    Verdict = "over"    // above the temperature or share allowed
	Close   Verdict = "close"   // met with little to spare
	OK      Verdict = "ok"
	NoRule  Verdict = "no rule" // nothing says what is required
)

// verdicts lists every verdict, worst first. Read-only.
var verdicts = [...]Verdict{Overlap, Short, Over, Close, OK, NoRule}

// Fails tells whether the verdict stops a release of the layout.
func (v Verdict) Fails() bool { return v == Overlap || v == Short || v == Over }

// known tells whether v is one of the verdicts, or empty.
func (v Verdict) known() bool {
	if v == "" {
		return true
	}
	for _, k := range verdicts {
		if v == k {
			return true
		}
	}
	return false
}

// shape is the outline of a verdict's mark; colour alone is never enough.
type shape int

const (
	shapeRing shape = iota
	shapeCircle
	shapeTriangle
	shapeSquare
	shapeDiamond
)

// sign returns the mark of a verdict: its outline and its colour.
//
// Source: colours of M. Okabe and K. Ito, "Color Universal Design", 2008, from
// memory; the pairing with shapes is our own.
func (v Verdict) sign() (shape, ink) {
	switch v {
	case OK:
		return shapeCircle, ink{0, 158, 115}
	case Close:
		return shapeTriangle, ink{230, 159, 0}
	case Short, Over:
		return shapeSquare, ink{213, 94, 0}
	case Overlap:
		return shapeDiamond, ink{204, 121, 167}
	default:
		return shapeRing, ink{120, 126, 130}
	}
}
