package runoff

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

func TestRoofWaterComesUpAtTheDownpipe(t *testing.T) {
	b := shaped(t, 10, 8, level)
	roof := b.draw(plan.Roof, box(2, 2, 6, 5), nil)
	b.draw(plan.Downpipe, orb.Point{6.4, 3.5}, nil)
	s := b.surface()
	src := s.Sources[0]
	if src.Feature != roof || len(src.Cells) != 12 || src.Area != 12 || src.Coefficient != 0.9 {
		t.Errorf("the roof is %+v", src)
	}
	for x := range 10 {
		for y := range 8 {
			want := lawn
			switch {
			case x >= 2 && x < 6 && y >= 3 && y < 6:
				want = 0
			case x == 6 && y == 4:
				want += 12 * 0.9
			}
			if got := s.Weight[b.cell(x, y)]; !near(got, want, 1e-12) {
				t.Errorf("cell %d, %d weighs %v, want %v", x, y, got, want)
			}
		}
	}
}

// Each end of a long roof drains to the downpipe at that end: 3 of 8 columns lie
// nearer to the one a quarter from the middle.
func TestEachPartOfARoofDrainsToItsNearestDownpipe(t *testing.T) {
	b := shaped(t, 12, 6, level)
	b.draw(plan.Roof, box(2, 2, 10, 4), nil)
	b.draw(plan.Downpipe, orb.Point{1.5, 3.5}, nil)
	b.draw(plan.Downpipe, orb.Point{8.5, 1.5}, nil) // the middle between them is at 5 east
	src := b.surface().Sources[0]
	want := map[int32]float64{b.cell(1, 2): 3.0 / 8, b.cell(8, 4): 5.0 / 8}
	for i, c := range src.Outlet {
		if !near(src.Share[i], want[c], 1.01/16) || want[c] == 0 {
			t.Errorf("cell %d has %v of the roof, want %v", c, src.Share[i], want[c])
		}
	}
}

func TestADownpipeInsideTheHouseIsMovedOutside(t *testing.T) {
	b := shaped(t, 10, 8, level)
	b.draw(plan.Roof, box(2, 2, 7, 7), nil)
	b.draw(plan.Downpipe, orb.Point{6.4, 4.4}, nil)
	if src := b.surface().Sources[0]; !slices.Equal(src.Outlet, []int32{b.cell(7, 3)}) {
		t.Errorf("its water comes up at %v", src.Outlet)
	}
}

func TestADownpipeAtNoRoofIsTold(t *testing.T) {
	b := shaped(t, 10, 8, level)
	b.draw(plan.Roof, box(2, 2, 4, 4), nil)
	s := b.complains(b.draw(plan.Downpipe, orb.Point{5.6, 3}, nil), "Downpipe 2 stands at no roof")
	if len(s.Sources[0].Outlet) < 4 {
		t.Error("the roof does not shed at its eaves")
	}
}

// A roof of 2 by 2 cells sheds each of them to a cell beside it.
func TestARoofWithNoDownpipeShedsAtItsEaves(t *testing.T) {
	b := shaped(t, 6, 6, level)
	b.draw(plan.Roof, box(2, 2, 4, 4), values{"runoff": 1})
	s := b.surface()
	shed := 0.0
	for c, w := range s.Weight {
		x, y := c%6, c/6
		if w > lawn {
			shed += w - lawn
			if beside := (x == 1 || x == 4) != (y == 1 || y == 4); !beside {
				t.Errorf("water comes up at %d, %d", x, y)
			}
		}
	}
	if !near(shed, 4, 1e-12) {
		t.Errorf("%v m³ a metre are shed, want 4", shed)
	}
}

func TestARoofSmallerThanACellIsDrained(t *testing.T) {
	b := shaped(t, 6, 6, level)
	b.draw(plan.Roof, box(2.6, 2.6, 2.9, 2.9), nil)
	if s := b.surface(); !near(s.Weight[b.cell(2, 3)], lawn+0.9*0.09, 1e-12) {
		t.Errorf("the cell under it weighs %v", s.Weight[b.cell(2, 3)])
	}
}

// The twin: for every cell of a building, all open cells are tried. The wave's is
// no more than a cell's diagonal further than the nearest.
func TestRoofsShedToTheNearestGround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := builder{marks: nil}
		b.Ground = grid.New[float32](anyFrame(t))
		b.marks = make([]mark, b.Ground.Len())
		for c := range b.marks {
			b.marks[c] = rapid.SampledFrom([]mark{0, roofed, roofed, raised, unknown, opened}).Draw(t, "mark")
		}
		nearest := b.outside()
		for c := range int32(len(b.marks)) {
			if !b.is(c, roofed|raised) {
				continue
			}
			if n := nearest[c]; n >= 0 {
				least := math.Inf(1)
				for o := range int32(len(b.marks)) {
					if !b.is(o, closed) {
						least = min(least, apart(b.Ground.Frame, c, o))
					}
				}
				// Cells of no data bar the wave's way, so that it may go round them.
				if b.is(n, closed) || apart(b.Ground.Frame, c, n) < least {
					t.Fatalf("cell %d sheds to %d", c, n)
				}
			}
		}
	})
}

func TestOfAPlainBuildingEveryCellShedsToTheNearestGround(t *testing.T) {
	b := shaped(t, 30, 24, level)
	b.draw(plan.Roof, orb.Polygon{{{4, 4}, {25, 6}, {22, 20}, {6, 15}, {4, 4}}}, nil)
	s := &builder{site: &b.Site, marks: make([]mark, b.Ground.Len())}
	s.Ground = b.Ground.Clone()
	s.sort()
	s.raiseRoofs()
	nearest := s.outside()
	for _, c := range s.roofs[0] {
		least := math.Inf(1)
		for o := range int32(len(s.marks)) {
			if !s.is(o, closed) {
				least = min(least, apart(s.Ground.Frame, c, o))
			}
		}
		if got := apart(s.Ground.Frame, c, nearest[c]); got > least+0.5 {
			t.Errorf("cell %d sheds %.2f m away, the nearest ground is %.2f m off", c, got, least)
		}
	}
}

// All the rain is somewhere: what the features shed and the ground around them
// sheds, each by the slow way, is the sum of the weights.
func TestNoWaterIsLostOrMade(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := shaped(nil, rapid.IntRange(4, 20).Draw(t, "w"), rapid.IntRange(4, 20).Draw(t, "h"), level)
		for range rapid.IntRange(0, 5).Draw(t, "holes") {
			b.Ground.V[rapid.IntRange(0, len(b.Ground.V)-1).Draw(t, "hole")] = grid.NoData
		}
		for range rapid.IntRange(0, 7).Draw(t, "features") {
			kind := rapid.SampledFrom([]plan.Kind{plan.Roof, plan.Paving, plan.Cover, plan.Wall, plan.Downpipe, plan.Drain}).Draw(t, "kind")
			area := shifted(star(t, b.Ground.Frame), 0.0613)
			switch plan.SpecOf(kind).Shape {
			case plan.AreaShape:
				b.draw(kind, area, nil)
			case plan.LineShape:
				b.draw(kind, orb.LineString(area[0]), nil)
			default:
				b.draw(kind, area[0][0], nil)
			}
		}
		s, err := Of(context.Background(), &b.Site, b.Ground)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := total(s), slowTotal(b, s); !near(got, want, 1e-9*max(1, want)) {
			t.Fatalf("the weights come to %v m², the features to %v", got, want)
		}
	})
}

// shifted moves an area so that no middle of a cell lies on its outline.
func shifted(area orb.Polygon, by float64) orb.Polygon {
	for i := range area[0] {
		area[0][i][0] += by
		area[0][i][1] += by * math.Sqrt2
	}
	return area
}

// slowTotal adds up coefficient times area: of the sources, and cell by cell of
// what lies under none.
func slowTotal(b *bench, s *Surface) float64 {
	sum := 0.0
	shown := make(map[plan.ID]bool)
	for _, src := range s.Sources {
		sum += src.Coefficient * src.Area
		shown[src.Feature] = true
	}
	for c, z := range b.Ground.V {
		p := b.Ground.Centre(c%b.Ground.W, c/b.Ground.W)
		hard, soft := false, lawn
		for _, f := range b.Plan.Features {
			if f.Area() == nil || !planar.PolygonContains(f.Area(), p) || plan.Check(f) != nil {
				continue
			}
			hard = hard || f.Kind == plan.Roof || f.Kind == plan.Paving
		}
		if z == z && !hard {
			sum += soft
		}
	}
	return sum
}

func TestCoversLieUnderPavingAndPavingUnderRoofs(t *testing.T) {
	b := shaped(t, 6, 6, level)
	gravel := plan.Feature{ID: 1, Kind: plan.Cover, Geometry: box(0, 0, 6, 6)}.With("cover", plan.Value{Text: "gravel"})
	b.Plan.Features, b.Plan.Last = append(b.Plan.Features, gravel), 1
	b.draw(plan.Roof, box(2, 2, 4, 4), nil)
	b.draw(plan.Downpipe, orb.Point{0.5, 3}, nil)
	b.Plan.Features[2].Geometry = orb.Point{1.5, 3.5}
	b.draw(plan.Paving, box(0, 0, 6, 4), nil)
	b.draw(plan.Paving, box(0, 0, 1, 1), values{"runoff": 0.2})
	s := b.surface()
	for _, c := range []struct {
		x, y int
		want float64
	}{{0, 0, 0.5}, {5, 5, 0.85}, {0, 5, 0.2}, {2, 3, 0}, {1, 2, 0.85 + 4*0.9}} {
		if got := s.Weight[b.cell(c.x, c.y)]; !near(got, c.want, 1e-12) {
			t.Errorf("cell %d, %d weighs %v, want %v", c.x, c.y, got, c.want)
		}
	}
	if n := len(s.Sources); n != 3 || s.Sources[1].Area != 24-4-1 {
		t.Errorf("sources %+v", s.Sources)
	}
}

func TestPavingUnderSomethingElseIsTold(t *testing.T) {
	b := shaped(t, 6, 6, level)
	id := b.draw(plan.Paving, box(1, 1, 3, 3), nil)
	b.draw(plan.Paving, box(0, 0, 5, 5), nil)
	b.complains(id, "covers no ground")
}

func TestWhatNoSurfaceCanBeMadeOfIsOneSentence(t *testing.T) {
	b := shaped(t, 3, 3, level)
	odd := b.Site
	odd.Setting.Cover = "moon dust"
	if _, err := Of(t.Context(), &odd, odd.Ground); err == nil || !strings.Contains(err.Error(), "is not in the table") {
		t.Errorf("an unknown cover gives %v", err)
	}
	ragged := grid.Ground{Frame: b.Ground.Frame, V: make([]float32, 4)}
	if _, err := Of(t.Context(), &b.Site, ragged); err == nil || !strings.Contains(err.Error(), "4 heights for 9 cells") {
		t.Errorf("a ragged ground gives %v", err)
	}
	if _, err := Of(t.Context(), &b.Site, grid.Ground{}); err == nil {
		t.Error("no ground is taken")
	}
	ended, end := context.WithCancel(context.Background())
	end()
	if _, err := Of(ended, &b.Site, b.Ground); err != context.Canceled {
		t.Errorf("a cancelled surface gives %v", err)
	}
	b.complains(b.draw(plan.Wall, orb.Point{1, 1}, nil), "draw it as a line")
}
