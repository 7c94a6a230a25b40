package view

import (
	"context"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/grid"
)

// A Storm is the water that a storm leaves standing, prepared for drawing. It is
// not changed once made.
type Storm struct {
	// Rain is how much fell [m].
	Rain float64

	pond pond
}

// NewStorm prepares the water that stands on a ground after so much rain [m]: its
// depth [m], NaN where it is dry, in those cells that are to be shown. It keeps a
// copy.
func NewStorm(rain float64, depth, ground grid.Ground, shown []int32) *Storm {
	wet := grid.New[float32](depth.Frame)
	for _, c := range shown {
		if d := depth.V[c]; d > 0 {
			wet.V[c] = d
		}
	}
	return &Storm{Rain: rain, pond: newPond(wet, ground)}
}

// Deepest returns the greatest depth [m]; 0 where all is dry.
func (s *Storm) Deepest() float64 {
	if s == nil {
		return 0
	}
	return s.pond.deepest
}

// At returns how deep the water stands at a ground point [m]; 0 where it is dry.
func (s *Storm) At(p orb.Point) float64 {
	if s == nil {
		return 0
	}
	x, y, ok := s.pond.depth.Cell(p)
	if !ok {
		return 0
	}
	return max(0, float64(s.pond.depth.At(x, y)))
}

// rainText writes rain [m] in millimetres or inches.
func rainText(rain float64, u Units) string {
	if u == Feet {
		return strconv.FormatFloat(rain/geo.Foot*12, 'f', 2, 64) + " in"
	}
	return strconv.FormatFloat(rain*1000, 'f', 0, 64) + " mm"
}

func (k *canvas) drawStorm(ctx context.Context, s *Storm) error {
	if s == nil {
		return nil
	}
	return k.drawPond(ctx, s.pond, k.look.Pond)
}
