package clearance

import (
	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// Result is the answer for all pairs, the most pressing first; equals in the
// order of their parts, then of the states.
type Result struct {
	Pairs     []Pair      `json:"pairs"`
	Unchecked []Unchecked `json:"unchecked"`

	was    *memory // for the next run
	chords map[*mesh.Mesh]*chords
}

// Pair is the answer for two parts in one state.
type Pair struct {
	ID               string                `json:"id"` // "a ~ b @ state", stable between runs
	A                string                `json:"a"`
	B                string                `json:"b"`
	RoleA            string                `json:"role_a"`
	RoleB            string                `json:"role_b"`
	State            string                `json:"state"`
	ClearanceMM      float64               `json:"clearance_mm"`   // minus the deepest depth where they overlap
	ErrorMM          float64               `json:"error_mm"`       // the truth lies in [clearance − error, clearance]
	ChordErrorMM     *float64              `json:"chord_error_mm"` // how far the true surfaces may lie off their facets there, both parts; nil without a rule
	Overlap          bool                  `json:"overlap"`
	OverlapVolumeMM3 *float64              `json:"overlap_volume_mm3"` // closed bodies only
	PointA           geom.Vec              `json:"point_a_mm"`
	PointB           geom.Vec              `json:"point_b_mm"`
	LeastMM          *float64              `json:"least_mm"` // nil without a rule
	MarginMM         *float64              `json:"margin_mm"`
	Verdict          string                `json:"verdict"`
	Rule             say.Text              `json:"rule"`
	Source           string                `json:"source"`
	MoveOutMM        *geom.Vec             `json:"move_out_mm"` // of b
	StaticMM         float64               `json:"static_mm"`
	GrowthMM         float64               `json:"growth_mm"`                  // what growth alone takes off as posed, in "hot" and "all together"
	ToleranceMM      float64               `json:"tolerance_mm"`               // taken off in "all together"
	ClearanceRSSMM   *float64              `json:"clearance_rss_mm,omitempty"` // "all together" with root-sum-square tolerance
	WorstPose        map[string]GroupShift `json:"worst_pose,omitempty"`       // by group, moving states
	InsideUnknown    bool                  `json:"inside_unknown,omitempty"`   // one lacks facets, and the other may lie inside it: the gap is that of the surfaces
	Notes            []say.Text            `json:"notes,omitempty"`

	IndexA int `json:"-"`
	IndexB int `json:"-"`
}

// GroupShift is one position of a group in file units.
type GroupShift struct {
	Name     string  `json:"name,omitempty"` // of a named position
	XMM      float64 `json:"x_mm"`
	YMM      float64 `json:"y_mm"`
	ZMM      float64 `json:"z_mm"`
	RollDeg  float64 `json:"roll_deg"`
	PitchDeg float64 `json:"pitch_deg"`
	YawDeg   float64 `json:"yaw_deg"`
}

// Unchecked is a pair that was not judged, and why.
type Unchecked struct {
	A      string   `json:"a"`
	B      string   `json:"b"`
	State  string   `json:"state,omitempty"`
	Reason say.Text `json:"reason"`
}

// Worst returns the pair with the worst verdict, the smallest margin among
// equals, or nil without pairs under a rule.
func (r *Result) Worst() *Pair {
	var worst *Pair
	for i := range r.Pairs {
		p := &r.Pairs[i]
		if p.Verdict != NoRule && (worst == nil || Worse(p, worst)) {
			worst = p
		}
	}
	return worst
}

// Worse reports whether a is the more pressing finding: by verdict, then by
// margin, then by order.
func Worse(a, b *Pair) bool {
	if ra, rb := Rank(a.Verdict), Rank(b.Verdict); ra != rb {
		return ra < rb
	}
	return marginOf(a) < marginOf(b)
}

func marginOf(p *Pair) float64 {
	if p.MarginMM != nil {
		return *p.MarginMM
	}
	return p.ClearanceMM
}

// Find returns the row of two parts (indices in scene order) in a state, or nil.
func (r *Result) Find(a, b int, state string) *Pair {
	for i := range r.Pairs {
		if p := &r.Pairs[i]; p.IndexA == a && p.IndexB == b && p.State == state {
			return p
		}
	}
	return nil
}

// InsideUnknown returns the pairs, at rest, of which one part may lie inside the
// other and nobody can tell, since its mesh lacks facets.
func (r *Result) InsideUnknown() []*Pair {
	var out []*Pair
	for i := range r.Pairs {
		if p := &r.Pairs[i]; p.InsideUnknown && p.State == layout.StateStatic {
			out = append(out, p)
		}
	}
	return out
}

// Count returns how many pairs have each verdict.
func (r *Result) Count() map[string]int {
	n := map[string]int{}
	for i := range r.Pairs {
		n[r.Pairs[i].Verdict]++
	}
	return n
}
