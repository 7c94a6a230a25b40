package surface

import (
	"context"
	"fmt"
	"math"

	"runnel/geo/grid"
	"runnel/geo/survey"
)

// A Drainage says what becomes of hollows that the measurements do not call for.
type Drainage uint8

// Enforced lets them out, Left leaves them.
const (
	Enforced Drainage = iota
	Left
)

// Options say how a ground is made. The zero Options are the smoothest surface that
// drains.
type Options struct {
	// Tension is from 0, the smoothest, to 1; a negative one is chosen by leaving
	// measurements out.
	Tension  float64
	Drainage Drainage
	// Progress is told the share that is done, from 0 to 1; nil is nobody.
	Progress func(share float64)
}

// Made is a ground and how it was made.
type Made struct {
	Ground grid.Ground
	// Tension is the one given, or the one chosen.
	Tension float64
	// Sunk counts the hollows that were let out, and Stayed those that were not.
	Sunk, Stayed int
}

// Make makes a ground on f of all lines and spots of s that are not Out.
func Make(ctx context.Context, s survey.Survey, f grid.Frame, o Options) (Made, error) {
	switch {
	case o.Tension > 1 || math.IsNaN(o.Tension):
		return Made{}, fmt.Errorf("the tension is %g; give one from 0 to 1, or a negative one to have it chosen", o.Tension)
	case f.Check() != nil:
		return Made{}, f.Check()
	}
	p, err := newProblem(ctx, s, f)
	if err != nil {
		return Made{}, err
	}
	made := Made{Tension: o.Tension}
	tell := teller(o.Progress)
	if made.Tension < 0 {
		made.Tension = p.chooseTension(ctx)
	}
	p.loosen(ctx, made.Tension)
	tell(0.2)
	u := p.solve(ctx, made.Tension, func(share float64) { tell(0.2 + 0.65*share) })
	if ctx.Err() != nil {
		return Made{}, ctx.Err()
	}
	made.Ground = p.ground(u)
	p.blank(ctx, made.Ground, s)
	tell(0.85)
	if o.Drainage == Enforced {
		if made.Sunk, made.Stayed, err = drain(ctx, made.Ground, s); err != nil {
			return Made{}, err
		}
	}
	tell(1)
	return made, ctx.Err()
}

func teller(f func(float64)) func(float64) {
	if f == nil {
		return func(float64) {}
	}
	return f
}

// ground returns the heights u of the problem as a ground.
func (p *problem) ground(u []float64) grid.Ground {
	g := grid.New[float32](p.frame)
	for y := range g.H {
		row := g.Row(y)
		for x := range row {
			row[x] = float32(u[y*p.w+x] + p.datum)
		}
	}
	return g
}
