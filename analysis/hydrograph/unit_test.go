package hydrograph

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/fate"
	"runnel/analysis/soil"
	"runnel/geo/plan"
)

// unitPeak is the peak of the unit hydrograph of 1 mm on an area [m²] that comes after
// some time [h]: of all its water by the area below the table; [m³/s].
func unitPeak(area, peak float64) float64 {
	return millimetre * area / (peak * secondsAnHour * unitVolumes[len(unitVolumes)-1])
}

// massCurve is the third column of NEH 630 table 16-1, what has run by each time (from
// memory): it holds the second to account.
var massCurve = []float64{
	0, 0.001, 0.006, 0.017, 0.035, 0.065, 0.107, 0.163, 0.228, 0.300, 0.375, 0.450, 0.522, 0.589, 0.650, 0.705, 0.751,
	0.790, 0.822, 0.849, 0.871, 0.908, 0.934, 0.953, 0.967, 0.977, 0.984, 0.989, 0.993, 0.995, 0.997, 0.999, 1,
}

// NEH 630 chapter 16 (from memory): the peak is 484 A Q / Tp in mi², in and h, 0.208 in
// km², mm and h.
func TestTheUnitHydrographIsThatOfTheHandbook(t *testing.T) {
	if got := unitPeak(1e6, 1); !near(got, 0.2083, 0.002) {
		t.Errorf("of 1 mm on 1 km² the peak is %v m³/s, want 0.208", got)
	}
	const mile, cfs = 1609.344, 0.0283168
	if got := unitPeak(mile*mile, 1) * inch / cfs; !near(got, 484, 5) {
		t.Errorf("of 1 in on 1 mi² the peak is %v ft³/s, want 484", got)
	}
	for i, want := range massCurve {
		if got := run(unitTimes[i]); !near(got, want, 0.0025) {
			t.Errorf("by %v of the time to the peak %v has run, want %v", unitTimes[i], got, want)
		}
	}
	if run(9) != 1 || run(-1) != 0 {
		t.Error("it runs before it rains, or never ends")
	}
}

// A burst of a hundredth of the time: the peak comes at half the burst and 0.6 tc, and
// is the published one.
func TestTheUnitsPeakComesInTime(t *testing.T) {
	const tc, burst = 1.0, 0.01
	shares := Unit(tc, burst)
	sum, most, at := 0.0, 0.0, 0.0
	for i, s := range shares {
		sum += s
		if s > most {
			most, at = s, (float64(i)+0.5)*burst
		}
	}
	peak := burst/2 + 0.6*tc
	if !near(sum, 1, 1e-12) || !near(at, peak, burst) {
		t.Errorf("the shares are %v together and peak at %v h, want %v", sum, at, peak)
	}
	if got := most * millimetre * 1e6 / (burst * secondsAnHour); !near(got, unitPeak(1e6, peak), 0.01*got) {
		t.Errorf("it peaks at %v m³/s, want %v", got, unitPeak(1e6, peak))
	}
}

// A storm much shorter than tc is one burst: the peak is that of the unit hydrograph.
func TestAShortStormIsAUnit(t *testing.T) {
	roof := []fate.Ground{{Cover: fate.RoofCover, Hard: true, Area: 1e6}}
	storm := Storm{30, 0.02, shape(t, "even")}
	const tc = 2.0
	most := 0.0
	for _, q := range Of(roof, tc, storm, 60) {
		most = max(most, q)
	}
	if want := unitPeak(1e6, 0.6*tc+0.01) * Excess(98, 30); !near(most, want, 0.02*want) {
		t.Errorf("the peak is %v m³/s, want %v", most, want)
	}
}

// In a long even storm on ground that sheds all but all, the flow comes to the rain on
// the area, which is the rational method's peak.
func TestALongEvenStormComesToTheRainOnTheArea(t *testing.T) {
	roof := []fate.Ground{{Cover: fate.RoofCover, Hard: true, Area: 1e4}}
	roof[0].Coefficient.Likely = 1
	storm := Storm{480, 24, shape(t, "even")} // 20 mm/h
	flow := Of(roof, 0.5, storm, 300)
	if got, want := flow[23*12], Rational(1, 20, 1e4); !near(got, want, 0.001*want) || !near(RationalOf(roof, 0.5, storm), want, 1e-9) {
		t.Errorf("it comes to %v m³/s, want %v", got, want)
	}
}

// All that runs off runs by, whatever the steps.
func TestAllThatRunsOffRunsBy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, _ := ShapeNamed(rapid.SampledFrom(plan.Distributions()[:10]).Draw(t, "shape"), "")
		storm := Storm{rapid.Float64Range(1, 200).Draw(t, "depth"), rapid.Float64Range(0.1, 24).Draw(t, "hours"), s}
		var ground []fate.Ground
		for range rapid.IntRange(1, 4).Draw(t, "grounds") {
			ground = append(ground, fate.Ground{
				Cover: rapid.SampledFrom(append(plan.Covers(), fate.RoofCover)).Draw(t, "cover"),
				Group: soil.Group(rapid.IntRange(0, 3).Draw(t, "group")), Area: rapid.Float64Range(1, 5000).Draw(t, "area"),
			})
		}
		step, tc := rapid.Float64Range(20, 900).Draw(t, "step"), rapid.Float64Range(0, 3).Draw(t, "tc")
		sum := 0.0
		for _, q := range Of(ground, tc, storm, step) {
			if q < 0 || math.IsNaN(q) {
				t.Fatalf("the flow is %v", q)
			}
			sum += q * step
		}
		if want := MixOf(ground).Runoff(storm.Depth); !near(sum, want, 1e-9*max(1, want)) {
			t.Fatalf("%v m³ run by of %v", sum, want)
		}
	})
	if Of(nil, 1, Storm{40, 2, shape(t, "even")}, 60) != nil || Of(yard, 1, Storm{}, 60) != nil {
		t.Error("nothing runs by")
	}
}

// The steps are how the answer is cut, and not what it is: the peak of a storm on the
// yard is the same in steps of 10 s and of 1 min.
func TestThePeakDoesNotHangOnTheStep(t *testing.T) {
	storm := Storm{40, 2, shape(t, "triangular")}
	most := func(step float64) (q float64) {
		for _, v := range Of(yard, 0, storm, step) {
			q = max(q, v)
		}
		return q
	}
	if fine, usual := most(10), most(60); !near(usual, fine, 0.01*fine) {
		t.Errorf("the peak is %v and %v m³/s", fine, usual)
	}
}

func BenchmarkAStormOnAYard(b *testing.B) {
	storm := Storm{40, 2, shape(b, "triangular")}
	for b.Loop() {
		Of(yard, 0, storm, 60)
	}
}
