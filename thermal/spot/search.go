package spot

import (
	"context"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/thermal"
	"aftbay/thermal/balance"
)

// Options steer Search. The zero value uses every processor.
type Options struct {
	Workers       int
	Seed          uint64 // of the candidates; 0: that of the heat study, else 1
	PointsPerHost int    // in the first round, on average over the hosts; 0: 100
	Most          int    // spots per component; 0: 12
	// Show, where not nil, is given answers on the way: after a few places of
	// each component, and after each component. They are Refining and must not
	// be changed. It is not called from two goroutines at once.
	Show func(*Result)
}

// What zero options stand for.
const (
	usualPointsPerHost = 100
	usualMost          = 12
)

// Search answers every spots entry of the layout. heat is the answer of the
// same scene; nil, or one without cases, leaves temperatures out of the search.
// Same input, same bits, whatever the number of workers. It fails on hosts that
// name nothing, on a replaced part that is not there, or when ctx ends.
func Search(ctx context.Context, s *scene.Scene, heat *balance.Result, o Options, progress geom.Progress) (*Result, error) {
	if o.Seed == 0 {
		o.Seed = 1
		if h := s.Doc.Heat; h != nil && h.Seed != nil {
			o.Seed = *h.Seed
		}
	}
	if o.PointsPerHost <= 0 {
		o.PointsPerHost = usualPointsPerHost
	}
	if o.Most <= 0 {
		o.Most = usualMost
	}
	guests, err := clearance.NewGuests(ctx, s, o.Workers)
	if err != nil {
		return nil, err
	}
	var done []*Study
	var searches []*study
	for i := range s.Spots {
		wrap := func(err error) error { return say.Errorf("spots[%d] %q: %w", i, s.Spots[i].Layout.Name, err) }
		st, err := newStudy(s, i, heat, guests, o)
		if err != nil {
			return nil, wrap(err)
		}
		st.progress = stages{report: progress, start: i * stageTicks, total: len(s.Spots) * stageTicks}
		var show func(*Study)
		if o.Show != nil {
			show = func(a *Study) { o.Show(gathered(append(done[:len(done):len(done)], a), true)) }
		}
		answer, err := st.run(ctx, show)
		if err != nil {
			return nil, wrap(err)
		}
		done, searches = append(done, answer), append(searches, st)
		if show != nil && i < len(s.Spots)-1 {
			o.Show(gathered(done, true))
		}
	}
	r := gathered(done, false)
	r.Joint, err = joint(ctx, searches, r.Studies)
	return r, err
}

// gathered puts the answers of studies together.
func gathered(studies []*Study, refining bool) *Result {
	r := &Result{Spots: []Spot{}, Refused: []Refused{}, Studies: []Study{}, Caution: thermal.Caution, Refining: refining}
	for _, a := range studies {
		r.Studies = append(r.Studies, *a)
		r.Spots = append(r.Spots, a.Spots...)
		r.Refused = append(r.Refused, a.Refused...)
	}
	return r
}

// stageTicks is how finely the progress of one component is told.
const stageTicks = 1000

// stages tells one steady progress over rounds whose sizes are not known
// beforehand.
type stages struct {
	report       geom.Progress
	start, total int // in ticks
}

// next returns the progress of a round that fills the given ticks.
func (s *stages) next(ticks int) geom.Progress {
	from := s.start
	s.start += ticks
	if s.report == nil {
		return nil
	}
	return func(done, total int) { s.report(from+ticks*done/total, s.total) }
}
