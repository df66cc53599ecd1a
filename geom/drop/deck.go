package drop

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
)

// skins are the roles that form or stand above the deck: under a deck point
// everything else counts. Read-only.
var skins = map[string]bool{"deck": true, "body": true, "glass": true, "road": true, "sightline": true}

// deckTop is what stands under the deck at one named place: the highest that
// goes along and the highest that does not, clearance to the deck included.
type deckTop struct {
	name string
	best [2]struct {
		topMM, leastMM float64
		part           string
	}
}

// underDeck looks down at every deck point.
func (st *Study) underDeck() {
	st.tops = nil
	if st.scene.Doc.Drop == nil {
		return
	}
	decks, err := st.scene.Select("role:deck")
	if err != nil {
		decks = nil // no such role in this layout: nothing asks for a clearance to it
	}
	for _, p := range st.scene.Doc.Drop.DeckPoints {
		st.tops = append(st.tops, st.lookDown(p, decks))
	}
}

func (st *Study) lookDown(at layout.DeckPoint, decks []int) deckTop {
	t := deckTop{name: at.Name}
	for half := range t.best {
		t.best[half].topMM = math.Inf(-1)
	}
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if skins[p.Role] {
			continue
		}
		half, from := stands, geom.Vec{at.AtMM[0], at.AtMM[1], p.Box.Max[2] + 1}
		if p.Group == st.group {
			half, from = follows, from.Sub(st.aside)
		}
		back := p.Pose.Inverse()
		hit, ok := p.Tree.FirstHit(back.Point(from), back.Dir(geom.Vec{0, 0, -1}), math.Inf(1))
		if !ok {
			continue
		}
		topMM, leastMM := from[2]-hit.DistMM, 0.0
		for _, d := range decks {
			leastMM = math.Max(leastMM, st.probe.LeastMM(i, d, layout.StateStatic))
		}
		if b := &t.best[half]; topMM+leastMM > b.topMM+b.leastMM {
			b.topMM, b.leastMM, b.part = topMM, leastMM, p.Name
		}
	}
	return t
}

// deckHeights returns how low the deck could come over every deck point under
// which something stands.
func (st *Study) deckHeights(dropMM float64) []DeckHeight {
	var groundMM float64
	if st.v != nil {
		groundMM = st.v.GroundZMM
	}
	var out []DeckHeight
	for _, t := range st.tops {
		moved, still := t.best[follows], t.best[stands]
		moved.topMM -= dropMM
		b := moved
		if still.topMM+still.leastMM > moved.topMM+moved.leastMM {
			b = still
		}
		if b.part != "" {
			out = append(out, DeckHeight{t.name, b.topMM - groundMM, b.part, b.leastMM, b.topMM + b.leastMM - groundMM})
		}
	}
	return out
}

// deckMM returns the least clearance of the dropped group to the deck, 0 where
// they overlap, nil without a deck.
func (st *Study) deckMM(ctx context.Context, dropMM float64, decks []int) (*float64, error) {
	least := math.Inf(1)
	for _, d := range decks {
		deck := st.scene.Body(d)
		if st.scene.Parts[d].Group == st.group {
			continue
		}
		for i := range st.scene.Parts {
			if st.scene.Parts[i].Group != st.group {
				continue
			}
			body := st.scene.Body(i)
			body.Pose.T = body.Pose.T.Add(st.shift(dropMM))
			r, err := dist.Between(ctx, body, deck, dist.Options{EnoughMM: least})
			if err != nil {
				return nil, err
			}
			if r.Overlap {
				r.GapMM, r.AtLeast = 0, false
			}
			if !r.AtLeast {
				least = math.Min(least, r.GapMM)
			}
		}
	}
	if math.IsInf(least, 1) {
		return nil, nil
	}
	return &least, nil
}
