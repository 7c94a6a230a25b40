package soakin

import (
	"context"
	"slices"

	"runnel/analysis/sampling"
	"runnel/geo"
)

// riseDraws is in how many worlds the whole record is run to see how high the water table
// comes: each takes as long as a hundred years drawn one by one.
const riseDraws = 100

// rises draws the range of the greatest rise at each place over the record [m].
func (d *drawing) rises(ctx context.Context, draws int) ([]geo.Range, error) {
	told := d.account.Rises
	if len(told) == 0 {
		return nil, nil
	}
	p := sampling.Plan{Inputs: d.inputs, Outputs: len(told), Draws: min(draws, riseDraws), Seed: seed}
	got, err := sampling.Run(ctx, p, func() func(values, out []float64) {
		w := d.newWorker()
		return func(values, out []float64) {
			w.take(values)
			f := w.factors
			f.Years = nil
			days := w.model.Trace(f).Days
			for i := range told {
				out[i] = w.rises * slices.Max(w.account.Setup.superposed(told[i].answers, days))
			}
		}
	})
	if err != nil {
		return nil, err
	}
	ranges := make([]geo.Range, len(told))
	for i, r := range told {
		ranges[i] = about(r.Peak, got.Range(i))
	}
	return ranges, nil
}
