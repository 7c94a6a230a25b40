package soil

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(got, want, by float64) bool { return math.Abs(got-want) <= by }

// Chow, Maidment & Mays, Applied hydrology, 1988, examples 4.3.1, 4.4.1 and 4.4.2 (from
// memory of the book; each recomputed by hand): a silt loam with K 0.65 cm/h, suction
// 16.7 cm, effective porosity 0.486, 30 % of it full. And a silty clay of which a
// third-party text works the ponding out (K 0.05 cm/h, 29.22 cm, 0.423, 40 % full).
func TestGreenAmptAsInTheTextbook(t *testing.T) {
	silt := Intake{Rate: 6.5, Pull: 167 * (1 - 0.3) * 0.486}
	clay := Intake{Rate: 0.5, Pull: 292.2 * (1 - 0.4) * 0.423}
	f := silt.Cumulative(0, 1)
	ponds := func(i Intake, rain float64) float64 { hours, _ := i.Ponding(rain); return hours }
	_, slow := silt.Ponding(10)
	_, quick := silt.Ponding(50)
	rained := silt.Rained(50, 1)
	for _, c := range []struct {
		what            string
		got, want, half float64
	}{
		{"4.3.1 F after 1 h [mm]", f, 31.7, 0.05},
		{"4.3.1 rate [mm/h]", silt.RateAt(f), 18.1, 0.1}, // printed with F rounded
		{"4.4.1 ponds at 10 mm/h [h]", ponds(silt, 10), 10.5, 0.06},
		{"4.4.1 F then [mm]", slow, 105, 0.6},
		{"4.4.1 ponds at 50 mm/h [h]", ponds(silt, 50), 0.17, 0.005},
		{"4.4.1 F then [mm]", quick, 8.5, 0.05},
		{"4.4.2 F after 1 h [mm]", rained, 30.2, 0.05},
		{"4.4.2 rate [mm/h]", silt.RateAt(rained), 18.7, 0.1},
		{"silty clay ponds at 10 mm/h [h]", ponds(clay, 10), 0.39, 0.005},
		{"silty clay ponds at 30 mm/h [h]", ponds(clay, 30), 0.042, 0.0005},
	} {
		if !near(c.got, c.want, c.half) {
			t.Errorf("%s: %.4f, want %.4f", c.what, c.got, c.want)
		}
	}
}

// [Rawls1983] as Chow, Maidment & Mays print it in table 4.3.1 (from memory; the column of
// suction is confirmed by another text), and what comes of it after an hour where 30 % of the
// effective porosity is full (worked out beside the program).
func TestGreenAmptOfEveryTexture(t *testing.T) {
	for name, c := range map[string]struct{ n, effective, suction, k, f, rate float64 }{
		"sand":            {.437, .417, 4.95, 11.78, 15.32, 12.89},
		"loamy sand":      {.437, .401, 6.13, 2.99, 5.445, 3.935},
		"sandy loam":      {.453, .412, 11.01, 1.09, 3.403, 2.107},
		"loam":            {.463, .434, 8.89, .34, 1.591, .917},
		"silt loam":       {.501, .486, 16.68, .65, 3.166, 1.815},
		"sandy clay loam": {.398, .330, 21.85, .15, 1.332, .718},
		"clay loam":       {.464, .309, 20.88, .10, 1.018, .544},
		"silty clay loam": {.471, .432, 27.30, .10, 1.352, .710},
		"sandy clay":      {.430, .321, 23.90, .06, .843, .442},
		"silty clay":      {.479, .423, 29.22, .05, .964, .499},
		"clay":            {.475, .385, 31.63, .03, .735, .378},
	} {
		got, err := TextureNamed(name)
		if err != nil {
			t.Error(err)
			continue
		}
		if got.Porosity != c.n || got.Effective != c.effective || !near(got.Suction, 10*c.suction, 1e-9) {
			t.Errorf("%s is %v %v %v mm", name, got.Porosity, got.Effective, got.Suction)
		}
		wet := Intake{Rate: 10 * c.k, Pull: got.Suction * (1 - 0.3) * got.Effective}
		f := wet.Cumulative(0, 1)
		if !near(f, 10*c.f, 0.006*10) && !near(f, 10*c.f, 0.0005*10*c.f) || !near(wet.RateAt(f), 10*c.rate, 0.01*10*c.rate) {
			t.Errorf("%s: %.3f mm in an hour at %.3f mm/h, want %.2f at %.2f", name, f, wet.RateAt(f), 10*c.f, 10*c.rate)
		}
	}
}

func drawIntake(t *rapid.T) Intake {
	return Intake{
		Rate: math.Pow(10, rapid.Float64Range(-2, 3).Draw(t, "rate")),
		Pull: math.Pow(10, rapid.Float64Range(-3, 3).Draw(t, "pull")),
	}
}

// The implicit equation holds to 1e-9, steps add up to one, and bisection finds the same.
func TestIntakeSolvesItsEquation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := drawIntake(t)
		hours := math.Pow(10, rapid.Float64Range(-3, 4).Draw(t, "hours"))
		before := rapid.Float64Range(0, 500).Draw(t, "before")
		f := i.Cumulative(before, hours)
		slack := 1e-9 * max(1, f)
		if slow := bisected(i, before, hours); !near(f, slow, slack) {
			t.Fatalf("%+v from %g mm over %g h: %.12g mm, by halving %.12g", i, before, hours, f, slow)
		}
		part := rapid.Float64Range(0, 1).Draw(t, "part")
		if twice := i.Cumulative(i.Cumulative(before, part*hours), (1-part)*hours); !near(f, twice, slack) {
			t.Fatalf("%+v from %g mm over %g h: %.12g mm, in two steps %.12g", i, before, hours, f, twice)
		}
	})
}

// bisected is the slow twin of Cumulative.
func bisected(i Intake, before, hours float64) float64 {
	late := func(f float64) bool {
		return f-before-i.Pull*math.Log((f+i.Pull)/(before+i.Pull)) > i.Rate*hours
	}
	low, high := before, before+1
	for !late(high) {
		high = before + 2*(high-before)
	}
	for range 200 {
		if mid := (low + high) / 2; late(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return low
}

func TestIntakeGrowsAndItsRateFallsToTheConductivity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := drawIntake(t)
		f, rate := 0.0, math.Inf(1)
		for range 30 {
			next := i.Cumulative(f, rapid.Float64Range(0.01, 50).Draw(t, "hours"))
			if !(next > f) || !(i.RateAt(next) <= rate) || i.RateAt(next) < i.Rate {
				t.Fatalf("%+v: from %g to %g mm at %g mm/h after %g", i, f, next, i.RateAt(next), rate)
			}
			f, rate = next, i.RateAt(next)
		}
		f = i.Cumulative(f, 1e9)
		if !near(i.RateAt(f)/i.Rate, 1, 1e-3) {
			t.Fatalf("%+v: the rate ends at %g mm/h", i, i.RateAt(f))
		}
	})
}

func TestIntakeOfRainIsAllOfItUntilItPonds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := drawIntake(t)
		rain, hours := math.Pow(10, rapid.Float64Range(-1, 3).Draw(t, "rain")), rapid.Float64Range(0, 48).Draw(t, "hours")
		ponds, taken := i.Ponding(rain)
		got := i.Rained(rain, hours)
		if got > rain*hours*(1+1e-12) || got > i.Cumulative(0, hours)+1e-9*max(1, got) {
			t.Fatalf("%g mm of %g mm of rain soak in, of water that stands %g", got, rain*hours, i.Cumulative(0, hours))
		}
		if hours <= ponds && got != rain*hours {
			t.Fatalf("%g mm of %g mm soak in before it ponds", got, rain*hours)
		}
		if !math.IsInf(ponds, 1) && !near(i.RateAt(taken)/rain, 1, 1e-9) {
			t.Fatalf("it ponds when the soil takes %g mm/h of %g", i.RateAt(taken), rain)
		}
	})
}

func TestAnIntakeThatPullsOrTakesNothing(t *testing.T) {
	if got := (Intake{Rate: 10}).Cumulative(5, 2); got != 25 {
		t.Errorf("with no room in it soil takes %g mm, want 5 + 2 h of 10 mm/h", got)
	}
	if got := (Intake{Pull: 50}).Cumulative(5, 2); got != 5 {
		t.Errorf("with no conductivity soil takes %g mm, want the 5 before", got)
	}
	if got := (Soil{Suction: 90, Deficit: 0.2}).Intake(10, 210); !near(got.Pull, 60, 1e-12) || got.Rate != 10 {
		t.Errorf("the intake is %+v, want a pull of (90 + 210) × 0.2", got)
	}
}

func TestIntakeAllocatesNothing(t *testing.T) {
	i := Intake{10, 20}
	if n := testing.AllocsPerRun(100, func() { i.Cumulative(3, 24) }); n != 0 {
		t.Errorf("it allocates %v times", n)
	}
}

func BenchmarkIntakeOfADay(b *testing.B) {
	i, f := Intake{10, 20}, 0.0
	for n := range b.N {
		if f = i.Cumulative(f, 24); n%30 == 0 {
			f = 0
		}
	}
}
