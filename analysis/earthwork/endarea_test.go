package earthwork

import (
	"context"
	"errors"
	"math"
	"testing"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A straight channel of one section: its area by the trapezoid's formula, its volume
// by geometry; the sill stands in the grid alone.
func TestTheTableOfSectionsAddsUpToTheVolume(t *testing.T) {
	s := siteOf(0.1, level)
	add(s, plan.Channel, line(4, 9, 26, 11), map[string]float64{"bed_width": 0.8, "bed_start": 9.5, "bed_end": 9.5})
	add(s, plan.Channel, line(4, 3, 26, 3), map[string]float64{"bed_start": 9.7, "bed_end": 9.6})
	add(s, plan.Sill, line(15.3, 7, 14.7, 13), map[string]float64{"crest": 9.8})
	n, _ := channel.NewNetwork(s, 1)
	e, err := EndAreas(t.Context(), s.Ground, n, 4)
	if err != nil {
		t.Fatal(err)
	}
	if len(e.Stations) != 7+7 || e.Stations[6].Chainage != math.Hypot(22, 2) || e.Stations[7].ID != 2 || e.Stations[7].Chainage != 0 {
		t.Fatalf("the stations are %+v", e.Stations)
	}
	section := channel.Section{Bed: 0.8, Left: 2, Right: 2}
	for i, at := range e.Stations[:7] {
		if math.Abs(at.Cut/section.Area(0.5)-1) > 1e-3 || at.Fill != 0 || at.FillSoFar != 0 {
			t.Errorf("%+v, its area is %v", at, section.Area(0.5))
		}
		if i > 0 && i < 6 && math.Abs((at.CutSoFar-e.Stations[i-1].CutSoFar)/((at.Chainage-e.Stations[i-1].Chainage)*section.Area(0.5))-1) > 0.15 {
			t.Errorf("%+v after %+v", at, e.Stations[i-1]) // a part of a metre may count at the next
		}
	}
	r, out := 0.4, 1.4
	want := section.Area(0.5)*math.Hypot(22, 2) + math.Pi*0.5/3*(r*r+r*out+out*out)
	if got := e.Stations[6].CutSoFar; math.Abs(got/want-1) > 1e-3 {
		t.Errorf("the first channel's cut is %v, want %v", got, want)
	}
	if sum := e.Stations[6].CutSoFar + e.Stations[13].CutSoFar; math.Abs(sum-e.AverageEnd.Cut) > 1e-9 {
		t.Errorf("the table ends at %v, the volume is %v", sum, e.AverageEnd.Cut)
	}
	proposed, err := Shape(t.Context(), s.Ground, n)
	if err != nil {
		t.Fatal(err)
	}
	built := Volume(s.Ground, proposed)
	if math.Abs(built.Cut-e.Grid.Cut-e.Sills.Cut) > 1e-9 || e.Sills.Cut >= 0 || math.Abs(e.Grid.Cut/e.Prismoidal.Cut-1) > 5e-3 {
		t.Errorf("built it is %+v, the grid %+v and the sills %+v; by prismoids %+v", built, e.Grid, e.Sills, e.Prismoidal)
	}
}

func TestSectionsAreNotTakenOnWhenStopped(t *testing.T) {
	s := schemes["a winding channel"](0.2)
	n, _ := channel.NewNetwork(s, 1)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := EndAreas(ctx, s.Ground, n, 0); !errors.Is(err, context.Canceled) {
		t.Errorf("it goes on: %v", err)
	}
}

func TestASiteWithoutChannelsMovesNoEarth(t *testing.T) {
	s := siteOf(0.5, level)
	add(s, plan.Drain, line(5, 8, 25, 12), nil)
	n, _ := channel.NewNetwork(s, 1)
	e, err := EndAreas(t.Context(), s.Ground, n, 0)
	if err != nil || len(e.Stations) > 0 || e.AverageEnd != (Volumes{}) || e.Grid != (Volumes{}) || e.Sills != (Volumes{}) {
		t.Errorf("%+v (%v)", e, err)
	}
}
