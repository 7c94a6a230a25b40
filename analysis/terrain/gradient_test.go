package terrain

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo/grid"
)

// slant makes a plane that rises by the given slopes [m/m] from 100 m at the
// south-west corner.
func slant(f grid.Frame, east, north float64) grid.Ground {
	g := grid.New[float32](f)
	for y := range f.H {
		for x := range f.W {
			p := f.Centre(x, y)
			g.Set(x, y, float32(100+east*(p[0]-f.West)+north*(p[1]-f.North)))
		}
	}
	return g
}

// slopes returns the slope of each cell [m/m].
func slopes(g grid.Ground) grid.Ground {
	slope := grid.New[float32](g.Frame)
	for y := range g.H {
		eachGradient(g, y, func(x int, rise gradient) { slope.Set(x, y, float32(rise.slope())) })
	}
	return slope
}

// The window is worked by hand from the formula of Horn, Proceedings of the IEEE
// 69 (1981) 14: (423 - 400) / 80 eastward, (409 - 408) / 80 northward.
func TestGradientOfAWindowWorkedByHand(t *testing.T) {
	g := grid.Parse("101 102 104", "100 103 106", "99 101 107")
	g.DX, g.DY = 10, 10
	eachGradient(g, 1, func(x int, got gradient) {
		if x == 1 && math.Hypot(got.east-0.2875, got.north-0.0125) > 1e-12 {
			t.Errorf("got %v, want 0.2875 east and 0.0125 north", got)
		}
	})
	if got := slopes(g).At(1, 1); math.Abs(float64(got)-0.287772) > 1e-6 {
		t.Errorf("the slope is %g, want √(0.2875² + 0.0125²) = 0.287772", got)
	}
}

// At the middle of the north edge two rows are known, the edge's own counting
// twice: (2·3/2 + 6/2) / 3 eastward, and to the north the steps from the row
// below: (1·1 + 2·(-1) + 1·(-2)) / 4.
func TestGradientAtAnEdgeWorkedByHand(t *testing.T) {
	got := gradientBeside(grid.Parse("101 102 104", "100 103 106", "99 101 107"), 1, 0)
	if math.Abs(got.east-2) > 1e-12 || math.Abs(got.north+0.75) > 1e-12 {
		t.Errorf("got %v, want 2 east and -0.75 north", got)
	}
}

func TestSlopeOfAPlaneIsTrueUpToTheEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := grid.Frame{W: rapid.IntRange(2, 9).Draw(t, "w"), H: rapid.IntRange(2, 9).Draw(t, "h")}
		f.DX, f.DY = rapid.Float64Range(0.2, 3).Draw(t, "dx"), rapid.Float64Range(0.2, 3).Draw(t, "dy")
		east, north := rapid.Float64Range(-1, 1).Draw(t, "east"), rapid.Float64Range(-1, 1).Draw(t, "north")
		for c, got := range slopes(slant(f, east, north)).V {
			// Heights near 100 m are good to 4 µm as float32, over steps of 0.2 m at least.
			if want := math.Hypot(east, north); math.Abs(float64(got)-want) > 1e-4 {
				t.Fatalf("cell %d: slope %g, want %g", c, got, want)
			}
		}
	})
}

func TestSlopeBesideNoData(t *testing.T) {
	tests := []struct {
		name         string
		ground, want grid.Ground
	}{
		{"a cell alone is level", grid.Parse("7"), grid.Parse("0")},
		{"no data has no slope", grid.Parse(". ."), grid.Parse(". .")},
		{"one row slopes along itself", grid.Parse("1 2 4"), grid.Parse("1 1.5 2")},
		{"one column slopes along itself", grid.Parse("4", "2", "1"), grid.Parse("2", "1.5", "1")},
		{
			"a plane keeps its slope beside a hole",
			grid.Parse("1 2 3 4", "1 2 . 4", "1 2 3 4", "1 2 3 4"),
			grid.Parse("1 1 1 1", "1 1 . 1", "1 1 1 1", "1 1 1 1"),
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := slopes(test.ground); grid.Print(got) != grid.Print(test.want) {
				t.Errorf("got\n%swant\n%s", grid.Print(got), grid.Print(test.want))
			}
		})
	}
}
