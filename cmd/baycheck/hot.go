package main

import (
	"context"
	"errors"

	"aftbay/geom/scene"
	"aftbay/gui/desk"
	"aftbay/thermal/balance"
	"aftbay/thermal/shield"
	"aftbay/thermal/spot"
)

// heated is the JSON of heat with its flags.
type heated struct {
	*balance.Result
	Factors []balance.Factor `json:"factors,omitempty"`
	Shields []*shield.Trial  `json:"shields,omitempty"`
}

func heats(ctx context.Context, c *call) (bool, error) {
	out, err := solved(ctx, c, func(s *scene.Scene) (*heated, error) {
		o := balance.Options{Workers: c.workers, Factors: c.factors}
		r, err := balance.Run(ctx, s, o, c.progress("heat"))
		if err != nil {
			return nil, err
		}
		out := &heated{Result: r}
		if c.factors {
			out.Factors = r.Factors()
		}
		if c.shields {
			out.Shields, err = tried(ctx, c, s, r, o)
		}
		return out, err
	})
	if err != nil {
		return false, err
	}
	tables := []desk.Table{desk.HeatTable(out.Result)}
	if c.shields {
		tables = append(tables, desk.ShieldTable(out.Shields))
	}
	return isOver(out.Result), c.give(out, tables...)
}

// tried tries every shield of the layout, one at a time.
func tried(ctx context.Context, c *call, s *scene.Scene, before *balance.Result, o balance.Options) ([]*shield.Trial, error) {
	if s.Doc.Heat == nil || len(s.Doc.Heat.Shields) == 0 {
		return nil, errors.New(`heat --shields: the layout has no shield on trial: add one under heat.shields, such as {"name": "trial", "over": "header", "for": "coil"}`)
	}
	var out []*shield.Trial
	for i := range s.Doc.Heat.Shields {
		sh := &s.Doc.Heat.Shields[i]
		t, err := shield.Try(ctx, s, before, sh, o, c.progress("shield "+sh.Name))
		if err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
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
