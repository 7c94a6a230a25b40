package raster

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"runnel/geo/grid"
)

// frames are small and of any shape of cell.
func anyFrame(t *rapid.T) grid.Frame {
	f := grid.Square(rapid.IntRange(1, 14).Draw(t, "w"), rapid.IntRange(1, 14).Draw(t, "h"), -3, 7, rapid.SampledFrom([]float64{1, 0.25}).Draw(t, "dx"))
	f.DY *= rapid.SampledFrom([]float64{1, 1, 2}).Draw(t, "stretch")
	return f
}

// star returns an outline that does not cross itself, about a place on a frame.
// Its points may lie off the frame, on the corners of cells and on their sides.
func star(t *rapid.T, f grid.Frame) orb.Polygon {
	quarter := func(name string, from, to int) float64 {
		return float64(rapid.IntRange(4*from, 4*to).Draw(t, name)) / 4
	}
	x, y := quarter("x", 0, f.W), quarter("y", 0, f.H)
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	var ring orb.Ring
	for i := range n {
		r := quarter("r", 1, 12)
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		p := orb.Point{math.Round(4*(x+r*cos)) / 4, math.Round(4*(y+r*sin)) / 4}
		ring = append(ring, orb.Point{f.West + p[0]*f.DX, f.North - p[1]*f.DY})
	}
	return orb.Polygon{append(ring, ring[0])}
}

func TestAreasHoldTheCellsWhoseMiddleLiesInThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFrame(t)
		area := star(t, f)
		in := Within(f, area)
		for c := range f.Len() {
			p := f.Centre(c%f.W, c/f.W)
			if d := toOutline(area, p); d < 1e-9 {
				continue // on the outline either is right
			}
			if slices.Contains(in, int32(c)) != planar.PolygonContains(area, p) {
				t.Fatalf("cell %d, %d: in is %v", c%f.W, c/f.W, slices.Contains(in, int32(c)))
			}
		}
		if !slices.IsSorted(in) || len(slices.Compact(slices.Clone(in))) != len(in) {
			t.Fatal("the cells are not each listed once, row by row")
		}
	})
}

func TestAnAreaWithAHoleLeavesTheHoleOut(t *testing.T) {
	f := grid.Square(5, 5, 0, 5, 1)
	ring := orb.Polygon{{{0, 0}, {5, 0}, {5, 5}, {0, 5}, {0, 0}}, {{1, 1}, {4, 1}, {4, 4}, {1, 4}, {1, 1}}}
	if got := len(Within(f, ring)); got != 16 {
		t.Errorf("a ring of 5 by 5 round 3 by 3 holds %d cells", got)
	}
}

func toOutline(area orb.Polygon, p orb.Point) float64 {
	return planar.DistanceFrom(orb.LineString(area[0]), p)
}

// What stands along an outline parts the ground inside it from that outside, also
// to the eight neighbours.
func TestNoWaterSlipsBetweenTheCellsOfALine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFrame(t)
		area := star(t, f)
		stands := make(map[int32]bool)
		Along(f, orb.LineString(area[0]), func(c int32) { stands[c] = true })
		for c := range int32(f.Len()) {
			x, y := int(c)%f.W, int(c)/f.W
			for d := range 8 {
				nx, ny := x+grid.StepX[d], y+grid.StepY[d]
				if !f.In(nx, ny) || stands[c] || stands[int32(ny*f.W+nx)] {
					continue
				}
				if a, b := f.Centre(x, y), f.Centre(nx, ny); planar.PolygonContains(area, a) != planar.PolygonContains(area, b) {
					t.Fatalf("water slips from %d, %d to %d, %d through %v", x, y, nx, ny, area)
				}
			}
		}
	})
}

// The twin: a cell stands in the way if the line meets its square.
func TestALineRunsThroughTheCellsThatItMeets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFrame(t)
		ring := star(t, f)[0]
		stands := make(map[int32]bool)
		Along(f, orb.LineString(ring), func(c int32) { stands[c] = true })
		for c := range int32(f.Len()) {
			p := f.Centre(int(c)%f.W, int(c)/f.W)
			inner, outer := reaches(ring, p, 0.499*f.DX, 0.499*f.DY), reaches(ring, p, 0.501*f.DX, 0.501*f.DY)
			if inner && !stands[c] || stands[c] && !outer {
				t.Fatalf("cell %d, %d: stands is %v, the line runs through it: %v", int(c)%f.W, int(c)/f.W, stands[c], inner)
			}
		}
	})
}

// reaches reports whether a line comes within a rectangle about p, by small steps.
func reaches(ring orb.Ring, p orb.Point, halfX, halfY float64) bool {
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		from, to := 0.0, 1.0
		for k, half := range [2]float64{halfX, halfY} {
			d := b[k] - a[k]
			if d == 0 {
				if math.Abs(a[k]-p[k]) > half {
					from, to = 1, 0
				}
				continue
			}
			t0, t1 := (p[k]-half-a[k])/d, (p[k]+half-a[k])/d
			from, to = max(from, min(t0, t1)), min(to, max(t0, t1))
		}
		if from <= to {
			return true
		}
	}
	return false
}

func TestBroadLinesHoldTheCellsNearThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFrame(t)
		line := orb.LineString(star(t, f)[0])
		half := rapid.Float64Range(0, 3).Draw(t, "half")
		found := make(map[int32]bool)
		Broaden(f, line, half, func(c int32) { found[c] = true })
		for c := range int32(f.Len()) {
			d := planar.DistanceFrom(line, f.Centre(int(c)%f.W, int(c)/f.W))
			if math.Abs(d-half) > 1e-9 && found[c] != (d < half) {
				t.Fatalf("cell %d, %.3f m off, is found within %.3f m: %v", c, d, half, found[c])
			}
		}
	})
}
