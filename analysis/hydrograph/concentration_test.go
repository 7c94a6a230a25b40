package hydrograph

import (
	"math"
	"testing"

	"runnel/analysis/fate"
	"runnel/geo"
)

const foot = 0.3048 // [m]

// Kirpich 1940 in SI (from memory; 0.0078 with feet is 0.0195 with metres, worked out
// anew): minutes.
func TestKirpichsTimes(t *testing.T) {
	for _, c := range [][3]float64{{100, 0.05, 2.14}, {200, 0.02, 5.20}, {1000, 0.01, 23.4}} {
		if got := Kirpich(c[0], c[1]) * 60; !near(got, c[2], 0.005*c[2]) {
			t.Errorf("%v m at %v take %v min, want %v", c[0], c[1], got, c[2])
		}
		feet := 0.0078 * math.Pow(c[0]/foot, 0.77) * math.Pow(c[1], -0.385)
		if got := Kirpich(c[0], c[1]) * 60; !near(got, feet, 0.005*feet) {
			t.Errorf("%v m at %v take %v min, by feet %v", c[0], c[1], got, feet)
		}
	}
}

func TestNoTimeIsShorterThanFiveMinutes(t *testing.T) {
	if Concentration(40, 2) != 5.0/60 || Concentration(0, 0) != 5.0/60 {
		t.Error("a short way is not taken to be 5 min")
	}
	if got, want := Concentration(1000, 10), Kirpich(1000, 0.01); got != want {
		t.Errorf("a long way takes %v h, want %v", got, want)
	}
	if level := Concentration(1000, 0); math.IsInf(level, 1) || level != Kirpich(1000, 0.001) {
		t.Errorf("level ground takes %v h", level)
	}
}

// By definition 1 ha that sheds all of 360 mm/h sheds 1 m³/s. HEC-22 (3rd ed.) examples
// 3-1 and 3-3 (from memory, worked out anew): the weighted coefficient and the peaks
// before and after building.
func TestTheRationalMethod(t *testing.T) {
	if got := Rational(1, 360, 1e4); !near(got, 1, 1e-12) {
		t.Errorf("it is %v m³/s", got)
	}
	ground := func(pieces ...[2]float64) (all []fate.Ground, area float64) {
		for _, p := range pieces {
			all = append(all, fate.Ground{Cover: "lawn", Area: p[0] * 1e4, Coefficient: geo.Range{Likely: p[1]}})
			area += p[0] * 1e4
		}
		return all, area
	}
	before, area := ground([2]float64{8.95, 0.25}, [2]float64{8.60, 0.22})
	after, _ := ground([2]float64{2.20, 0.90}, [2]float64{0.66, 0.15}, [2]float64{7.52, 0.25}, [2]float64{7.17, 0.22})
	for _, c := range []struct {
		ground                   []fate.Ground
		intensity, share, peaked float64
	}{{before, 48, 0.235, 0.55}, {after, 58, 0.315, 0.89}} {
		storm := Storm{c.intensity, 1, shape(t, "even")}
		got := RationalOf(c.ground, 0.5, storm)
		if !near(got, c.peaked, 0.01) || !near(got/Rational(1, c.intensity, area), c.share, 0.001) {
			t.Errorf("the peak is %v m³/s, want %v", got, c.peaked)
		}
	}
	if got := RationalOf(before, 2, Storm{48, 1, shape(t, "even")}); !near(got, 0.275, 0.005) {
		t.Errorf("of a storm shorter than the way the peak is %v m³/s, want half of 0.55", got)
	}
	if RationalOf(before, 1, Storm{}) != 0 {
		t.Error("no storm has a peak")
	}
}
