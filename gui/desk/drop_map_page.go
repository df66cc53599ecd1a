package desk

import (
	"image"
	"image/color"
	"sort"

	"aftbay/geom/drop"
	"aftbay/geom/render"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// MapPage is what the page of the map shows.
type MapPage struct {
	Map      *drop.Map // nil: none yet
	Says     string    // state of the map, in a sentence
	Here     string    // what holds at the previewed place
	Running  bool
	CanStart bool
	Regions  []MapRegion
}

// MapRegion is one limit that binds somewhere on the map.
type MapRegion struct {
	Number   int
	Limit    string
	Places   int
	Row, Col int // a place in the middle of it, for its number
}

// MapPageOf returns the page of a state.
func MapPageOf(s *State) MapPage {
	a := &s.Answers.Map
	p := MapPage{Map: a.Value, Running: a.Job.Running, CanStart: s.Open && s.Range[1] > s.Range[0] && !a.Job.Running && !a.Fresh}
	switch {
	case a.Err != nil:
		p.Says = phrase.Err(a.Err)
	case !s.Open || s.Doc.Drop == nil:
		p.Says = phrase.Of("This layout studies no drop: add drop with a group and a range to the layout file.")
	case a.Value == nil && a.Job.Running:
		p.Says = phrase.Of("Looking at the first places …")
	case a.Value == nil:
		p.Says = phrase.Of("Where can the powertrain stand, going down and going fore and aft? The map shows it; it takes some seconds.")
	case a.Rough:
		p.Says = phrase.F("Coarse so far, places %s apart; finer ones follow.", units.FormatMM(a.Value.StepMM[0]))
	default:
		p.Says = phrase.Say(a.Value.Sentence())
	}
	if a.Value == nil {
		return p
	}
	if !a.Fresh && !a.Rough {
		p.Says = phrase.Of("Before the last change: ") + p.Says
	}
	p.Regions = regionsOf(a.Value)
	p.Here = mapHere(s, a.Value)
	return p
}

// mapHere says what the map has at the previewed place.
func mapHere(s *State, m *drop.Map) string {
	row, col := nearestIndex(m.ShiftsMM, s.ShiftMM), nearestIndex(m.DropsMM, s.DropMM)
	at := Stand{m.DropsMM[col], m.ShiftsMM[row]}
	text := phrase.F("At %s down, %s: ", units.FormatMM(at.DropMM), asideText(at.ShiftMM))
	limit := ""
	if k := m.Limit[row][col]; k >= 0 {
		limit = phrase.Say(m.Limits[k])
	}
	switch mm := m.MarginMM[row][col]; {
	case mm == nil:
		return text + phrase.Of("parts overlap, ") + limit
	case limit == "":
		return text + phrase.Of("no limit within ") + units.FormatMM(m.CapMM)
	case *mm < 0:
		return text + units.FormatMM(-*mm) + " missing, " + limit
	default:
		return text + units.FormatMM(*mm) + " left, " + limit
	}
}

// nearestIndex returns the place of the value that is nearest.
// Bare numbers: values of an axis.
func nearestIndex(values []float64, v float64) int {
	best := 0
	for i := range values {
		if abs(values[i]-v) < abs(values[best]-v) {
			best = i
		}
	}
	return best
}

func abs(v float64) float64 { // Bare numbers: of whatever unit
	if v < 0 {
		return -v
	}
	return v
}

// mapColumn returns the map's column at the previewed shift, nil without one.
func mapColumn(s *State) *drop.MapColumn {
	m := s.Answers.Map.Value
	if m == nil || !s.Answers.Map.Fresh {
		return nil
	}
	for i := range m.Columns {
		if m.Columns[i].ShiftMM == s.ShiftMM {
			return &m.Columns[i]
		}
	}
	return nil
}

// shiftedLine is DropLine for a group that is shifted fore or aft.
func shiftedLine(s *State) (line, verdict string) {
	where := asideText(s.ShiftMM)
	c := mapColumn(s)
	if c == nil {
		return where + phrase.Of(": draw the map to know the limits there"), ""
	}
	for i, w := range c.WindowsMM {
		if s.DropMM >= w[0] && s.DropMM <= w[1] {
			return phrase.F("%s: %s left, then %s", where, units.FormatMM(w[1]-s.DropMM), orEnd(phrase.Say(c.High[i]))), "ok"
		}
	}
	if n := len(c.WindowsMM); n > 0 {
		if w := c.WindowsMM[n-1]; s.DropMM > w[1] {
			return phrase.F("%s: %s too low, %s", where, units.FormatMM(s.DropMM-w[1]), orEnd(phrase.Say(c.High[n-1]))), "short"
		}
		return phrase.F("%s: holds at %s", where, windowsText(c.WindowsMM)), "short"
	}
	return where + phrase.Of(": holds at no drop"), "short"
}

// regionsOf numbers the limits that bind, the one with most places first.
func regionsOf(m *drop.Map) []MapRegion {
	type sum struct{ n, row, col int }
	sums := make([]sum, len(m.Limits))
	for row := range m.Limit {
		for col, k := range m.Limit[row] {
			if k >= 0 {
				sums[k].n, sums[k].row, sums[k].col = sums[k].n+1, sums[k].row+row, sums[k].col+col
			}
		}
	}
	var out []MapRegion
	for k, s := range sums {
		if s.n > 0 {
			row, col := nearestPlace(m, k, s.row/s.n, s.col/s.n)
			out = append(out, MapRegion{Limit: phrase.Say(m.Limits[k]), Places: s.n, Row: row, Col: col})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Places > out[j].Places })
	for i := range out {
		out[i].Number = i + 1
	}
	return out
}

// nearestPlace returns the place of a limit nearest to a place.
func nearestPlace(m *drop.Map, limit, row, col int) (bestRow, bestCol int) {
	best := -1
	for i := range m.Limit {
		for j, k := range m.Limit[i] {
			if d := (i-row)*(i-row) + (j-col)*(j-col); k == limit && (best < 0 || d < best) {
				best, bestRow, bestCol = d, i, j
			}
		}
	}
	return bestRow, bestCol
}

// MapPicture draws a map, cellPx points for each place: shift to the right,
// drop downwards. Green where all holds, the deeper the more room; vermilion and
// hatched where a limit is passed; purple and cross-hatched where parts overlap;
// lines between regions of different limits.
func MapPicture(m *drop.Map, cellPx int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, len(m.ShiftsMM)*cellPx, len(m.DropsMM)*cellPx))
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			row, col := x/cellPx, y/cellPx
			tone := mapTone(m, row, col, x, y)
			onLeft := x%cellPx == 0 && row > 0 && borders(m, row, col, row-1, col)
			onTop := y%cellPx == 0 && col > 0 && borders(m, row, col, row, col-1)
			if onLeft || onTop {
				tone = color.NRGBA{40, 40, 40, 255}
			}
			img.SetNRGBA(x, y, tone)
		}
	}
	return img
}

func borders(m *drop.Map, row, col, row2, col2 int) bool {
	return m.Limit[row][col] != m.Limit[row2][col2] || mapHolds(m, row, col) != mapHolds(m, row2, col2)
}

func mapHolds(m *drop.Map, row, col int) bool {
	mm := m.MarginMM[row][col]
	return mm != nil && *mm >= 0
}

// hatchPx is how far apart the lines of a hatch stand.
const hatchPx = 8

func mapTone(m *drop.Map, row, col, x, y int) color.NRGBA {
	mm := m.MarginMM[row][col]
	switch {
	case mm == nil:
		if (x+y)%hatchPx == 0 || (x-y+1<<16)%hatchPx == 0 {
			return mixed(render.OverlapColor, 1)
		}
		return mixed(render.OverlapColor, 0.55)
	case *mm < 0:
		if (x+y)%hatchPx == 0 {
			return mixed(render.ShortColor, 0.9)
		}
		return mixed(render.ShortColor, 0.2+0.3*min(1, -*mm/m.CapMM))
	}
	return mixed(render.OkColor, 0.15+0.7*min(1, *mm/m.CapMM))
}

// mixed lays a colour over white with a share.
func mixed(c render.RGB, share float64) color.NRGBA {
	of := func(v uint8) uint8 { return uint8(255 - share*(255-float64(v)) + 0.5) }
	return color.NRGBA{of(c.R), of(c.G), of(c.B), 255}
}
