package runoff

import (
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/internal/raster"
	"runnel/geo/plan"
)

const lawn = 0.16 // the usual cover's coefficient

// A plane between high sides falls to the south by 0.1 m a cell; a wall crosses it, and a culvert
// passes under the wall. All that falls on the 4 rows above it, 28 m², comes to
// the culvert; the wall's own row and the rows below drain off the south edge.
func TestAPlaneSplitByAWallDrainsThroughItsCulvert(t *testing.T) {
	b := shaped(t, 7, 9, func(east, north float64) float64 {
		if east < 1 || east > 6 {
			north += 50
		}
		return north / 10
	})
	b.draw(plan.Wall, line(0, 4.5, 7, 4.5), nil)
	culvert := b.draw(plan.Culvert, line(3.5, 5.5, 3.5, 3.5), nil)
	s := b.surface()
	if len(s.Links) != 1 {
		t.Fatalf("links %+v", s.Links)
	}
	l := s.Links[0]
	if l.Feature != culvert || l.From != b.cell(3, 3) || l.To != b.cell(3, 5) || !near(l.Level, 0.55, 1e-6) {
		t.Errorf("the culvert is %+v", l)
	}
	got := gathered(s, route(t, s))
	if !near(got[l.From], 28*lawn, 1e-12) {
		t.Errorf("%.3f m³ a metre come to the culvert, want %.3f", got[l.From], 28*lawn)
	}
	south := 0.0
	for x := 1; x < 6; x++ { // the sides drain to the row's other cells
		south += got[b.cell(x, 8)]
	}
	if !near(south, 35*lawn, 1e-12) {
		t.Errorf("%.3f m³ a metre run off the south edge, want %.3f", south, 35*lawn)
	}
}

// A street of 8 by 20 m is crowned in the middle and falls gently along. Between
// its kerbs the water of each half, 80 m² with the kerb's own, runs along the kerb
// to the inlet at its foot.
func TestEachHalfOfACrownedStreetRunsAlongItsKerbToItsInlet(t *testing.T) {
	for _, height := range []float64{0.3, 0} {
		b := shaped(t, 8, 20, func(east, north float64) float64 { return 5 - 0.1*max(east-4, 4-east) + 0.01*north })
		b.draw(plan.Paving, box(0, 0, 8, 20), values{"runoff": 0.85})
		b.draw(plan.Kerb, line(0.5, 0, 0.5, 20), values{"height": height})
		b.draw(plan.Kerb, line(7.5, 0, 7.5, 20), values{"height": height})
		b.draw(plan.Inlet, orb.Point{1.5, 0.5}, nil)
		b.draw(plan.Inlet, orb.Point{6.5, 0.5}, nil)
		s := b.surface()
		got := gathered(s, route(t, s))
		want := 80 * 0.85
		if height == 0 { // nothing holds the water on the street
			want = 3 * 0.85
		}
		for _, l := range s.Links {
			if !near(got[l.From], want, 1e-9) {
				t.Errorf("kerb of %.1f m: %.2f m³ a metre come to the inlet, want %.2f", height, got[l.From], want)
			}
		}
	}
}

func TestAnInletDrawnInTheKerbTakesWhatRunsAlongIt(t *testing.T) {
	b := shaped(t, 6, 6, func(east, north float64) float64 { return 5 + 0.1*east + 0.01*north })
	b.draw(plan.Kerb, line(1.5, 0, 1.5, 6), values{"height": 0.3})
	b.draw(plan.Inlet, orb.Point{1.5, 3.5}, values{"capacity": 0.02})
	l := b.surface().Links[0]
	if l.From != b.cell(0, 3) || l.To != -1 || l.Capacity != 0.02 {
		t.Errorf("the inlet is %+v; want it at the lowest cell beside the kerb", l)
	}
}

// The survey shows a verge 0.12 m over the street. A kerb of 0.12 m between them
// stands as high as the verge, on whichever side of the step it is drawn.
func TestAKerbThatTheSurveyShowsIsNotRaisedTwice(t *testing.T) {
	for _, east := range []float64{3.5, 4.5} {
		b := shaped(t, 8, 3, func(east, _ float64) float64 {
			if east > 4 {
				return 5.12
			}
			return 5
		})
		b.draw(plan.Kerb, line(east, 0, east, 3), values{"height": 0.12})
		got := b.surface().Ground
		if z := got.V[b.cell(int(east), 1)]; !near(float64(z), 5.12, 1e-6) {
			t.Errorf("drawn at %.1f m the kerb stands at %.3f m, want 5.12", east, z)
		}
	}
}

// On a slope no water crosses a kerb, however steep and whichever way it runs: all
// that falls above it leaves at its ends.
func TestAKerbOnASlopeStopsTheWaterFromAbove(t *testing.T) {
	for _, slope := range []float64{0.01, 0.05, 0.1, 0.2, 0.5} {
		for _, kerb := range []orb.LineString{line(0, 10.5, 20, 10.5), line(0, 15, 20, 5)} {
			b := shaped(t, 20, 20, func(east, north float64) float64 { return slope * (north + east/50) })
			b.draw(plan.Kerb, kerb, nil)
			s := b.surface()
			f := route(t, s)
			for c := range int32(20) { // the cells of the north edge
				for _, on := range flow.Trace(f.Dir, int(c), 0) {
					if s.Ground.V[on] > b.Ground.V[on] {
						t.Fatalf("on a slope of %g water from column %d goes over the kerb in cell %d", slope, c, on)
					}
				}
			}
		}
	}
}

// At the top of a bank a kerb stands on the street, whatever lies below the bank.
func TestAKerbAtTheTopOfABankHoldsTheStreetsWater(t *testing.T) {
	b := shaped(t, 8, 6, func(east, north float64) float64 {
		if east < 4 {
			return 2 + north/100
		}
		return 5 + (east-4)/40 + north/100
	})
	b.draw(plan.Kerb, line(4.5, 0, 4.5, 6), nil)
	s := b.surface()
	if got, want := s.Ground.V[b.cell(4, 3)], b.Ground.V[b.cell(4, 3)]+0.12; got < want-1e-6 {
		t.Errorf("the kerb stands at %.3f m, want %.3f or more", got, want)
	}
}

// Kerbs that close a ring make a hollow as deep as they are high, whatever runs
// round in it.
func TestKerbsThatCloseARingHoldWater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := shaped(nil, 12, 12, level)
		for i := range b.Ground.V {
			b.Ground.V[i] = float32(rapid.IntRange(0, 40).Draw(t, "z")) / 100
		}
		area := box(2.5, 2.5, 9.5, 9.5)
		if rapid.Bool().Draw(t, "diamond") {
			area = orb.Polygon{{{6, 1}, {11, 6}, {6, 11}, {1, 6}, {6, 1}}}
		}
		b.draw(plan.Kerb, orb.LineString(area[0]), values{"height": 1})
		s, err := Of(t.Context(), &b.Site, b.Ground)
		if err != nil || len(s.Problems) > 0 {
			t.Fatal(err, s.Problems)
		}
		f, err := routed(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range raster.Within(b.Ground.Frame, area) {
			if f.Filled.V[c] < 1 {
				t.Fatalf("water leaves the ring from cell %d at %.2f m", c, f.Filled.V[c])
			}
		}
	})
}

func TestWhereBarriersMeetTheHighestStands(t *testing.T) {
	b := shaped(t, 5, 5, level)
	b.draw(plan.Wall, line(0, 2.5, 5, 2.5), values{"height": 1})
	b.draw(plan.Kerb, line(2.5, 0, 2.5, 5), values{"height": 0.1})
	s := b.surface()
	for _, c := range []struct {
		x, y int
		want float32
	}{{2, 2, 6}, {0, 2, 6}, {2, 0, 5.1}, {1, 1, 5}} {
		if got := s.Ground.At(c.x, c.y); got != c.want {
			t.Errorf("cell %d, %d stands at %v, want %v", c.x, c.y, got, c.want)
		}
	}
	if b.Ground.At(2, 2) != 5 {
		t.Error("the ground that was given is changed")
	}
}

func TestBuildingsStandAtOneLevelAboveTheGround(t *testing.T) {
	b := shaped(t, 6, 6, func(_, north float64) float64 { return north })
	b.draw(plan.Roof, box(1, 1, 4, 4), nil)
	s := b.surface()
	for _, c := range raster.Within(b.Ground.Frame, box(1, 1, 4, 4)) {
		if s.Ground.V[c] != 3.5+storey {
			t.Errorf("cell %d of the building stands at %v", c, s.Ground.V[c])
		}
	}
}

func TestBarriersLeaveDataUnknownAndDrainsOpen(t *testing.T) {
	b := shaped(t, 9, 5, level)
	b.Ground.Set(7, 2, float32(nan))
	b.draw(plan.Drain, line(3.5, 0, 3.5, 5), values{"bed_width": 0, "depth": 0.5})
	b.draw(plan.Wall, line(0, 2.5, 9, 2.5), nil)
	s := b.surface()
	if z := s.Ground.At(3, 2); !near(float64(z), 4.5, 1e-6) {
		t.Errorf("where the wall crosses the drain the bed is at %v, want 4.5", z)
	}
	if z := s.Ground.At(7, 2); z == z || s.Weight[b.cell(7, 2)] != 0 {
		t.Errorf("the cell of no data is at %v with weight %v", z, s.Weight[b.cell(7, 2)])
	}
	if s.Ground.At(2, 2) != 6 || s.Ground.At(4, 2) != 6 {
		t.Error("the wall does not stand beside the drain")
	}
}

func TestWhatLiesOffTheGroundIsTold(t *testing.T) {
	for kind, g := range map[plan.Kind]orb.Geometry{
		plan.Kerb: line(-9, 1, -9, 4), plan.Wall: line(-9, 1, -3, 4), plan.Drain: line(20, 20, 30, 30),
		plan.Inlet: orb.Point{-1, 2}, plan.Culvert: line(2, 2, 20, 2), plan.Roof: box(20, 20, 24, 24),
		plan.Paving: box(-20, 0, -10, 5), plan.Downpipe: orb.Point{9, 9},
	} {
		b := shaped(t, 6, 6, level)
		b.complains(b.draw(kind, g, nil), "the ground")
	}
}
