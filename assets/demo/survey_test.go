package demo

import (
	"math"
	"slices"
	"testing"

	"runnel/geo/grid"
)

func TestShotsLieOnTheGroundButForTheOneThatIsPlanted(t *testing.T) {
	all, g := Shots(), made().Ground
	codes := map[string]int{}
	for i, s := range all {
		codes[s.Code]++
		if s.Number != i+1 || !site.Contains([2]float64{s.At[0] - west, s.At[1] - south}) {
			t.Fatalf("shot %d is numbered %d and lies at %v", i+1, s.Number, s.At)
		}
		off := s.Z - grid.Sample(g, s.At)
		switch {
		case s.Number == Mistaken:
			if math.Abs(off-misread) > 0.05 || s.Code != GroundCode {
				t.Errorf("the planted shot is off by %.3f m, and its code is %s", off, s.Code)
			}
		case math.Abs(off) > 0.12: // the cells round off the drain and the lane's edge
			t.Errorf("shot %d, %s, is off by %.3f m", s.Number, s.Code, off)
		}
	}
	for _, code := range []string{GroundCode, KerbCode, BedCode, EdgeCode} {
		if codes[code] < 10 {
			t.Errorf("%d shots have the code %s", codes[code], code)
		}
	}
	if len(all) < 250 || len(all) > 500 {
		t.Errorf("there are %d shots", len(all))
	}
	if !slices.Equal(all, Shots()) {
		t.Error("two runs measure different shots")
	}
}

func TestTheEdgeOfTheShotsIsClosed(t *testing.T) {
	var edge []Shot
	for _, s := range Shots() {
		if s.Code == EdgeCode {
			edge = append(edge, s)
		}
	}
	if first, last := edge[0], edge[len(edge)-1]; first.At != last.At || first.Z != last.Z {
		t.Errorf("it runs from %+v to %+v", first, last)
	}
}

func TestTheSiteSaysThatItsGroundIsInvented(t *testing.T) {
	s := made()
	if err := s.Survey.Check(); err != nil {
		t.Fatal(err)
	}
	if one := s.Survey.Sources; len(one) != 1 || one[0].Count != s.Ground.Len() || one[0].Cell != s.Ground.DX {
		t.Errorf("the ground rests on %+v", one)
	}
	if q := s.Survey.Quality; q.Error != s.Setting.SurveyError || q.Reach != s.Setting.SurveyReach {
		t.Errorf("its quality is %+v and its setting %g m and %g m", q, s.Setting.SurveyError, s.Setting.SurveyReach)
	}
}
