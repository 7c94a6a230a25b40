package view

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

func TestOddGroundsAreShownOrRefusedInASentence(t *testing.T) {
	inf := grid.Parse("1 2 3", "4 5 6", "7 8 9")
	inf.V[4] = float32(math.Inf(1))
	for _, of := range []struct {
		name   string
		ground grid.Ground
		fails  bool
	}{
		{"one cell", grid.Parse("5"), false},
		{"one row", grid.Parse("5 4 3 9 2"), false},
		{"one column", grid.Parse("5", "4", "9", "3"), false},
		{"one height", grid.New[float32](grid.Square(9, 9, 0, 9, 1)), false},
		{"an island of data", grid.Parse(". . . .", ". 5 4 .", ". . . ."), false},
		{"a hole of no data", grid.Parse("5 5 5", "5 . 5", "5 5 5"), false},
		{"heights of 1e30", grid.Parse("1e30 1e30 1e30", "1e30 1 1e30", "1e30 1e30 1e30"), false},
		{"no data at all", grid.Parse(". .", ". ."), true},
		{"an infinite height", inf, true},
	} {
		s := &plan.Site{Ground: of.ground, Setting: plan.UsualSetting()}
		scene, err := NewScene(context.Background(), s, plan.AsItIs)
		if err != nil {
			if !of.fails {
				t.Errorf("%s: %v", of.name, err)
			}
			continue
		}
		if of.fails {
			t.Errorf("%s is shown", of.name)
		}
		for _, scale := range []float64{0.3, 40} {
			if _, err := Draw(context.Background(), scene, Camera{North: 9, Scale: scale}, 120, 90, Light()); err != nil {
				t.Errorf("%s: %v", of.name, err)
			}
		}
		for _, at := range []orb.Point{{0.5, 0.5}, {2.5, 1.5}, {-4, 9}} {
			if j, err := scene.Drainage.Journey(scene.Ground, at); err == nil && (len(j.Legs) == 0 || math.IsNaN(j.Length)) {
				t.Errorf("%s: a drop at %v has the way %+v", of.name, at, j)
			}
		}
	}
}
