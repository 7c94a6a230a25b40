package sampling

import (
	"context"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"runnel/geo"
)

// run draws a plan whose outputs need nothing but the inputs.
func run(t *testing.T, p Plan, f func(values, out []float64)) *Sample {
	t.Helper()
	s, err := Run(context.Background(), p, func() func(values, out []float64) { return f })
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// belowOne is the greatest share that there is.
const belowOne = 1 - 1.0/(1<<53)

func near(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

// triangle returns the share of draws from a triangle that lie below a value.
func triangle(r geo.Range) func(float64) float64 {
	return func(x float64) float64 {
		if x < r.Likely {
			return (x - r.Low) * (x - r.Low) / ((r.High - r.Low) * (r.Likely - r.Low))
		}
		return 1 - (r.High-x)*(r.High-x)/((r.High-r.Low)*(r.High-r.Likely))
	}
}

// The distribution functions are closed forms: of a triangle its two squares, of the
// others by math.Erf.
func TestQuantilesAgainstTheirDistributions(t *testing.T) {
	bell := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	for name, c := range map[string]struct {
		of    Distribution
		below func(float64) float64
	}{
		"triangle":          {Triangular{2, 3, 7}, triangle(geo.Range{Low: 2, Likely: 3, High: 7})},
		"triangle from low": {Triangular{2, 2, 7}, triangle(geo.Range{Low: 2, Likely: 2, High: 7})},
		"triangle to high":  {Triangular{2, 7, 7}, triangle(geo.Range{Low: 2, Likely: 7, High: 7})},
		"log triangle": {LogTriangular{1, 10, 1000}, func(x float64) float64 {
			return triangle(geo.Range{Low: 0, Likely: 1, High: 3})(math.Log10(x))
		}},
		"normal":    {Normal{5, 2}, func(x float64) float64 { return bell((x - 5) / 2) }},
		"lognormal": {Lognormal{4, 3}, func(x float64) float64 { return bell(math.Log(x/4) / math.Log(3) * 1.6448536269514722) }},
	} {
		for _, share := range []float64{1e-9, .01, .05, .2, .25, .5, .81, .95, .999, 1 - 1e-9} {
			if x := c.of.Quantile(share); !near(c.below(x), share, 1e-9) {
				t.Errorf("%s: %g lies above %.9f of draws, want %.9f", name, x, c.below(x), share)
			}
		}
	}
	if d := (Lognormal{4, 3}); !near(d.Quantile(.95), 12, 1e-9) || !near(d.Quantile(.05), 4./3, 1e-9) {
		t.Errorf("90 %% of draws lie within %g and %g, want 1.33 and 12", d.Quantile(.05), d.Quantile(.95))
	}
	for _, d := range []Distribution{Triangular{3, 3, 3}, LogTriangular{3, 3, 3}, Normal{3, 0}, Lognormal{3, 1}} {
		for _, share := range []float64{1e-9, .5, belowOne} {
			if got := d.Quantile(share); !near(got, 3, 1e-12) {
				t.Errorf("%#v is known exactly, and yet is %g", d, got)
			}
		}
	}
	if got := []float64{Choice(4).Quantile(1e-9), Choice(4).Quantile(.26), Choice(4).Quantile(belowOne)}; !slices.Equal(got, []float64{0, 1, 3}) {
		t.Errorf("the choices are %v", got)
	}
}

func TestWhatMakesNoDistributionIsRefused(t *testing.T) {
	for want, d := range map[string]Distribution{
		"the range 3, 2, 4 is out of order":              Triangular{3, 2, 4},
		"the range 3, 2, 5 is out of order":              LogTriangular{3, 2, 5},
		"the range 0, 2, 4 begins at nought":             LogTriangular{0, 2, 4},
		"the mean 1 with a deviation of -1":              Normal{1, -1},
		"the median 2 with a factor of 0.5":              Lognormal{2, .5},
		"the median 0 with a factor of 2":                Lognormal{0, 2},
		"the range NaN, 1, 2 is out of order":            Triangular{math.NaN(), 1, 2},
		"there are 0 things to choose from; give one at": Choice(0),
	} {
		_, err := Run(context.Background(), Plan{Inputs: []Input{{"rain", d}}, Outputs: 1, Draws: 3}, nil)
		if err == nil || !strings.HasPrefix(err.Error(), "rain: "+want) {
			t.Errorf("%#v: %v, want rain: %s", d, err, want)
		}
	}
	if _, err := Run(context.Background(), Plan{Outputs: 1}, nil); err == nil {
		t.Error("no draws at all give an answer")
	}
}

var some = []Input{
	{"soil", LogTriangular{2, 10, 60}}, {"days", Triangular{14, 30, 60}}, {"year", Choice(10)},
	{"test", Lognormal{5, 2}}, {"level", Normal{1, .1}},
}

func mixed(v, out []float64) {
	out[0], out[1] = v[0]*v[1]+10*v[2], v[3]-v[4]
}

func TestTheSameDrawsHoweverManyWork(t *testing.T) {
	p := Plan{Inputs: some, Outputs: 2, Draws: 1003, Seed: 9, Workers: 1}
	one := run(t, p, mixed)
	for _, workers := range []int{2, 7} {
		p.Workers = workers
		many := run(t, p, mixed)
		for k := range one.Out {
			if !slices.Equal(one.Out[k], many.Out[k]) || !slices.Equal(one.Drawn[k], many.Drawn[k]) {
				t.Errorf("%d workers give another answer than one", workers)
			}
		}
	}
	p.Seed = 10
	if other := run(t, p, mixed); slices.Equal(one.Out[0], other.Out[0]) {
		t.Error("another seed gives the same answer")
	}
}

func TestEachWorkerHasItsOwnState(t *testing.T) {
	p := Plan{Inputs: some[:1], Outputs: 1, Draws: 2000, Workers: 4}
	s, err := Run(context.Background(), p, func() func(values, out []float64) {
		scratch := make([]float64, 1)
		return func(values, out []float64) {
			scratch[0] = values[0]
			runtime.Gosched()
			out[0] = scratch[0]
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(s.Out[0], s.Drawn[0]) {
		t.Error("workers write over each other")
	}
}

func TestRunIsGivenUp(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	draws := 0
	_, err := Run(ctx, Plan{Draws: 100_000, Workers: 1}, func() func(values, out []float64) {
		return func(values, out []float64) { draws++; cancel() }
	})
	if err == nil || draws > 2*block {
		t.Errorf("after %d draws: %v", draws, err)
	}
}

// A sample that lies evenly has as many draws in each tenth; chi² of 9 freedoms is below 27.9
// in 999 of 1000 (tables of the distribution).
func TestDrawsLieEvenlyAndApart(t *testing.T) {
	inputs := []Input{{"a", Choice(10)}, {"b", Choice(10)}, {"c", Triangular{0, 1, 1}}}
	s := run(t, Plan{Inputs: inputs, Draws: 20_000, Seed: 1}, func(_, _ []float64) {})
	for k := range 2 {
		chi := 0.0
		counts := make([]float64, 10)
		for _, v := range s.Drawn[k] {
			counts[int(v)]++
		}
		for _, n := range counts {
			chi += (n - 2000) * (n - 2000) / 2000
		}
		if chi > 27.9 {
			t.Errorf("the tenths hold %v draws", counts)
		}
	}
	all := make([]int32, s.Plan.Draws-1)
	for i := range all {
		all[i] = int32(i)
	}
	this := ranks(all, s.Drawn[2][1:])
	if r := squaredCorrelation(this, ranks(all, s.Drawn[2][:len(all)])); r > 1e-3 {
		t.Errorf("draws side by side share %.4f of their spread", r)
	}
	if r := squaredCorrelation(this, ranks(all, s.Drawn[0][1:])); r > 1e-3 {
		t.Errorf("inputs share %.4f of their spread", r)
	}
}
