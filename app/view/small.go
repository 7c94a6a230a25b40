package view

import (
	"context"

	"runnel/analysis/compare"
	"runnel/geo/plan"
)

// Small is the scene of a scheme that has been measured with no more in it than a
// small picture shows: the relief, what is drawn and the water that stands in it.
func Small(ctx context.Context, s *plan.Site, account *compare.Account) (*Scene, error) {
	ground := account.Proposed
	if ground.Len() == 0 {
		ground = s.Ground
	}
	scene := &Scene{Site: s, Scheme: account.Scheme, Ground: ground, Wet: account.Wet.Depth, Show: Shade | Standing | Drawn}
	if err := scene.relieve(ctx); err != nil {
		return nil, err
	}
	scene.Prepare()
	return scene, ctx.Err()
}
