package hollow_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo/grid"
)

// The floor of 1 m² at 1 m, 2 m² at 2 m and the rim at 4 m: 1 m³ up to 2 m, then
// 3 m² more for each metre.
func TestACurveByHand(t *testing.T) {
	c := grow(t, grid.Parse("9 9 9 9 9", "9 1 2 2 4", "9 9 9 9 9")).Curve(0)
	for _, p := range []struct{ level, area, volume float64 }{
		{0, 0, 0}, {1, 0, 0}, {1.5, 1, 0.5}, {2, 1, 1}, {3, 3, 4}, {4, 3, 7}, {5, 3, 7},
	} {
		if a, v := c.Area(p.level), c.Volume(p.level); a != p.area || v != p.volume {
			t.Errorf("at %g m: %g m² and %g m³, want %g and %g", p.level, a, v, p.area, p.volume)
		}
	}
	for _, p := range []struct{ volume, level float64 }{{-1, 1}, {0, 1}, {0.5, 1.5}, {1, 2}, {4, 3}, {7, 4}, {8, 4}} {
		if got := c.Level(p.volume); got != p.level {
			t.Errorf("%g m³ stand at %g m, want %g", p.volume, got, p.level)
		}
	}
	if !math.IsNaN(c.Level(math.NaN())) {
		t.Error("a volume that is not known has a level")
	}
}

func TestCurvesAddUpTheCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := rapid.OneOf(ponds(), distinct()).Draw(t, "ground")
		tree := grow(t, ground)
		for i, n := range tree.Nodes {
			c := tree.Curve(int32(i))
			level := rapid.Float64Range(c.Floor, c.Brim).Draw(t, "level")
			area, volume := 0.0, 0.0
			for _, cell := range tree.Cells(int32(i)) {
				if depth := level - float64(ground.V[cell]); depth > 0 {
					area += ground.CellArea()
					volume += depth * ground.CellArea()
				}
			}
			if c.Area(level) != area || math.Abs(c.Volume(level)-volume) > 1e-9 {
				t.Fatalf("node %d at %g m: %g m² and %g m³, want %g and %g", i, level, c.Area(level), c.Volume(level), area, volume)
			}
			if n.Cells > 0 && math.Abs(c.Level(c.Volume(level))-level) > 1e-9 {
				t.Fatalf("node %d: %g m comes back as %g m", i, level, c.Level(c.Volume(level)))
			}
			if c.Area(n.Level) != n.Area || math.Abs(c.Volume(n.Level)-n.Volume) > 1e-9 {
				t.Fatalf("node %d, %+v, is not its curve's brim", i, n)
			}
		}
	})
}
