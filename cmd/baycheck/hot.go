package main

import (
	"context"

	"aftbay/geom/scene"
	"aftbay/gui/desk"
	"aftbay/thermal/balance"
	"aftbay/thermal/spot"
)

// factored is the JSON of heat with --factors.
type factored struct {
	*balance.Result
	Factors []balance.Factor `json:"factors"`
}

func heats(ctx context.Context, c *call) (bool, error) {
	r, err := solved(ctx, c, func(s *scene.Scene) (*balance.Result, error) {
		return balance.Run(ctx, s, balance.Options{Workers: c.workers}, c.progress("heat"))
	})
	if err != nil {
		return false, err
	}
	var result any = r
	if c.factors {
		result = factored{r, r.Factors()}
	}
	return isOver(r), c.give(result, desk.HeatTable(r))
}

func isOver(r *balance.Result) bool {
	for k := range r.Cases {
		for i := range r.Cases[k].Parts {
			if r.Cases[k].Parts[i].Verdict == balance.Over {
				return true
			}
		}
	}
	return false
}

func mounts(ctx context.Context, c *call) (bool, error) {
	r, err := solved(ctx, c, func(s *scene.Scene) (*spot.Result, error) {
		heat, err := balance.Run(ctx, s, balance.Options{Workers: c.workers}, c.progress("heat"))
		if err != nil {
			return nil, err
		}
		return spot.Search(ctx, s, heat, spot.Options{Workers: c.workers}, c.progress("spots"))
	})
	if err != nil {
		return false, err
	}
	none := len(r.Studies) == 0
	for i := range r.Studies {
		none = none || len(r.Studies[i].Spots) == 0
	}
	return none, c.give(r, desk.SpotTable(r))
}
