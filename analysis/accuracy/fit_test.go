package accuracy

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// quantile is that of the standard normal distribution, from the standard library's
// inverse error function.
func quantile(share float64) float64 { return math.Sqrt2 * math.Erfinv(2*share-1) }

func TestTheFactorsAreThoseOfTheNormalDistribution(t *testing.T) {
	for name, pair := range map[string][2]float64{
		"median absolute deviation":    {normal, 1 / quantile(0.75)},
		"one case in 20":               {oneIn20, quantile(0.95)},
		"one case in 4":                {oneIn4, quantile(0.75)},
		"nine in ten by half a step":   {nationalMap, 0.5 / quantile(0.95)},
		"nothing known of an interval": {1 / math.Sqrt(12), math.Sqrt(1./3 - 1./4)},
	} {
		if math.Abs(pair[0]-pair[1]) > 5e-5 {
			t.Errorf("%s: %g, want %g", name, pair[0], pair[1])
		}
	}
}

// The constant of Tukey's biweight, 4.685, is the one at which it is 95 % as good as
// least squares on normal values: the square of the mean of its slope over the mean
// of its square, worked out here over the density.
func TestTheBiweightIs95PercentAsGoodAsLeastSquares(t *testing.T) {
	const step = 1e-3
	slope, squares := 0.0, 0.0
	for x := -8.0; x < 8; x += step {
		density := math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) * step
		psi := func(x float64) float64 { return x * biweight(x) }
		slope += density * (psi(x+step) - psi(x-step)) / (2 * step)
		squares += density * psi(x) * psi(x)
	}
	if got := slope * slope / squares; math.Abs(got-0.95) > 5e-4 {
		t.Errorf("it is %g as good", got)
	}
}

// around are n places within 10 m of the middle, with the heights of a function.
func around(n int, random *rand.Rand, z func(x, y float64) float64) []hit {
	places := make([]place, n)
	for i := range places {
		x, y := 20*random.Float64()-10, 20*random.Float64()-10
		places[i] = place{x, y, z(x, y), int32(i)}
	}
	h := hunt{cloud: newCloud(places)}
	return h.near(0, 0, -1, n)
}

func TestTheFitIsAQuadraticAndHeedsNoBlunder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := make([]float64, terms)
		for i := range c {
			c[i] = rapid.Float64Range(-0.2, 0.2).Draw(t, "c") / math.Pow(10, float64(i/3))
		}
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		bad := rapid.IntRange(0, 3).Draw(t, "bad")
		hits := around(many, random, func(x, y float64) float64 { return 50 + c[0] + c[1]*x + c[2]*y + c[3]*x*x + c[4]*x*y + c[5]*y*y })
		for i := range bad {
			hits[3+5*i].z += 40
		}
		var q quadric
		q.fit(0, 0, hits, 0.001)
		// A few places in the corner of many may leave the rest too few to tell bends.
		if off := q.z - 50 - c[0]; math.Abs(off) > 0.05+6*q.spread*math.Sqrt(q.lever) {
			t.Fatalf("the height is off by %g m with %d blunders of 40 m, spread %g m, lever %g", off, bad, q.spread, q.lever)
		}
	})
}

func TestFewPlacesOrPlacesInALineStillTellAHeight(t *testing.T) {
	for _, n := range []int{1, 3, 11, many} {
		hits := around(n, rand.New(rand.NewPCG(1, 2)), func(x, _ float64) float64 { return 10 + x/10 })
		for i := range hits {
			hits[i].y = 5 // all beside the place
		}
		var q quadric
		q.fit(0, 0, hits, 0.03)
		if !finite(q.z) || !finite(q.lever) || q.z < 8.9 || q.z > 11.1 || q.lever < 0 {
			t.Errorf("%d places give %g m, lever %g", n, q.z, q.lever)
		}
	}
}
