package earthwork

import (
	"math"
	"testing"

	"runnel/geo/grid"
)

// A flat and a slope of 1 in 1 that meet along a line, any way across the cells: the
// soil of the one is its area, that of the other √2 of it. The chord across the bend,
// which cuts the corner, is 3 times as far off or more.
func TestABendAcrossCellsKeepsItsLength(t *testing.T) {
	const cells, fine = 40, 10
	for _, turn := range []float64{0, 0.2, 0.5, math.Pi / 4, 1.2, 2, 4} {
		for _, shift := range []float64{0.1, 0.3, 0.5, 0.8} {
			sin, cos := math.Sincos(turn)
			off := func(x, y float64) float64 { return (x-20)*cos + (y-20)*sin + shift }
			g := grid.New[float32](grid.Square(cells, cells, 0, cells, 1))
			for i := range g.V {
				g.V[i] = float32(max(0, off(float64(i%cells), float64(i/cells))))
			}
			got, chord, want := 0.0, 0.0, 0.0
			for y := 3; y < cells-3; y++ {
				for x := 3; x < cells-3; x++ {
					about := around(&g, x, y)
					gx, gy := about.gradient()
					got, chord = got+about.secant(), chord+math.Sqrt(1+gx*gx+gy*gy)
					for k := range fine * fine {
						u, v := (float64(k%fine)+0.5)/fine-0.5, (float64(k/fine)+0.5)/fine-0.5
						if want++; off(float64(x)+u, float64(y)+v) > 0 {
							want += math.Sqrt2 - 1
						}
					}
				}
			}
			want /= fine * fine
			if off, was := math.Abs(got-want), math.Abs(chord-want); off > 1e-3*want || off > was/3 {
				t.Errorf("turned by %.2f and %.1f over: %.3f cells of soil, by chords %.3f, want %.3f", turn, shift, got, chord, want)
			}
		}
	}
}

// A bed as wide as a cell between two banks, and a wall, are left as they are.
func TestWhatIsAsWideAsACellIsNoBend(t *testing.T) {
	ditch := grid.Parse("3 2 1 1 2 3", "3 2 1 1 2 3", "3 2 1 1 2 3")
	if got, want := secantAt(ditch, 2, 1), (1+math.Sqrt2)/2; math.Abs(got-want) > 1e-9 {
		t.Errorf("at the edge of the bed it is %v, want %v", got, want)
	}
	step := grid.Parse("1 1 1 4 4 4", "1 1 1 4 4 4", "1 1 1 4 4 4")
	if got, want := secantAt(step, 2, 1), (1+math.Sqrt(10))/2; math.Abs(got-want) > 1e-9 {
		t.Errorf("at a wall it is %v, want %v", got, want)
	}
	if got := secantAt(grid.Parse("1 . 1", ". 1 .", "1 . 1"), 1, 1); got != 1 {
		t.Errorf("alone it is %v", got)
	}
}

func secantAt(g grid.Ground, x, y int) float64 {
	about := around(&g, x, y)
	return about.secant()
}
