package desk

import (
	"context"
	"slices"

	"aftbay/geom"
	"aftbay/geom/approach"
	"aftbay/geom/clearance"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// Until says how far something shall go: along a direction, until it is as near
// as wanted to one part or to any.
type Until struct {
	Load Load
	Dir  geom.Vec
	From string // part, "" for any that is not joined to what moves
	// KeepMM is the gap to stop at, 0 for contact. With Rules set it is what the
	// rules ask of each pair at rest, 0 where none does.
	KeepMM float64
	Rules  bool
}

// mostWayMM ends a way that meets nothing: longer than any car.
const mostWayMM = 20_000

// UntilDirections are the directions that can be chosen, by name. Read-only.
var UntilDirections = []string{"up", "down", "rearward", "forward", "right", "left"}

// DirectionOf returns the direction of a name in vehicle axes.
func DirectionOf(name string) geom.Vec {
	return map[string]geom.Vec{"up": {0, 0, 1}, "down": {0, 0, -1}, "rearward": {1, 0, 0}, "forward": {-1, 0, 0}, "right": {0, 1, 0}, "left": {0, -1, 0}}[name]
}

// What can be kept. Read-only.
var (
	UntilContact  = phrase.Of("contact")
	UntilRequired = phrase.Of("what the rules ask")
)

// ParseKeep reads a gap to stop at: a length, contact, or what the rules ask.
func ParseKeep(text string) (keepMM float64, rules bool, err error) {
	switch text {
	case UntilContact:
		return 0, false, nil
	case UntilRequired:
		return 0, true, nil
	}
	keepMM, err = units.ParseMM(text)
	if err == nil && keepMM < 0 {
		err = say.Errorf("a gap of %s cannot be kept: type 0 or more", units.FormatMM(keepMM))
	}
	return keepMM, false, err
}

// MoveUntil moves parts or a group as far as wanted, as an edit, and says how far
// that was. It takes as long as some thousand distances of pairs at most; progress,
// which may be nil, is told of them. Cancelled, nothing has moved.
func (d *Desk) MoveUntil(ctx context.Context, u Until, progress geom.Progress) (says string, err error) {
	d.mu.Lock()
	s, doc := d.shown, d.doc
	d.mu.Unlock()
	if s == nil {
		return "", ErrNothingOpen
	}
	movers, fixed, names, err := u.bodies(s, doc)
	if err != nil {
		return "", err
	}
	stop, err := approach.UntilTold(ctx, movers, fixed, u.Dir, mostWayMM, progress)
	if err != nil {
		return "", err
	}
	if !stop.Found {
		return "", say.Errorf("%s meets nothing that way: choose another direction or part", u.Load.text())
	}
	by := u.Dir.Normalize().Mul(stop.ByMM)
	mover, other := names[0][stop.Mover], names[1][stop.Obstacle]
	says = phrase.F("%s moved %s: %s is %s from %s", u.Load.text(), wayText(by), mover, units.FormatMM(max(0, stop.GapMM)), other)
	return says, d.Edit("move "+u.Load.text()+" until "+units.FormatMM(max(0, stop.GapMM))+" from "+other, func(doc *layout.Document) error {
		return u.Load.put(doc, geom.Shift(by))
	})
}

// bodies returns what moves and what it may come near to, with their names.
func (u *Until) bodies(s *scene.Scene, doc *layout.Document) (movers []dist.Body, fixed []approach.Obstacle, names [2][]string, err error) {
	moves := func(p *scene.Part) bool {
		if u.Load.Group != "" {
			return p.Group == u.Load.Group
		}
		return slices.Contains(u.Load.Parts, p.Name)
	}
	var in []*scene.Part
	for i := range s.Parts {
		if p := &s.Parts[i]; moves(p) {
			in = append(in, p)
			movers, names[0] = append(movers, s.Body(i)), append(names[0], p.Name)
		}
	}
	if len(movers) == 0 {
		return nil, nil, names, say.New("select the part that shall move first")
	}
	rules := clearance.Rules(doc)
	for i := range s.Parts {
		p := &s.Parts[i]
		if moves(p) || u.From != "" && p.Name != u.From || u.From == "" && joinedTo(doc, p.Name, names[0]) {
			continue
		}
		keepMM := u.KeepMM
		if u.Rules {
			keepMM = 0
			for _, m := range in {
				leastMM, _ := clearance.Least(rules, m, p, layout.StateStatic)
				keepMM = max(keepMM, leastMM)
			}
		}
		fixed, names[1] = append(fixed, approach.Obstacle{Body: s.Body(i), KeepMM: keepMM}), append(names[1], p.Name)
	}
	if len(fixed) == 0 {
		err = say.New("there is no other part to come near to: all are joined to it or move along")
	}
	return movers, fixed, names, err
}

// joinedTo reports whether the contact of a part with one of some is intended.
func joinedTo(doc *layout.Document, part string, others []string) bool {
	return slices.ContainsFunc(doc.Joined, func(pair [2]string) bool {
		return pair[0] == part && slices.Contains(others, pair[1]) || pair[1] == part && slices.Contains(others, pair[0])
	})
}

// UntilAsks heads the question how far something shall go.
func UntilAsks(l Load) string {
	return phrase.Of("Moves ") + l.text() + phrase.Of(" in a straight line to the first place that is as near as said; from one that is nearer, to the first where the gap is kept. Exact to a nanometre.")
}

// PartNames lists the parts and routes of a state.
func PartNames(s *State) []string {
	if s.Doc == nil {
		return nil
	}
	return partNames(s.Doc)
}
