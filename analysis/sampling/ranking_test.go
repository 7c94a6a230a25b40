package sampling

import (
	"context"
	"fmt"
	"math"
	"testing"

	"runnel/geo"
)

func TestPercentilesOfTheNormal(t *testing.T) {
	s := run(t, Plan{Inputs: []Input{{"x", Normal{10, 1}}}, Outputs: 1, Draws: 10_000}, func(v, out []float64) { out[0] = v[0] })
	r := s.Range(0)
	if !near(r.Low, 10-1.6449, .05) || !near(r.Likely, 10, .05) || !near(r.High, 10+1.6449, .05) {
		t.Errorf("the range is %+v, want 8.355, 10, 11.645", r)
	}
}

func TestRangeOfWhatIsNotAlwaysKnown(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		out  []float64
		want string
	}{
		{[]float64{3, nan, 1, 2}, "{1.1 2 2.9}"}, {[]float64{nan, nan}, "{NaN NaN NaN}"}, {[]float64{4}, "{4 4 4}"},
		{[]float64{inf, 1, inf, inf}, "{+Inf +Inf +Inf}"}, {[]float64{inf, inf, inf}, "{+Inf +Inf +Inf}"}, {nil, "{NaN NaN NaN}"},
	} {
		r := RangeOf(c.out)
		if got := fmt.Sprint(geo.Range{Low: math.Round(100*r.Low) / 100, Likely: r.Likely, High: math.Round(100*r.High) / 100}); got != c.want {
			t.Errorf("the range of %v is %s, want %s", c.out, got, c.want)
		}
	}
}

// share finds an input's in a ranking.
func (r Ranking) share(name string) float64 {
	for _, c := range r.Causes {
		if c.Name == name {
			return c.Share
		}
	}
	return math.NaN()
}

// Of y = 3 x1 + x2 with like normal inputs the correlations are 3/√10 and 1/√10, and the rank correlation of
// normal figures is 6/π·asin(r/2) (Pearson 1907, from memory).
func TestRankingOfASum(t *testing.T) {
	inputs := []Input{{"x2", Normal{0, 1}}, {"x1", Normal{5, 1}}, {"x3", Normal{0, 1}}}
	s := run(t, Plan{Inputs: inputs, Outputs: 1, Draws: 20_000}, func(v, out []float64) { out[0] = 3*v[1] + v[0] })
	r := s.Ranking(0)
	rank := func(correlation float64) float64 { return math.Pow(6/math.Pi*math.Asin(correlation/2), 2) }
	first, second := rank(3/math.Sqrt(10)), rank(1/math.Sqrt(10))
	if !near(r.share("x1"), first, .005) || !near(r.share("x2"), second, .01) || !near(r.share("x3"), 0, .001) || !near(r.Rest, 1-first-second, .01) {
		t.Errorf("the ranking is %+v, want %.4f of x1 and %.4f of x2", r, first, second)
	}
	if r.Causes[0] != (Cause{1, "x1", r.share("x1")}) || r.Causes[1].Name != "x2" {
		t.Errorf("the greatest cause is not first: %+v", r.Causes)
	}
}

// Something that rises however crookedly is explained wholly; what goes down and up again
// is not, unless it is a choice.
func TestRankingSeesWhatRisesAndWhatIsChosen(t *testing.T) {
	inputs := []Input{{"x", Normal{0, 1}}, {"year", Choice(9)}}
	s := run(t, Plan{Inputs: inputs, Outputs: 5, Draws: 9000, Seed: 4}, func(v, out []float64) {
		out[0] = math.Exp(3 * v[0])
		out[1] = v[0] * v[0]
		out[2] = math.Abs(v[1] - 4)
		out[3] = 7
		if out[4] = v[0]; v[0] < 0 {
			out[4] = math.NaN()
		}
	})
	for _, c := range []struct {
		output        int
		x, year, rest float64
	}{{0, 1, 0, 0}, {1, 0, 0, 1}, {2, 0, 1, 0}, {3, 0, 0, 1}, {4, 1, 0, 0}} {
		r := s.Ranking(c.output)
		if !near(r.share("x"), c.x, .002) || !near(r.share("year"), c.year, .003) || !near(r.Rest, c.rest, .005) {
			t.Errorf("output %d: %+v, want %g, %g, rest %g", c.output, r, c.x, c.year, c.rest)
		}
	}
}

// Ten years and a normal input with the same variance, (n² − 1)/12 of evenly spaced years, cause about a
// half each; ranks move that by a few hundredths.
func TestAChoiceIsRankedBesideWhatHasAnOrder(t *testing.T) {
	deviation := math.Sqrt(99. / 12)
	order := []float64{3, 9, 0, 7, 1, 8, 2, 6, 5, 4} // years are in no order
	s := run(t, Plan{Inputs: []Input{{"x", Normal{0, deviation}}, {"year", Choice(10)}}, Outputs: 1, Draws: 20_000},
		func(v, out []float64) { out[0] = v[0] + order[int(v[1])] })
	r := s.Ranking(0)
	if x, year := r.share("x"), r.share("year"); !near(x, .5, .06) || !near(year, .5, .06) || r.Rest > .06 {
		t.Errorf("the ranking is %+v, want about a half each", r)
	}
}

func TestEqualFiguresShareTheirRank(t *testing.T) {
	got := fmt.Sprint(ranks([]int32{0, 1, 2, 3, 5}, []float64{4, 1, 4, 9, 100, 4}))
	if want := "[0 -2 0 2 0]"; got != want {
		t.Errorf("the ranks are %s, want %s", got, want)
	}
}

// Draws take no memory: a hundred times as many make no more allocations.
func TestDrawsAllocateNothing(t *testing.T) {
	count := func(draws int) float64 {
		p := Plan{Inputs: some, Outputs: 2, Draws: draws, Workers: 1}
		return testing.AllocsPerRun(3, func() {
			if _, err := Run(context.Background(), p, func() func(values, out []float64) { return mixed }); err != nil {
				t.Fatal(err)
			}
		})
	}
	if few, many := count(100), count(10_000); many > few+8 {
		t.Errorf("100 draws make %g allocations, 10,000 make %g", few, many)
	}
}

func BenchmarkRun(b *testing.B) {
	p := Plan{Inputs: some, Outputs: 2, Draws: 10_000}
	for b.Loop() {
		if _, err := Run(context.Background(), p, func() func(values, out []float64) { return mixed }); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRanking(b *testing.B) {
	s, err := Run(context.Background(), Plan{Inputs: some, Outputs: 2, Draws: 10_000}, func() func(values, out []float64) { return mixed })
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s.Ranking(0)
	}
}
