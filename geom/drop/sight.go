package drop

import (
	"context"

	"aftbay/geom"
	"aftbay/geom/rearview"
	"aftbay/geom/say"
)

// sight fills in, for every drop of the curve, the share of the prescribed
// field that either eye sees in the mirror. Without an answer the result says
// why.
func (st *Study) sight(ctx context.Context, r *Result, workers int) error {
	if st.scene.Doc.RearView == nil {
		r.SeenNote = say.Of("no rear_view in the layout: what the driver sees is not followed")
		return nil
	}
	failed := make([]error, len(r.Curve))
	err := geom.Each(ctx, workers, len(r.Curve), nil, func(i int) error {
		moved := st.scene.Moved(st.group, geom.Shift(st.shift(r.Curve[i].DropMM)))
		seen, err := rearview.Run(ctx, moved, rearview.Options{Workers: 1, Quick: true}, nil)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil:
			failed[i] = err
		default:
			r.Curve[i].SeenShare = &seen.Seen.EitherShare
		}
		return nil
	})
	for _, f := range failed {
		if f != nil {
			r.SeenNote = say.Words(f)
			break
		}
	}
	return err
}
