package accuracy

import (
	"math"
	"slices"
	"strings"
	"testing"

	"runnel/geo/survey"
)

func TestFaultsOfWholeFiles(t *testing.T) {
	second := func(change func(p *survey.Spot)) survey.Survey {
		s, more := hilly(600, 0.02, 1), hilly(600, 0.02, 2)
		more.Sources[0].Name = "second.csv"
		for i := range more.Spots {
			change(&more.Spots[i])
		}
		return s.Joined(more)
	}
	for word, c := range map[string]struct {
		sort   Sort
		change func(p *survey.Spot)
	}{
		"3.28 times those of shots.csv":             {OddUnit, func(p *survey.Spot) { p.Z *= feet }},
		"0.30 times those of shots.csv":             {OddUnit, func(p *survey.Spot) { p.Z /= feet }},
		"lie 47.30 m from":                          {Shifted, func(p *survey.Spot) { p.Z += 47.3 }},
		"All heights of second.csv are 0.00 m":      {AllAlike, func(p *survey.Spot) { p.Z = 0 }},
		"second.csv lies 39.7 km from shots.csv; s": {Astray, func(p *survey.Spot) { p.At[0] += 40_000 }},
		"with east and north exchanged":             {Astray, func(p *survey.Spot) { p.At[0], p.At[1] = p.At[1], p.At[0] }},
	} {
		f := only(t, second(c.change))
		if f.Sort != c.sort || f.Leave || !slices.Equal(f.Sources, []int{1}) || c.sort != Shifted && !strings.Contains(f.Says, word) {
			t.Errorf("%+v; want %q", f, word)
		}
		if c.sort == Shifted && math.Abs(f.Off-47.3) > 0.1 {
			t.Errorf("a shift of 47.3 m is found as %g m", f.Off)
		}
	}
	if faults := faultsOf(t, second(func(*survey.Spot) {})); len(faults) > 0 {
		t.Error(faults)
	}
}

func TestTilesThatFollowEachOtherAreNotAstray(t *testing.T) {
	s := hilly(300, 0.02, 1)
	for tile := range 5 {
		more := hilly(300, 0.02, uint64(tile+2))
		for i := range more.Spots {
			more.Spots[i].At[0] += 300 * float64(tile+1)
		}
		s = s.Joined(more)
	}
	if got := sorts(faultsOf(t, s)); got[Astray] > 0 {
		t.Error(got)
	}
}
