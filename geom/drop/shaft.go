package drop

import (
	"math"

	"aftbay/geom/layout"
	"aftbay/geom/units"
)

// shaft is one half-shaft; dropMM counts only if its inner joint goes along.
type shaft struct {
	layout.HalfShaft
	follows bool
}

// AngleRad returns the joint angle with the wheel travelled by travelMM (bump
// positive) and the inner joint dropped: both joints' axes lie along Y.
func (s shaft) angleRad(dropMM, travelMM float64) float64 {
	dx, dy, dz := s.spanMM(dropMM, travelMM)
	return math.Atan2(math.Hypot(dx, dz), math.Abs(dy))
}

func (s shaft) spanMM(dropMM, travelMM float64) (dxMM, dyMM, dzMM float64) {
	if !s.follows {
		dropMM = 0
	}
	d := s.OuterMM.Sub(s.InnerMM)
	return d[0], d[1], d[2] + travelMM + dropMM
}

func (s shaft) lengthMM(dropMM, travelMM float64) float64 {
	dx, dy, dz := s.spanMM(dropMM, travelMM)
	return math.Sqrt(dx*dx + dy*dy + dz*dz)
}

// strokeMM returns the whole plunge over the travel, from the longest to the
// shortest distance of the joints: the shortest lies where they are level, if
// the travel passes there.
func (s shaft) strokeMM(dropMM float64) float64 {
	up, down := s.lengthMM(dropMM, s.BumpMM), s.lengthMM(dropMM, -s.ReboundMM)
	least := math.Min(up, down)
	_, _, restMM := s.spanMM(dropMM, 0)
	if level := -restMM; level >= -s.ReboundMM && level <= s.BumpMM {
		least = s.lengthMM(dropMM, level)
	}
	return math.Max(up, down) - least
}

// angleWindow returns the drops at which the joint angle at one travel stays
// within the limit: |dz| ≤ √((dy·tan limit)² − dx²). It is empty where the
// limit cannot be met at all, and everything where the shaft does not follow.
func (s shaft) angleWindow(travelMM, limitRad float64, within Window) []Window {
	dx, dy, dz := s.spanMM(0, travelMM)
	reach := dy*math.Tan(limitRad)*dy*math.Tan(limitRad) - dx*dx
	if reach < 0 {
		return nil
	}
	mostMM := math.Sqrt(reach)
	if !s.follows {
		if math.Abs(dz) <= mostMM {
			return []Window{within}
		}
		return nil
	}
	return clip(Window{-mostMM - dz, mostMM - dz}, within)
}

// strokeWindow returns the drops at which the plunge stays within the stroke.
// The plunge is least where the travel is centred about level joints and grows
// to both sides, so that the window is bisected from there.
func (s shaft) strokeWindow(limitMM float64, within Window) []Window {
	if !s.follows {
		if s.strokeMM(0) <= limitMM {
			return []Window{within}
		}
		return nil
	}
	_, _, dz := s.spanMM(0, 0)
	centreMM := -dz - (s.BumpMM-s.ReboundMM)/2
	if s.strokeMM(centreMM) > limitMM {
		return nil
	}
	edge := func(dir float64) float64 { // Bare numbers: dir is a sign
		// Far enough: beyond it the joints are nearer to vertical than to level.
		inMM, outMM := 0.0, 4*(within[1]-within[0]+s.BumpMM+s.ReboundMM+math.Abs(centreMM)+1)
		for outMM-inMM > bracketMM/2 {
			mid := (inMM + outMM) / 2
			if s.strokeMM(centreMM+dir*mid) <= limitMM {
				inMM = mid
			} else {
				outMM = mid
			}
		}
		return centreMM + dir*inMM
	}
	return clip(Window{edge(-1), edge(1)}, within)
}

// ShaftAngles are one half-shaft's joint angles and plunge at one drop.
type ShaftAngles struct {
	Name       string  `json:"name"`
	StaticDeg  float64 `json:"static"`
	BumpDeg    float64 `json:"bump"`
	ReboundDeg float64 `json:"rebound"`
	PlungeMM   float64 `json:"plunge_mm"` // whole stroke over the travel
}

func (s shaft) anglesAt(dropMM float64) ShaftAngles {
	return ShaftAngles{
		Name:       s.Name,
		StaticDeg:  units.Deg(s.angleRad(dropMM, 0)),
		BumpDeg:    units.Deg(s.angleRad(dropMM, s.BumpMM)),
		ReboundDeg: units.Deg(s.angleRad(dropMM, -s.ReboundMM)),
		PlungeMM:   s.strokeMM(dropMM),
	}
}
