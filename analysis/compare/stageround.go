package compare

import (
	"context"
	"math"
	"slices"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// leastStep is the least step between round levels, in the unit that they are round in.
const leastStep = 0.01

// StagesRound is StageTable at round levels: multiples of 1, 2, 5, 10 … hundredths of a
// unit [m], of the least that make no more than some levels. A round level beside a
// channel's own lowest bed, brim or level in use gives way to that.
func StagesRound(ctx context.Context, s *plan.Site, scheme plan.SchemeID, unit float64, most int) (Stages, error) {
	network, _ := channel.NewNetwork(s, scheme)
	spans, err := spansOf(ctx, network.Standing())
	if err != nil {
		return Stages{}, err
	}
	own := withOwn(nil, spans)
	return stagesAt(ctx, s, scheme, func(low, high float64) (at []float64, err error) {
		step := roundStep((high-low)/unit/float64(most)) * unit
		for i := math.Ceil(low / step); i*step <= high; i++ {
			level := i * step
			if !slices.ContainsFunc(own, func(o float64) bool { return math.Abs(o-level) < step/2 }) {
				at = append(at, level)
			}
		}
		return at, nil
	})
}

// roundStep is the least of 0.01, 0.02, 0.05, 0.1 … that is no smaller than a step.
func roundStep(least float64) float64 {
	for power := leastStep; ; power *= 10 {
		for _, times := range []float64{1, 2, 5} {
			if step := times * power; step >= least || math.IsInf(step, 1) {
				return step
			}
		}
	}
}
