package accuracy

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

func TestOneHeightInFeetAmongFewContoursIsFound(t *testing.T) {
	for _, n := range []int{7, 10, 19} {
		s := slope(n)
		s.Lines[4].Z = []float64{104 / 0.3048}
		f := only(t, s)
		if f.Sort != OddHeight || !f.Leave || !slices.Equal(f.Lines, []int{4}) || !strings.Contains(f.Says, "which 104.00 m would fit") {
			t.Errorf("%d contours: %+v", n, f)
		}
	}
}

func TestALineFarOffTheOthersIsFound(t *testing.T) {
	for _, p := range []orb.Point{{100, 8e6}, {0, -5e6}, {100, 9e30}, {1e308, 40}} {
		s := slope(10)
		s.Lines = append(s.Lines, survey.Line{At: orb.LineString{{0, 120}, p}, Z: []float64{105}, Number: 11})
		f := only(t, s)
		if f.Sort != Astray || !f.Leave || !slices.Equal(f.Lines, []int{10}) || !strings.Contains(f.Says, "Line 11 of slope.geojson") {
			t.Errorf("%v: %+v", p, f)
		}
		if f.At != (orb.Point{0, 120}) {
			t.Errorf("%v: it is shown at %v", p, f.At)
		}
		if s.Lines[10].Out {
			t.Error("a survey that was only looked at is changed")
		}
	}
}

// A long line round a dense survey is no fault.
func TestALongLineIsNotFarOff(t *testing.T) {
	s := slope(10)
	s.Lines = append(s.Lines, survey.Line{At: orb.LineString{{0, 110}, {400, 110}}, Z: []float64{110}, Number: 11})
	if got := sorts(faultsOf(t, s)); got[Astray] > 0 {
		t.Error(got)
	}
}

func TestAFileInFeetBesideOneInMetresIsFound(t *testing.T) {
	for _, first := range []int{0, 1} {
		both := []survey.Survey{slope(10), slope(10)}
		both[1].Sources[0].Name = "other.geojson"
		for i := range both[1].Lines {
			l := &both[1].Lines[i]
			for j := range l.At {
				l.At[j][1] += 100
			}
			l.Z[0] = (110 + float64(i)) / 0.3048
		}
		f := only(t, both[first].Joined(both[1-first]))
		if f.Sort != OddUnit || !slices.Equal(f.Sources, []int{1 - first}) || !strings.Contains(f.Says, "heights of other.geojson look like feet beside those of slope.geojson") {
			t.Errorf("%+v", f)
		}
		for i := range both[1].Lines {
			both[1].Lines[i].Z[0] *= 0.3048
		}
		if faults := faultsOf(t, both[first].Joined(both[1-first])); len(faults) > 0 {
			t.Errorf("all in metres: %v", faults)
		}
	}
}

func TestALineBesideMissingHeightsIsNotOutOfStep(t *testing.T) {
	s := survey.Survey{Sources: []survey.Source{{Name: "gap.geojson", Form: survey.Contours}}}
	for i, level := range []float64{0, 1, 2, 3, 4, 6, 7, 8, 9} {
		y := 10 * level
		s.Lines = append(s.Lines, survey.Line{At: orb.LineString{{0, y}, {50, y + 1}, {100, y}}, Z: []float64{100 + level}, Number: i + 1})
	}
	s.Lines[5].Z, s.Lines[6].Z = nil, nil
	for z, want := range map[float64]int{109: 0, 110: 0, 160: 1} {
		s.Lines[8].Z = []float64{z}
		odd := 0
		for _, f := range faultsOf(t, s) {
			if f.Sort == OddHeight {
				odd++
				if f.Leave {
					t.Errorf("at %g m: %s is proposed to leave out", z, f.Says)
				}
			}
		}
		if odd != want {
			t.Errorf("at %g m %d odd heights, want %d", z, odd, want)
		}
	}
}
