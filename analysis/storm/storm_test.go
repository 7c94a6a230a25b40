package storm_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/analysis/storm"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

// fataler is what tests and property tests share.
type fataler interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

func prepare(t fataler, f *flow.Flow, s storm.Surface) *storm.Model {
	t.Helper()
	m, err := tryPrepare(f, s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func tryPrepare(f *flow.Flow, s storm.Surface) (*storm.Model, error) {
	tree, err := hollow.NewTree(context.Background(), f)
	if err != nil {
		return nil, err
	}
	return storm.Prepare(context.Background(), f, tree, s)
}

func fill(t fataler, m *storm.Model, rain float64) *storm.Result {
	t.Helper()
	r, err := m.Fill(context.Background(), rain)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// pourAt lets a volume run off one cell.
func pourAt(t fataler, m *storm.Model, cells int, at int32, volume float64) *storm.Result {
	t.Helper()
	runoff := make([]float64, cells)
	runoff[at] = volume
	r, err := m.FillGrid(context.Background(), runoff)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-6 || math.IsNaN(a) && math.IsNaN(b) }

// Two pits in one hollow: 3 m³ and 2 m³ below the pass at 5 m, 3 m² of water above
// it up to the rim at 7 m, where 11 m³ stand. All water comes to the left pit.
func TestNestedHollowsFillSpillAndMergeByHand(t *testing.T) {
	ground := grid.Parse(
		"9 9 9 9 9 9",
		"9 2 5 3 7 0",
		"9 9 9 9 9 9")
	m := prepare(t, route(t, ground), storm.Surface{})
	dry := math.NaN()
	for _, test := range []struct {
		volume                  float64
		left, pass, right, away float64 // depths [m] and volume [m³]
	}{
		{0, dry, dry, dry, 0},
		{1, 1, dry, dry, 0},
		{3, 3, dry, dry, 0},
		{4, 3, dry, 1, 0},
		{5, 3, dry, 2, 0},
		{6.5, 3.5, 0.5, 2.5, 0},
		{11, 5, 2, 4, 0},
		{13, 5, 2, 4, 2},
		{1, 1, dry, dry, 0},
	} {
		r := pourAt(t, m, ground.Len(), 7, test.volume)
		for i, want := range []float64{test.left, test.pass, test.right} {
			if got := float64(r.Depth.V[7+i]); !near(got, want) {
				t.Errorf("%g m³: cell %d stands %g m deep, want %g", test.volume, 7+i, got, want)
			}
		}
		if r.Balance.Left != test.away || test.away > 0 && r.Left[0] != (storm.Exit{Cell: 11, Volume: test.away}) {
			t.Errorf("%g m³: %v left, want %g from cell 11", test.volume, r.Left, test.away)
		}
	}
}

func TestLevelsAreThoseOfTheWaterInEachNode(t *testing.T) {
	ground := grid.Parse(
		"9 9 9 9 9 9",
		"9 2 5 3 7 0",
		"9 9 9 9 9 9")
	m := prepare(t, route(t, ground), storm.Surface{})
	dry := math.NaN()
	for volume, want := range map[float64][]float64{0: {dry, dry, dry}, 4: {5, 4, dry}, 6.5: {5.5, 5.5, 5.5}, 13: {7, 7, 7}} {
		for node, level := range pourAt(t, m, ground.Len(), 7, volume).Level {
			if !near(level, want[node]) {
				t.Errorf("%g m³: node %d stands at %g m, want %g", volume, node, level, want[node])
			}
		}
	}
}

// Two bowls side by side. Each m of rain brings the left, of 2 m² and 3 m deep to
// the sill at 5 m, what falls on its own 2 cells; the right, of 3 m² and 4 m deep,
// has its 3 cells, the sill and the rain of a roof of 6 m². Walls round about shed
// their water off the ground.
func TestTwoBowlsWithASillByHand(t *testing.T) {
	ground := grid.Parse(
		"9 8 8 8 8 8 8 9",
		"8 2 2 5 1 1 1 8",
		"9 8 8 8 8 8 8 9")
	weight := make([]float64, ground.Len())
	for c := 9; c <= 14; c++ {
		weight[c] = 1
	}
	weight[14] += 6
	m := prepare(t, route(t, ground), storm.Surface{Weight: weight})
	for _, test := range []struct{ rain, left, sill, right float64 }{
		// Before: what falls on each stays in it; 10 m³ a metre fill the right.
		{0.3, 0.3, math.NaN(), 1},
		// At the sill the right is full, the left is not.
		{1.2, 1.2, math.NaN(), 4},
		// The right spills: 2 × 1.5 m³ of its own and 3 m³ over the sill fill the left.
		{1.5, 3, math.NaN(), 4},
		// Both are full and go on as one of 6 m²: 24 m³ fell, 18 fill both.
		{2, 4, 1, 5},
	} {
		r := fill(t, m, test.rain)
		for c, want := range map[int]float64{9: test.left, 11: test.sill, 14: test.right} {
			if got := float64(r.Depth.V[c]); !near(got, want) {
				t.Errorf("%g m of rain: cell %d stands %g m deep, want %g", test.rain, c, got, want)
			}
		}
		if want := 12 * test.rain; !near(r.Balance.In, want) || !near(r.Balance.Stored, want) || len(r.Left) != 0 {
			t.Errorf("%g m of rain: %+v, want all %g m³ stored", test.rain, r.Balance, want)
		}
	}
}

func TestAModelFillsAsItsTwinDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := route(t, distinct().Draw(t, "ground"))
		runoff := runoffs(t, f.Ground.Len())
		links := unlooped(f, linksOn(t, f.Ground))
		m := prepare(t, f, storm.Surface{Links: links})
		r, err := m.FillGrid(context.Background(), runoff)
		if err != nil {
			t.Fatal(err)
		}
		w := rainedOn(t, f, links, runoff, make([]float64, len(runoff)))
		w.same(t, r)
	})
}

// check holds a result to the laws: nothing is lost, what stands is level and
// below the filled surface.
func check(t fataler, f *flow.Flow, m *storm.Model, r *storm.Result) {
	t.Helper()
	stored, left := 0.0, 0.0
	for c, d := range r.Depth.V {
		if d != d {
			continue
		}
		if stands := float64(f.Ground.V[c] + d); !(d >= 0) || stands > float64(f.Filled.V[c])+1e-4 {
			t.Fatalf("cell %d stands %g m deep, at %g m\n%s", c, d, stands, grid.Print(f.Ground))
		}
		stored += float64(d) * f.Ground.CellArea()
	}
	for _, e := range r.Left {
		left += e.Volume
	}
	b := r.Balance
	if math.Abs(b.In-b.Stored-b.Left-b.Soaked) > 1e-9*b.In {
		t.Fatalf("%+v: %g m³ are lost\n%s", b, b.In-b.Stored-b.Left-b.Soaked, grid.Print(f.Ground))
	}
	if math.Abs(stored-b.Stored) > 1e-4*(b.Stored+1e-6) || left > b.Left*(1+1e-12) {
		t.Fatalf("%+v: %g m³ stand and %g left over the edge\n%s", b, stored, left, grid.Print(f.Ground))
	}
}

func TestNoWaterIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := route(t, rapid.OneOf(distinct(), tied()).Draw(t, "ground"))
		m, err := tryPrepare(f, storm.Surface{Links: linksOn(t, f.Ground)})
		if err != nil {
			t.Skip("links in a loop")
		}
		for range 3 {
			check(t, f, m, fill(t, m, rapid.Float64Range(0, 20).Draw(t, "rain")))
			r, err := m.FillSoaking(context.Background(), rapid.Float64Range(0, 20).Draw(t, "rain"),
				storm.Soak{Rate: rapid.Float64Range(0, 0.005).Draw(t, "rate"), Hours: rapid.Float64Range(0, 2).Draw(t, "hours")})
			if err != nil {
				t.Fatal(err)
			}
			check(t, f, m, r)
		}
	})
}

// What stands after more rain than the hollows hold is the filled surface.
func TestALongRainFillsAllHollows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := route(t, rapid.OneOf(distinct(), tied()).Draw(t, "ground"))
		r := fill(t, prepare(t, f, storm.Surface{}), 1e6)
		want := 0.0
		for c, z := range f.Ground.V {
			depth := float64(f.Filled.V[c]) - float64(z)
			if depth > 0 {
				want += depth * f.Ground.CellArea()
			}
			if got := float64(r.Depth.V[c]); !(near(got, depth) || math.IsNaN(got) && !(depth > 0)) {
				t.Fatalf("cell %d stands %g m deep, want %g\n%s", c, got, depth, grid.Print(f.Ground))
			}
		}
		if math.Abs(r.Balance.Stored-want) > 1e-9*want {
			t.Fatalf("%g m³ are stored, the hollows hold %g\n%s", r.Balance.Stored, want, grid.Print(f.Ground))
		}
	})
}

func TestMoreRainLeavesMoreStandingEverywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := route(t, rapid.OneOf(distinct(), tied()).Draw(t, "ground"))
		m := prepare(t, f, storm.Surface{})
		rain := rapid.Float64Range(0, 10).Draw(t, "rain")
		less := append([]float32(nil), fill(t, m, rain).Depth.V...)
		left := fill(t, m, rain).Balance.Left
		more := fill(t, m, rain+rapid.Float64Range(0, 10).Draw(t, "more"))
		for c, d := range more.Depth.V {
			if less[c] > d+1e-5 || less[c] == less[c] && d != d {
				t.Fatalf("cell %d stands %g m deep, and %g after more rain\n%s", c, less[c], d, grid.Print(f.Ground))
			}
		}
		if more.Balance.Left < left*(1-1e-12) {
			t.Fatalf("%g m³ leave, and %g after more rain", left, more.Balance.Left)
		}
	})
}

// The same storms in the memory of others, and with nothing before them.
func TestAModelForgetsTheStormBefore(t *testing.T) {
	f := route(t, synthetic.Site(60, 50, 3))
	used := prepare(t, f, storm.Surface{})
	for _, rain := range []float64{0.5, 0.02, 0, 0.05} {
		got, want := fill(t, used, rain), fill(t, prepare(t, f, storm.Surface{}), rain)
		for c, d := range got.Depth.V {
			if w := want.Depth.V[c]; d != w && (d == d || w == w) {
				t.Fatalf("%g m of rain: cell %d stands %g m deep, want %g", rain, c, d, w)
			}
		}
		if got.Balance != want.Balance {
			t.Errorf("%g m of rain: %+v, want %+v", rain, got.Balance, want.Balance)
		}
		check(t, f, used, got)
	}
}

func TestNoRainLeavesTheGroundDry(t *testing.T) {
	f := route(t, synthetic.Site(40, 40, 3))
	r := fill(t, prepare(t, f, storm.Surface{}), 0)
	for c, d := range r.Depth.V {
		if d == d {
			t.Fatalf("cell %d stands %g m deep", c, d)
		}
	}
	for node, level := range r.Level {
		if !math.IsNaN(level) {
			t.Fatalf("node %d stands at %g m", node, level)
		}
	}
	if r.Balance != (storm.Balance{}) || len(r.Left) != 0 {
		t.Errorf("%+v, %v", r.Balance, r.Left)
	}
}

func TestBadRainIsOneSentence(t *testing.T) {
	ctx, nan := context.Background(), math.NaN()
	f := route(t, grid.Parse("9 9 9", "9 1 9", "9 9 9"))
	m := prepare(t, f, storm.Surface{})
	of := func(_ any, err error) error { return err }
	for want, err := range map[string]error{
		"the rain is -1 m; give 0 or more":           of(m.Fill(ctx, -1)),
		"the rain is NaN m":                          of(m.Fill(ctx, nan)),
		"the rain is +Inf m":                         of(m.FillSoaking(ctx, math.Inf(1), storm.Soak{})),
		"2 figures are given for 9 cells":            of(m.FillGrid(ctx, []float64{1, 2})),
		"it is -2 m³ at column 1, row 0":             of(m.FillGrid(ctx, []float64{0, -2, 0, 0, 0, 0, 0, 0, 0})),
		"lasts NaN hours":                            of(m.FillSoaking(ctx, 1, storm.Soak{Hours: nan})),
		"takes in -1 m/s; give":                      of(m.FillSoaking(ctx, 1, storm.Soak{Rate: -1})),
		"1 rates of soaking are given for 9":         of(m.FillSoaking(ctx, 1, storm.Soak{Rates: []float64{1}})),
		"takes in NaN m/s at column 0, row 0":        of(m.FillSoaking(ctx, 1, storm.Soak{Rates: []float64{nan, 0, 0, 0, 0, 0, 0, 0, 0}})),
		"3 weights are given for 9 cells":            of(tryPrepare(f, storm.Surface{Weight: make([]float64, 3)})),
		"weight at column 2, row 0 is -1":            of(tryPrepare(f, storm.Surface{Weight: []float64{0, 0, -1, 0, 0, 0, 0, 0, 0}})),
		"link 0 takes in off the ground":             of(tryPrepare(f, storm.Surface{Links: []storm.Link{{From: 9}}})),
		"link 0 runs out off the ground":             of(tryPrepare(f, storm.Surface{Links: []storm.Link{{To: -2}}})),
		"column 1, row 1 has a capacity of NaN":      of(tryPrepare(f, storm.Surface{Links: []storm.Link{{From: 4, Capacity: nan}}})),
		"in a loop through column 1, row 1; move th": of(tryPrepare(f, storm.Surface{Links: []storm.Link{{From: 4, To: 4, Level: 1}}})),
	} {
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("got %v, want a sentence with %q", err, want)
		}
	}
	check(t, f, m, fill(t, m, 1)) // and the model is as good as before
}
