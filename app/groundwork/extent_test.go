package groundwork

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/survey"
)

// slope is ten contours of three points, 1 m and 10 m apart.
func slope() survey.Survey {
	s := survey.Survey{Sources: []survey.Source{{Name: "slope.geojson", Form: survey.Contours, Unit: "m"}}}
	for i := range 10 {
		y := 2000 + 10*float64(i)
		s.Lines = append(s.Lines, survey.Line{At: orb.LineString{{1000, y}, {1050, y + 1}, {1100, y}}, Z: []float64{100 + float64(i)}, Number: i + 1})
	}
	return s
}

func TestALineFarOffIsRefusedOrLeftOut(t *testing.T) {
	for _, p := range []orb.Point{{1100, 8e6}, {0, -5e6}, {1100, 9e30}, {1000, 1e308}} {
		s := slope()
		s.Lines = append(s.Lines, survey.Line{At: orb.LineString{{1000, 2120}, p}, Z: []float64{105}, Number: 11})
		if _, err := Make(t.Context(), s, Options{}); err == nil || !strings.Contains(err.Error(), "line 11 of slope.geojson lies far off") {
			t.Errorf("%v: %v", p, err)
		}
		made, err := Make(t.Context(), s, Options{Leave: Proposed})
		if err != nil || made.Left != 1 {
			t.Errorf("%v: %d left out, %v", p, made.Left, err)
			continue
		}
		if b := made.Ground.Bound(); b.Max[0]-b.Min[0] > 120 || b.Max[1]-b.Min[1] > 120 {
			t.Errorf("%v: the ground is %v", p, b)
		}
	}
}

func TestFilesFarApartAreRefused(t *testing.T) {
	far := shots()
	for i := range far.Spots {
		far.Spots[i].At[0] += 3e6
	}
	if _, err := Make(t.Context(), slope().Joined(far), Options{}); err == nil || !strings.Contains(err.Error(), "points.csv lies too far from the other files") {
		t.Error(err)
	}
}

func TestWhatLiesInLineMakesNoGround(t *testing.T) {
	at := []orb.Point{{1000, 2000}, {1010, 2020}, {1020, 2040}, {1030, 2060}}
	for n := range len(at) {
		s := survey.Survey{Sources: []survey.Source{{Name: "few.csv", Form: survey.Points, Unit: "m"}}}
		for i, p := range at[:n+1] {
			s.Spots = append(s.Spots, survey.Spot{At: p, Z: 100, Row: int32(i + 1), Code: -1})
		}
		if _, err := Make(t.Context(), s, Options{}); err == nil || !strings.Contains(err.Error(), "three points that are not in line") {
			t.Errorf("%d points: %v", n+1, err)
		}
	}
}

// Of next to no relief nothing tells the error but what was given.
func TestWhatCouldNotBeHeldOutHasNoErrorOfItsOwn(t *testing.T) {
	s := survey.Survey{Sources: []survey.Source{{Name: "few.csv", Form: survey.Points, Unit: "m"}}}
	for i, p := range []orb.Point{{1000, 2000}, {1010, 2000}, {1000, 2010}} {
		s.Spots = append(s.Spots, survey.Spot{At: p, Z: 100 + 0.1*float64(i), Row: int32(i + 1), Code: -1})
	}
	for _, given := range []float64{0, 0.04} {
		s.Sources[0].Error = given
		made, err := Make(t.Context(), s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if q := made.Survey.Quality; !Unchecked(made.Survey) || q.Error != given {
			t.Errorf("with an error of %g m given: %+v", given, q)
		}
		if _, _, known := grid.Extent(made.Ground); known == 0 {
			t.Error("three points make no ground")
		}
	}
}

func TestContoursWithoutHeightsAreNotCalledStraight(t *testing.T) {
	s := survey.Survey{Sources: []survey.Source{{Name: "a.shp", Form: survey.Contours}}, Lines: []survey.Line{
		{At: orb.LineString{{0, 0}, {10, 3}, {20, 9}}, Z: []float64{math.NaN()}, Number: 1},
		{At: orb.LineString{{0, 5}, {10, 9}, {20, 14}}, Z: []float64{math.NaN()}, Number: 2},
	}}
	_, err := Make(t.Context(), s, Options{Tension: 0.5})
	if err == nil || !strings.Contains(err.Error(), "no height is known") {
		t.Errorf("it says %v", err)
	}
}
