package synthetic_test

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"testing"

	"runnel/analysis/flow"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

func TestOneProcessorAndManyMakeTheSameGround(t *testing.T) {
	many := synthetic.Rounded(synthetic.Site(300, 333, 7))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if one := synthetic.Rounded(synthetic.Site(300, 333, 7)); !slices.Equal(one.V, many.V) {
		t.Error("the ground depends on the number of processors")
	}
}

func TestAnotherSeedMakesAnotherGround(t *testing.T) {
	if slices.Equal(synthetic.Site(50, 50, 1).V, synthetic.Site(50, 50, 2).V) {
		t.Error("seeds 1 and 2 make the same ground")
	}
}

func TestEverySizeHasItsCells(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {1, 700}, {700, 1}, {7, 9}, {256, 8}, {257, 65}} {
		g := synthetic.Site(size[0], size[1], 7)
		if _, _, known := grid.Extent(g); known != size[0]*size[1] {
			t.Errorf("%d by %d cells: %d have a height", size[0], size[1], known)
		}
	}
}

// The least-squares plane of a large ground leans by the tilt: the hills and the
// noise average out.
func TestTheGroundFallsTwoPerCentToTheSouthEast(t *testing.T) {
	const side = 2048
	g := synthetic.Site(side, side, 7)
	var east, south, squares float64
	for y := range side {
		for x := range side {
			fx, fy, z := float64(x)-(side-1)/2.0, float64(y)-(side-1)/2.0, float64(g.At(x, y))-500
			east, south, squares = east+fx*z, south+fy*z, squares+fx*fx
		}
	}
	want := -0.02 / math.Sqrt2
	for name, got := range map[string]float64{"east": east / squares, "south": south / squares} {
		if math.Abs(got-want) > 0.002 {
			t.Errorf("to the %s the ground rises %.4f m/m, want %.4f", name, got, want)
		}
	}
}

// Third differences along a row all but cancel tilt and hills and leave the noise: its
// coefficients 1, 3, 3, 1 make the variance twentyfold.
func TestTheSurveyNoiseIsTwoCentimetres(t *testing.T) {
	g := synthetic.Site(1000, 1000, 7)
	var sum float64
	n := 0
	for y := range g.H {
		for x, row := 3, g.Row(y); x < g.W; x++ {
			d := float64(row[x]-row[x-3]) - 3*float64(row[x-1]-row[x-2])
			sum += d * d
			n++
		}
	}
	if got := math.Sqrt(sum / float64(n) / 20); math.Abs(got-0.02) > 0.001 {
		t.Errorf("the noise is %.4f m, want 0.020", got)
	}
}

// Of a surveyed ground with the tilt and noise of this one some 1.6 to 2.1 % of the
// cells are pits and 13 to 30 % lie in hollows (common practice, no source).
func TestTheGroundHasThePitsAndHollowsOfASurvey(t *testing.T) {
	g := synthetic.Site(2000, 2000, 7)
	f, err := flow.Route(t.Context(), g, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	wet := 0
	for c, z := range g.V {
		if f.Filled.V[c] > z {
			wet++
		}
	}
	cells := float64(g.Len())
	if pits := float64(len(f.Basins.Pit)) / cells; pits < 0.016 || pits > 0.021 {
		t.Errorf("%.2f %% of the cells are pits", 100*pits)
	}
	if share := float64(wet) / cells; share < 0.13 || share > 0.3 {
		t.Errorf("%.1f %% of the cells lie in hollows", 100*share)
	}
}

func TestRoundedHeightsAreWholeStepsOfFiveCentimetres(t *testing.T) {
	surveyed := synthetic.Site(200, 100, 7)
	before := slices.Clone(surveyed.V)
	g := synthetic.Rounded(surveyed)
	for c, z := range g.V {
		steps := float64(z) * 20
		if math.Abs(steps-math.Round(steps)) > 1e-3 || math.Abs(float64(z-surveyed.V[c])) > 0.02501 {
			t.Fatalf("cell %d: %v m became %v m", c, surveyed.V[c], z)
		}
	}
	if !slices.Equal(surveyed.V, before) {
		t.Error("rounding changed the ground it was given")
	}
}

func BenchmarkSite(b *testing.B) {
	for _, side := range []int{1000, 10_000} {
		b.Run(fmt.Sprintf("%dMcell", side*side/1_000_000), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				synthetic.Site(side, side, 7)
			}
			b.ReportMetric(float64(side*side)/1e6*float64(b.N)/b.Elapsed().Seconds(), "Mcell/s")
		})
	}
}
