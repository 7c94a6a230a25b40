package accuracy

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

func TestFaultsOfContours(t *testing.T) {
	for word, c := range map[string]struct {
		sort  Sort
		leave bool
		spoil func(s *survey.Survey)
	}{
		"Line 7 of slope.geojson has no height": {NoHeight, true, func(s *survey.Survey) { s.Lines[6].Z = nil }},
		"has no height, or not for all":         {NoHeight, true, func(s *survey.Survey) { s.Lines[6].Z = []float64{106, 106} }},
		"which 106.00 m would fit":              {OddHeight, true, func(s *survey.Survey) { s.Lines[6].Z = []float64{106 / 0.3048} }},
		"has a height of 160.00 m among":        {OddHeight, true, func(s *survey.Survey) { s.Lines[6].Z = []float64{160} }},
		"has a height of 106.20 m, while":       {OddHeight, false, func(s *survey.Survey) { s.Lines[6].Z = []float64{106.2} }},
		"Line 21 of slope.geojson is line 7": {Repeated, true, func(s *survey.Survey) {
			l := s.Lines[6]
			l.Number, l.At = 21, slices.Clone(l.At)
			slices.Reverse(l.At)
			s.Lines = append(s.Lines, l)
		}},
		"follows the same course as line 7": {Duplicate, false, func(s *survey.Survey) {
			l := s.Lines[6]
			l.Number, l.Z = 21, []float64{107}
			s.Lines = append(s.Lines, l)
		}},
		"crosses line": {Crossing, true, func(s *survey.Survey) { s.Lines[6].At = orb.LineString{{0, 60}, {50, 64}, {55, 83}, {100, 85}} }},
	} {
		s := slope(20)
		c.spoil(&s)
		faults := faultsOf(t, s)
		// Lines on the same course cross each other too.
		found := slices.IndexFunc(faults, func(f Fault) bool { return f.Sort == c.sort })
		if found < 0 || len(faults) > 2 || !strings.Contains(faults[found].Says, word) || faults[found].Leave != c.leave || len(faults[found].Lines) != 1 {
			t.Errorf("%v; want %q", faults, word)
		}
	}
}

// Halves of the interval and index contours are as they should be.
func TestLinesBetweenContoursAreNoFault(t *testing.T) {
	s := slope(20)
	l := s.Lines[6]
	l.At = slices.Clone(l.At)
	for i := range l.At {
		l.At[i][1] += 5
	}
	l.Z = []float64{106.5}
	s.Lines = append(s.Lines, l)
	if faults := faultsOf(t, s); len(faults) > 0 {
		t.Error(faults)
	}
}

func TestAPointThatCannotLieAmongTheContours(t *testing.T) {
	s := slope(20)
	s.Sources = append(s.Sources, survey.Source{Name: "spots.csv", Form: survey.Points})
	for i, z := range []float64{107.4, 104, 112} { // between 107 and 108
		s.Spots = append(s.Spots, survey.Spot{At: orb.Point{50, 74}, Z: z, Row: int32(i + 1), Source: 1})
		f := faultsOf(t, s)
		if wrong := len(f) == 1 && f[0].Sort == Against && strings.Contains(f[0].Says, "spots.csv"); wrong != (i > 0) {
			t.Errorf("at %g m: %v", z, f)
		}
		s.Spots = nil
	}
}
