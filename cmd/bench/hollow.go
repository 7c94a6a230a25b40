package main

import (
	"context"

	"runnel/analysis/certainty"
	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/analysis/storm"
)

// hollows measures the tree of hollows and what a slider of rain asks for.
func hollows(ctx context.Context, g ground, c *column) error {
	if g.mcell > 25 {
		return nil
	}
	routed, err := flow.Route(ctx, g.Ground, flow.Options{})
	if err != nil {
		return err
	}
	var tree *hollow.Tree
	var seconds []float64
	for range min(g.rounds(), 7) {
		took, err := timed(func() error { tree, err = hollow.NewTree(ctx, routed); return err })
		if err != nil {
			return err
		}
		seconds = append(seconds, took)
	}
	c.set(treeSpeed, float64(g.Len())/1e6/median(seconds))
	if g.mcell > 4 {
		return nil
	}
	return slide(ctx, routed, tree, c)
}

// slide moves the rain from 1 mm to 100 mm and back, as a hand would.
func slide(ctx context.Context, routed *flow.Flow, tree *hollow.Tree, c *column) error {
	model, err := storm.Prepare(ctx, routed, tree, storm.Surface{})
	if err != nil {
		return err
	}
	var milliseconds []float64
	for i := range 100 {
		rain := float64(1+2*min(i, 99-i)) / 1000
		took, err := timed(func() error { _, err := model.Fill(ctx, rain); return err })
		if err != nil {
			return err
		}
		milliseconds = append(milliseconds, took*1000)
	}
	c.set(stormDelay, quantile(milliseconds, 0.95))
	return nil
}

// sureness measures 100 draws of a survey that is 5 cm off.
func sureness(ctx context.Context, g ground, c *column) error {
	if g.mcell > 1 {
		return nil
	}
	survey := certainty.Survey{Error: 0.05, Reach: 5, Draws: 100, Seed: seed, Least: 1000}
	took, err := timed(func() error { _, err := certainty.Of(ctx, g.Ground, survey, nil); return err })
	if err != nil {
		return err
	}
	c.set(sureDelay, took)
	return nil
}
