package surface

import (
	"context"
	"errors"
	"math"
	"testing"

	"runnel/geo/grid"
)

func TestAcrossGoesOnWithHeightAndSlope(t *testing.T) {
	f := grid.Frame{W: 60, H: 50, West: 0, North: 50, DX: 1, DY: 1}
	plane := func(x, y float64) float64 { return 900 + 0.1*x - 0.05*y }
	for name, c := range map[string]struct {
		z   func(x, y float64) float64
		off float64
	}{
		"plane": {plane, 1e-3},
		"wave":  {func(x, y float64) float64 { return plane(x, y) + math.Sin(x/12) }, 0.08},
	} {
		g := shaped(f, c.z)
		want := g.Clone()
		hole := make([]bool, f.Len())
		for y := 10; y < 25; y++ {
			for x := 12; x < 30; x++ {
				hole[y*f.W+x] = true
				g.Set(x, y, grid.NoData)
			}
		}
		hole[3], hole[40*f.W+59] = true, true
		g.Set(3, 0, 5000)
		got, err := Across(context.Background(), g, hole)
		if err != nil {
			t.Fatal(err)
		}
		if far := worst(got, want, nil); far > c.off {
			t.Errorf("%s: missed by %g m across a hole", name, far)
		}
		if g.At(3, 0) != 5000 || !grid.IsNoData(g.At(15, 15)) {
			t.Errorf("%s: the ground that was given has changed", name)
		}
	}
}

func TestAcrossNothingStaysNothing(t *testing.T) {
	g := grid.New[float32](grid.Square(9, 9, 0, 9, 1))
	hole := make([]bool, 81)
	for i := range hole {
		hole[i], g.V[i] = true, grid.NoData
	}
	got, err := Across(context.Background(), g, hole)
	if err != nil || !grid.IsNoData(got.At(4, 4)) {
		t.Errorf("ground without any height became %v, %v", got.At(4, 4), err)
	}
	if _, err := Across(context.Background(), g, hole[:5]); err == nil {
		t.Error("a hole of another grid is taken")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Across(ctx, g, hole); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled run returns %v", err)
	}
}
