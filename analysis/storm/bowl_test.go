package storm_test

import (
	"math"
	"testing"

	"runnel/analysis/storm"
	"runnel/geo/grid"
)

// A bowl is sunk into a level plain: its floor's height over the bowl's lowest
// point at a distance from its axis, and the volume below a height, both in closed
// form.
type bowl struct {
	x, floor float64 // east of the axis, and the height of the lowest point [m]
	rise     func(r float64) float64
	volume   func(h float64) float64
}

// cone is a bowl of steady slope, a cone on its tip: its radius at height h is
// h/slope, and π r² h / 3 its volume (solid geometry).
func cone(x, floor, slope float64) bowl {
	return bowl{x, floor,
		func(r float64) float64 { return slope * r },
		func(h float64) float64 { return math.Pi * h * h * h / (3 * slope * slope) },
	}
}

// spherical is a bowl cut from a sphere; up to height h it is a cap of the volume
// π h² (3 R - h) / 3 (solid geometry).
func spherical(x, floor, radius float64) bowl {
	return bowl{x, floor,
		func(r float64) float64 {
			if r >= radius {
				return math.Inf(1)
			}
			return radius - math.Sqrt(radius*radius-r*r)
		},
		func(h float64) float64 { return math.Pi * h * h * (3*radius - h) / 3 },
	}
}

const plain, sillLevel = 10.0, 9.5 // [m]

// twoBowls sinks two bowls into a plain of 60 by 30 m that joins them by a gutter
// one cell wide at the sill's level. As cells shrink the gutter comes to hold nothing.
func twoBowls(cell float64, a, b bowl) grid.Ground {
	w, h := int(math.Round(60/cell))+1, int(math.Round(30/cell))+1
	g := grid.New[float32](grid.Square(w, h, -cell/2, 15+cell/2, cell))
	for y := range h {
		for x := range w {
			p := g.Centre(x, y)
			z := plain
			for _, bowl := range []bowl{a, b} {
				z = min(z, bowl.floor+bowl.rise(math.Hypot(p[0]-bowl.x, p[1])))
			}
			if y == h/2 && p[0] > a.x && p[0] < b.x {
				z = min(z, sillLevel)
			}
			g.Set(x, y, float32(z))
		}
	}
	return g
}

// levelOf returns the height at which a volume stands in bowls that are joined.
func levelOf(volume float64, bowls ...bowl) float64 {
	lo, hi := 0.0, plain
	for range 100 {
		middle := (lo + hi) / 2
		held := 0.0
		for _, b := range bowls {
			held += b.volume(max(middle-b.floor, 0))
		}
		if held < volume {
			lo = middle
		} else {
			hi = middle
		}
	}
	return lo
}

// Water is poured into the first of two unequal bowls: it fills to the sill, spills
// into the other, and once both are full they go on as one.
func TestTwoBowlsComeToTheLevelsOfSolidGeometry(t *testing.T) {
	for name, bowls := range map[string][2]bowl{
		"cones":          {cone(15, 7, 0.3), cone(45, 6, 0.4)},
		"spherical caps": {spherical(15, 7.5, 20), spherical(45, 6, 14)},
	} {
		a, b := bowls[0], bowls[1]
		fullA, fullB := a.volume(sillLevel-a.floor), b.volume(sillLevel-b.floor)
		for _, stage := range []struct {
			name         string
			volume       float64
			wantA, wantB float64
		}{
			{"before", fullA / 2, levelOf(fullA/2, a), math.NaN()},
			{"while it spills", fullA + fullB/3, sillLevel, levelOf(fullB/3, b)},
			{"after", (fullA + fullB) * 1.15, levelOf((fullA+fullB)*1.15, a, b), levelOf((fullA+fullB)*1.15, a, b)},
		} {
			var errs []float64
			for _, cell := range []float64{1, 0.5, 0.25} {
				gotA, gotB := pourIntoFirst(t, twoBowls(cell, a, b), stage.volume)
				if math.IsNaN(stage.wantB) != math.IsNaN(gotB) {
					t.Fatalf("%s, %s: the second stands at %g m, want %g", name, stage.name, gotB, stage.wantB)
				}
				errs = append(errs, max(math.Abs(gotA-stage.wantA), math.Abs(gotB-stage.wantB)))
				if math.IsNaN(stage.wantB) {
					errs[len(errs)-1] = math.Abs(gotA - stage.wantA)
				}
			}
			t.Logf("%s, %s: off by %.4f m", name, stage.name, errs)
			if errs[2] > 0.02 || errs[2] > errs[0]/2 {
				t.Errorf("%s, %s: off by %g m as cells shrink; it must come to nothing", name, stage.name, errs)
			}
		}
	}
}

// pourIntoFirst returns the levels in the two bowls.
func pourIntoFirst(t *testing.T, ground grid.Ground, volume float64) (a, b float64) {
	t.Helper()
	f := route(t, ground)
	m := prepare(t, f, storm.Surface{})
	west, east := ground.Len()/2-ground.W/4, ground.Len()/2+ground.W/4
	r := pourAt(t, m, ground.Len(), int32(west), volume)
	check(t, f, m, r)
	level := func(c int) float64 { return float64(r.Depth.V[c]) + float64(ground.V[c]) }
	return level(west), level(east)
}
