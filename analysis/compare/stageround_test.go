package compare

import (
	"math"
	"testing"
)

func TestRoundLevelsAreRoundAndTheLevelInUseHasARow(t *testing.T) {
	s := trench()
	for _, c := range []struct {
		unit float64
		most int
	}{{1, 20}, {1, 7}, {0.3048, 20}} {
		table, err := StagesRound(t.Context(), s, 101, c.unit, c.most)
		if err != nil || len(table.Scheme) < 3 {
			t.Fatal(err, table)
		}
		used, own := 0, 2 // the lowest bed and the brim of its one channel
		for i, p := range table.Scheme {
			if p.InUse {
				used++
			}
			hundredths := p.Level / c.unit * 100
			if i > 0 && i < len(table.Scheme)-1 && !p.InUse && math.Abs(hundredths-math.Round(hundredths)) > 1e-6 {
				t.Errorf("%v: %.6f m is no round level", c, p.Level)
			}
		}
		if used != 1 {
			t.Errorf("%v: %d rows are of the level in use", c, used)
		}
		if len(table.Scheme) > c.most+own+1+1 {
			t.Errorf("%v: %d levels", c, len(table.Scheme))
		}
	}
}

func TestAStepIsRoundAndNoSmallerThanAsked(t *testing.T) {
	for _, c := range [][2]float64{{0, 0.01}, {0.0101, 0.02}, {0.03, 0.05}, {0.051, 0.1}, {0.7, 1}, {1.2, 2}, {33, 50}} {
		if got := roundStep(c[0]); math.Abs(got-c[1]) > 1e-9 {
			t.Errorf("%g gives %g, not %g", c[0], got, c[1])
		}
	}
}
