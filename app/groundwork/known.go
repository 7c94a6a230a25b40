package groundwork

import (
	"context"

	"runnel/analysis/accuracy"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Known is how well the height of each cell of a site's ground is known.
type Known struct {
	// Doubt is the standard deviation of the height [m]; NaN at no data.
	Doubt grid.Grid[float32]
	// Thin says how well the survey tells which way water runs there.
	Thin grid.Grid[accuracy.Thinness]
}

// KnownOf returns how well a site's ground as it was surveyed is known. What a site
// has for the error of its survey goes before what was found when the ground was
// made: the doubt keeps its pattern and is scaled to it. Where nothing is recorded of
// the survey all places are known alike.
func KnownOf(ctx context.Context, s *plan.Site) (Known, error) {
	doubt, err := Doubt(ctx, s)
	if err != nil {
		return Known{}, err
	}
	return Known{doubt, accuracy.Thin(s.Ground, doubt, s.Setting.SurveyReach)}, ctx.Err()
}

// Doubt returns the doubt of KnownOf alone.
func Doubt(ctx context.Context, s *plan.Site) (grid.Grid[float32], error) {
	set := s.Setting
	if s.Survey.Empty() {
		return alike(s.Ground, set.SurveyError), ctx.Err()
	}
	q := s.Survey.Quality
	if !(q.Error > 0) {
		q.Error = max(set.SurveyError, leastError)
	}
	if !(q.Reach > 0) {
		q.Reach = set.SurveyReach
	}
	doubt, err := accuracy.Doubt(ctx, s.Survey, s.Ground, q)
	if err != nil || q.Error == set.SurveyError {
		return doubt, err
	}
	scale := float32(set.SurveyError / q.Error)
	for i := range doubt.V {
		doubt.V[i] *= scale
	}
	return doubt, ctx.Err()
}

// leastError keeps the pattern of the doubt where a site has no error [m].
const leastError = 1e-3

// alike is one doubt for all cells whose height is known.
func alike(ground grid.Ground, doubt float64) grid.Grid[float32] {
	all := grid.New[float32](ground.Frame)
	for i, z := range ground.V {
		all.V[i] = float32(doubt)
		if grid.IsNoData(z) {
			all.V[i] = grid.NoData
		}
	}
	return all
}

// Shares returns the shares of the known ground that the survey is too thin for to
// say which way water runs, and for which it says little.
func (k Known) Shares() (tooLittle, little float64) {
	var count [accuracy.TooLittle + 1]int
	for _, t := range k.Thin.V {
		count[t]++
	}
	known := count[accuracy.Enough] + count[accuracy.Little] + count[accuracy.TooLittle]
	if known == 0 {
		return 0, 0
	}
	return float64(count[accuracy.TooLittle]) / float64(known), float64(count[accuracy.Little]) / float64(known)
}
