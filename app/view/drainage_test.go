package view

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/compare"
	"runnel/analysis/flow"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// dammed is a valley 40 by 60 m that falls to the south, with a bank 2 m high across
// it at 30 m north.
func dammed() *plan.Site {
	g := valley(40, 60)
	for x := range g.W {
		for _, y := range []int{29, 30} {
			g.Set(x, y, g.At(x, y)+2)
		}
	}
	return &plan.Site{Ground: g, Setting: plan.UsualSetting()}
}

// piped is the dammed valley with a culvert through the bank.
func piped() *plan.Site {
	s := dammed()
	s.Plan.Features = []plan.Feature{{ID: 7, Kind: plan.Culvert, Name: "Bank pipe", Geometry: orb.LineString{{20.5, 32.5}, {20.5, 27.5}}}}
	return s
}

func drainageOf(t testing.TB, s *plan.Site) *Drainage {
	t.Helper()
	d, err := drainageBy(context.Background(), nil, &Scene{Site: s, Ground: s.Ground}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestADropRunsThroughACulvertAndOn(t *testing.T) {
	s := piped()
	j, err := drainageOf(t, s).Journey(s.Ground, orb.Point{20.5, 50})
	if err != nil {
		t.Fatal(err)
	}
	if len(j.Legs) != 2 || len(j.Through) != 1 || j.Through[0] != 7 || j.End != flow.OffGround {
		t.Fatalf("%d ways over the ground, through %v, end %d", len(j.Legs), j.Through, j.End)
	}
	// It runs 50 m due south and falls 0.2 m a metre to the middle of the last cell.
	if math.Abs(j.Length-50) > 0.01 || math.Abs(j.Drop-0.2*49.5) > 0.11 {
		t.Errorf("it runs %.2f m and falls %.2f m", j.Length, j.Drop)
	}
	over, err := drainageOf(t, dammed()).Journey(s.Ground, orb.Point{20.5, 50})
	if err != nil || len(over.Legs) != 1 || len(over.Through) != 0 {
		t.Errorf("with no culvert: %d ways, through %v, error %v", len(over.Legs), over.Through, err)
	}
}

func TestWhatACulvertCarriesIsCountedBelowIt(t *testing.T) {
	d := drainageOf(t, piped())
	if len(d.Surface.Links) != 1 {
		t.Fatalf("the culvert makes %d links", len(d.Surface.Links))
	}
	link, cells := d.Surface.Links[0], d.Flow.Cells.V
	before := cells[link.From]
	if before < 500 {
		t.Fatalf("%d cells drain into the culvert, want most of the valley above it", before)
	}
	below := flow.Trace(d.Flow.Dir, int(link.To)%d.Flow.Dir.W, int(link.To)/d.Flow.Dir.W)
	for i, c := range below {
		if cells[c] <= before {
			t.Fatalf("%d cells drain through the %d. cell below the culvert, %d through the one before", cells[c], i+1, before)
		}
		before = cells[c]
	}
	if all := d.Catchment(20, 59); !all.At(20, 0) {
		t.Error("what drains through the culvert is not of the catchment below it")
	}
}

// Two pipes that begin in one cell carry its water once.
func TestOfTwoCulvertsFromOneCellOneCarries(t *testing.T) {
	s := piped()
	one := drainageOf(t, s)
	again := s.Plan.Features[0]
	again.ID, again.Geometry = 8, orb.LineString{{20.5, 32.5}, {22.5, 18.5}}
	s.Plan.Features = append(s.Plan.Features, again)
	two := drainageOf(t, s)
	if len(two.Surface.Links) != 2 || two.Surface.Links[0].From != two.Surface.Links[1].From {
		t.Fatalf("links %+v", two.Surface.Links)
	}
	for c, n := range two.Flow.Cells.V {
		if n != one.Flow.Cells.V[c] {
			t.Fatalf("%d cells drain through cell %d, %d with one culvert", n, c, one.Flow.Cells.V[c])
		}
	}
	second := int(two.Surface.Links[1].To)
	if w := s.Ground.W; two.Catchment(second%w, second/w).At(20, 10) {
		t.Error("the second culvert is taken to carry the valley's water")
	}
}

func TestADropGoesDownTheInletItMeets(t *testing.T) {
	s := dammed()
	s.Plan.Features = []plan.Feature{{ID: 9, Kind: plan.Inlet, Geometry: orb.Point{20.5, 40.5}}}
	j, err := drainageOf(t, s).Journey(s.Ground, orb.Point{20.5, 55})
	if err != nil || j.Inlet != 9 || j.End != flow.StayEnd {
		t.Errorf("inlet %d, end %d, error %v", j.Inlet, j.End, err)
	}
}

func TestADropOnARoofLeavesByItsDownpipe(t *testing.T) {
	s := dammed()
	s.Plan.Features = []plan.Feature{
		{ID: 1, Kind: plan.Roof, Geometry: orb.Polygon{{{4, 40}, {12, 40}, {12, 48}, {4, 48}, {4, 40}}}},
		{ID: 2, Kind: plan.Downpipe, Geometry: orb.Point{13, 41}},
	}
	j, err := drainageOf(t, s).Journey(s.Ground, orb.Point{6, 46})
	if err != nil || j.Roof != 1 {
		t.Fatalf("roof %d, error %v", j.Roof, err)
	}
	if start := j.Legs[0][0]; math.Hypot(start[0]-13, start[1]-41) > 2 {
		t.Errorf("its way begins at %v, want at the downpipe", start)
	}
}

func TestAHollowIsShownOnceItIsDeeperThanTheSurveysError(t *testing.T) {
	s := dammed()
	d := drainageOf(t, s)
	ponds, err := NewPonding(context.Background(), d, s.Setting)
	if err != nil {
		t.Fatal(err)
	}
	if len(ponds.Hollows) != 1 || ponds.Hollows[0].Into != -1 || math.Abs(ponds.Hollows[0].Depth-1.8) > 0.01 {
		t.Fatalf("behind the bank stand %+v", ponds.Hollows)
	}
	s.Setting.SurveyError = 0.7 // three times which is more than the bank holds
	if ponds, err = NewPonding(context.Background(), d, s.Setting); err != nil || len(ponds.Hollows) != 0 {
		t.Errorf("with a survey error of 0.7 m %d hollows are shown, error %v", len(ponds.Hollows), err)
	}
}

func TestAHollowSaysWhichOneItSpillsInto(t *testing.T) {
	g := grid.Parse(
		"9 9 9 9 9 9 9 9 9",
		"9 5 5 5 7 3 3 3 9",
		"9 5 5 5 7 3 3 3 6",
		"9 5 5 5 7 3 3 3 9",
		"9 9 9 9 9 9 9 9 9")
	s := &plan.Site{Ground: g, Setting: plan.UsualSetting()}
	ponds, err := NewPonding(context.Background(), drainageOf(t, s), s.Setting)
	if err != nil || len(ponds.Hollows) != 2 {
		t.Fatalf("%d hollows, error %v", len(ponds.Hollows), err)
	}
	// The eastern is 3 m deep and spills over the edge, the western 2 m and into it.
	if ponds.Hollows[0].Into != -1 || ponds.Hollows[1].Into != 0 {
		t.Errorf("they spill into %d and %d, want -1 and 0", ponds.Hollows[0].Into, ponds.Hollows[1].Into)
	}
}

func TestASceneTakesOverWhatHasStayedTheSame(t *testing.T) {
	s := dammed()
	account := compare.Account{Proposed: s.Ground}
	first, err := Maker{}.Scene(context.Background(), s, &account)
	if err != nil {
		t.Fatal(err)
	}
	after := func(change func(*plan.Site)) *Scene {
		other := s.Clone()
		change(&other)
		scene, err := Maker{Before: first}.Scene(context.Background(), &other, &compare.Account{Proposed: s.Ground.Clone()})
		if err != nil {
			t.Fatal(err)
		}
		return scene
	}
	add := func(f plan.Feature) func(*plan.Site) {
		return func(s *plan.Site) { s.Plan.Features = append(s.Plan.Features, f) }
	}
	for _, of := range []struct {
		name                     string
		change                   func(*plan.Site)
		sameDrainage, samePonded bool
	}{
		{"a planting", add(plan.Feature{ID: 1, Kind: plan.Planting, Geometry: orb.Polygon{{{1, 1}, {5, 1}, {5, 5}, {1, 1}}}}), true, true},
		{"a kerb", add(plan.Feature{ID: 1, Kind: plan.Kerb, Geometry: orb.LineString{{5, 20}, {35, 20}}}), false, false},
		{"another cover", func(s *plan.Site) { s.Setting.Cover = "gravel" }, false, false},
		{"another survey error", func(s *plan.Site) { s.Setting.SurveyError = 0.1 }, true, false},
		{"another storm", func(s *plan.Site) { s.Setting.Storm = 90 }, true, true},
	} {
		scene := after(of.change)
		if (scene.Drainage == first.Drainage) != of.sameDrainage || (scene.Ponding == first.Ponding) != of.samePonded || !scene.sameRelief(first) {
			t.Errorf("after %s: drainage kept %v, ponding kept %v, relief kept %v", of.name,
				scene.Drainage == first.Drainage, scene.Ponding == first.Ponding, scene.sameRelief(first))
		}
	}
}

// Whatever rows change, from one ground to the next or when a job gives up, a ground
// is routed as if it were the first.
func TestARememberedRoutingIsThatOfTheWholeGround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(3, 30).Draw(t, "w"), rapid.SampledFrom([]int{3, 20, 300}).Draw(t, "h")
		ground := grid.New[float32](grid.Square(w, h, 0, float64(h), 1))
		for i := range ground.V {
			ground.V[i] = float32((i * 7919) % 23)
		}
		var routes Routes
		var earlier *flow.Flow
		for range 4 {
			ground = ground.Clone()
			row := rapid.IntRange(0, h-1).Draw(t, "row")
			for range 3 {
				ground.Set(rapid.IntRange(0, w-1).Draw(t, "x"), min(h-1, row+rapid.IntRange(0, 3).Draw(t, "y")), float32(rapid.IntRange(0, 25).Draw(t, "z")))
			}
			inlets := rapid.SampledFrom([][]int32{nil, nil, {4}}).Draw(t, "inlets")
			if rapid.IntRange(0, 4).Draw(t, "gives up") == 0 {
				ended, end := context.WithCancel(context.Background())
				end()
				if _, err := routes.route(ended, ground, inlets); err == nil {
					t.Fatal("a job that was ended has an answer")
				}
				continue
			}
			got, err := routes.route(context.Background(), ground, inlets)
			if err != nil {
				t.Fatal(err)
			}
			want, err := flow.Route(context.Background(), ground, flow.Options{Inlets: inlets})
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got.Dir.V, want.Dir.V) || !slices.Equal(got.Fall.V, want.Fall.V) || !slices.Equal(got.Cells.V, want.Cells.V) ||
				!slices.Equal(got.Filled.V, want.Filled.V) || !slices.Equal(got.Basins.Way, want.Basins.Way) {
				t.Fatal("a ground that was routed after another has other ways")
			}
			if earlier != nil && &earlier.Dir.V[0] == &got.Dir.V[0] {
				t.Fatal("two answers share their memory")
			}
			earlier = got
		}
	})
}

func TestContoursLeftInHasteAreMadeGood(t *testing.T) {
	s := &plan.Site{Ground: valley(1024, 1100), Setting: plan.UsualSetting()}
	scene := func(m Maker, ground grid.Ground) *Scene {
		m.Show = Contours
		scene, err := m.Scene(context.Background(), s, &compare.Account{Proposed: ground})
		if err != nil {
			t.Fatal(err)
		}
		return scene
	}
	first := scene(Maker{}, s.Ground)
	dug := s.Ground.Clone()
	for x := range 900 {
		dug.Set(x, 500, dug.At(x, 500)-20)
	}
	hasty, whole := scene(Maker{Before: first, Hasty: true}, dug), scene(Maker{}, dug)
	if !hasty.Stale || !hasty.sameContours(first) || whole.Stale {
		t.Fatalf("in haste the contours are stale: %v, those before: %v", hasty.Stale, hasty.sameContours(first))
	}
	settled, err := hasty.Settled(context.Background())
	if err != nil || settled.Stale || settled.Drainage != hasty.Drainage {
		t.Fatalf("made good they are stale: %v, error %v", settled.Stale, err)
	}
	if got, want := len(settled.prepared.contours), len(whole.prepared.contours); got != want || settled.Interval != whole.Interval {
		t.Errorf("made good there are %d lines every %g m, want %d every %g m", got, settled.Interval, want, whole.Interval)
	}
	// What is made after it in no haste has its own.
	if next := scene(Maker{Before: hasty}, dug.Clone()); next.Stale || next.sameContours(hasty) || len(next.Contours) != len(whole.Contours) {
		t.Error("a scene after a hasty one keeps its stale contours")
	}
}

func TestASceneLeavesOutWhatItsLayersDoNotShow(t *testing.T) {
	s := dammed()
	scene, err := Maker{Show: Shade | Water}.Scene(context.Background(), s, &compare.Account{})
	if err != nil {
		t.Fatal(err)
	}
	if scene.Drainage == nil || scene.Ponding != nil || !scene.Lacks(Water|Hollows) || scene.Lacks(Water) {
		t.Errorf("drainage %v, ponding %v", scene.Drainage != nil, scene.Ponding != nil)
	}
	whole, err := Maker{Before: scene, Show: Hollows}.Scene(context.Background(), s, &compare.Account{})
	if err != nil || whole.Ponding == nil || whole.Drainage != scene.Drainage {
		t.Errorf("asked for its hollows it has ponding %v, and the drainage anew: %v, error %v", whole.Ponding != nil, whole.Drainage != scene.Drainage, err)
	}
}

func TestAFirstLookIsTheBareGround(t *testing.T) {
	s := piped()
	scene, err := FirstLook(context.Background(), s, plan.AsItIs)
	if err != nil || scene.Shade.Len() != s.Ground.Len() || scene.Drainage != nil || len(scene.features()) != 1 {
		t.Fatalf("shade of %d cells, drainage %v, error %v", scene.Shade.Len(), scene.Drainage != nil, err)
	}
	if _, err := Draw(context.Background(), scene, Fit(scene.Bound(), 200, 200), 200, 200, Light()); err != nil {
		t.Error(err)
	}
}
