package fate

import (
	"context"
	"slices"

	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/analysis/runoff"
	"runnel/geo/plan"
)

// LeastDepth is how deep a hollow must be to be told by itself or shown [m]: three
// times the survey's error, which one height in several hundred is off by and makes
// a pit of, and 3 cm however good the survey.
func LeastDepth(s plan.Setting) float64 { return max(0.03, 3*s.SurveyError) }

// OfScheme returns the fates of the water of a scheme on the ground that it
// proposes, and what could not be taken as it is drawn.
func OfScheme(ctx context.Context, s *plan.Site, scheme plan.SchemeID) ([]Fate, []channel.Problem, error) {
	n, problems := channel.NewNetwork(s, scheme)
	proposed, wet, err := earthwork.Stand(ctx, s.Ground, n)
	if err != nil {
		return nil, nil, err
	}
	surface, err := runoff.Of(ctx, s, proposed)
	if err != nil {
		return nil, nil, err
	}
	fates, err := Of(ctx, Input{Site: s, Scheme: scheme, Surface: surface, Wet: wet.Depth, Least: LeastDepth(s.Setting)})
	for _, p := range surface.Problems {
		told := func(q channel.Problem) bool { return q.ID == p.ID }
		if !slices.ContainsFunc(problems, told) {
			problems = append(problems, p)
		}
	}
	return fates, problems, err
}
