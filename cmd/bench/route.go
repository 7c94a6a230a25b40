package main

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"

	"runnel/analysis/flow"
	"runnel/geo/grid"
)

// route measures the whole answer with the ground and the router's memory warm:
// by stage, on one core and on two, beside the yardstick.
func route(ctx context.Context, g ground, c *column) error {
	cores := min(2, runtime.GOMAXPROCS(0))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
	var router flow.Router
	run := func(note func(string, float64)) (float64, error) {
		return timed(func() error { _, err := router.Route(ctx, g.Ground, flow.Options{Stage: note}); return err })
	}
	before := held()
	if _, err := run(func(stage string, _ float64) { c.stages = append(c.stages, stage+rate) }); err != nil {
		return err // the first run warms the router
	}
	if err := takeTurns(ctx, g, c, run); err != nil {
		return err
	}
	allocated := total()
	if _, err := run(nil); err != nil {
		return err
	}
	allocated = total() - allocated
	c.set(bytesACell, 4+(held()-before+allocated)/float64(g.Len()))
	runtime.KeepAlive(&router)
	return nil
}

// takeTurns times the yardstick, the router on all cores and on one, in rounds.
func takeTurns(ctx context.Context, g ground, c *column, run func(note func(string, float64)) (float64, error)) error {
	cores := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(cores)
	stages := map[string][]float64{} // seconds, by row
	note := func(stage string, seconds float64) { stages[stage+rate] = append(stages[stage+rate], seconds) }
	var whole, single, yardstick []float64
	for range g.rounds() {
		shade, err := g.hillshade(ctx)
		if err != nil {
			return err
		}
		runtime.GOMAXPROCS(cores)
		took, err := run(note)
		if err != nil {
			return err
		}
		runtime.GOMAXPROCS(1)
		alone, err := run(nil)
		if err != nil {
			return err
		}
		whole, single, yardstick = append(whole, took), append(single, alone), append(yardstick, shade)
	}
	c.setSpeeds(g, stages, median(whole))
	c.set(ofHillshade, median(whole)/median(yardstick))
	if cores == 2 {
		c.set(secondCore, median(single)/median(whole))
	}
	return nil
}

// setSpeeds notes each stage's speed and that of all.
func (c *column) setSpeeds(g ground, stages map[string][]float64, whole float64) {
	cells := float64(g.Len())
	for _, stage := range c.stages {
		c.set(stage, cells/1e6/median(stages[stage]))
	}
	c.set(speed, cells/1e6/whole)
	c.set(nsACell, whole/cells*1e9)
}

// held is the memory in use once what is free is collected [bytes].
func held() float64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc)
}

// total is all the memory that was ever taken [bytes].
func total() float64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.TotalAlloc)
}

// edits measures how long the answer takes after an edit: routed whole, and in the
// edited part alone.
func edits(ctx context.Context, g ground, c *column) error {
	if g.mcell > 25 {
		return nil
	}
	var whole, part flow.Router
	if _, err := part.Route(ctx, g.Ground, flow.Options{}); err != nil {
		return err
	}
	err := edit(g, c, editDelay, func(cut grid.Ground, _, _ int) error { _, err := whole.Route(ctx, cut, flow.Options{}); return err })
	if err != nil {
		return err
	}
	return edit(g, c, updateDelay, func(cut grid.Ground, lo, hi int) error { _, err := part.Update(ctx, cut, lo, hi); return err })
}

// edit measures what comes after each of a row of edits, a channel cut every time;
// the first warms the router and does not count.
func edit(g ground, c *column, row string, after func(cut grid.Ground, lo, hi int) error) error {
	cut, random := g.Clone(), rand.New(rand.NewPCG(seed, 2))
	var delays []float64
	for range min(60, 500/g.mcell) + 1 {
		lo, hi := channel(cut, random)
		took, err := timed(func() error { return after(cut, lo, hi) })
		if err != nil {
			return err
		}
		delays = append(delays, took*1000)
	}
	c.set(row, quantile(delays[1:], 0.95))
	return nil
}

// channel cuts 300 steps of a winding channel, three cells wide and 30 cm deep, and
// returns the rows [lo, hi) that it lies in.
func channel(g grid.Ground, random *rand.Rand) (lo, hi int) {
	lo = g.H
	heading := 2 * math.Pi * random.Float64()
	x, y := random.Float64()*float64(g.W), random.Float64()*float64(g.H)
	for range 300 {
		heading += random.NormFloat64() / 5
		x, y = x+math.Sin(heading), y-math.Cos(heading)
		for _, beside := range []float64{-1, 0, 1} {
			cx, cy := int(x+beside*math.Cos(heading)), int(y+beside*math.Sin(heading))
			if g.In(cx, cy) {
				g.Set(cx, cy, g.At(cx, cy)-0.3)
				lo, hi = min(lo, cy), max(hi, cy+1)
			}
		}
	}
	return min(lo, hi), hi
}
