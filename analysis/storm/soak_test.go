package storm_test

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/storm"
	"runnel/geo/grid"
)

// A pit of one cell, 2 m deep, in ground that takes in 3 cm in the storm. Walls shed
// nothing, and a roof of 6 m² drains to the pit.
func TestSoakingByHand(t *testing.T) {
	ground := grid.Parse("9 9 9 9", "9 3 4 5", "9 9 9 9")
	const pit, bank = 5, 6
	weight := make([]float64, ground.Len())
	weight[pit], weight[bank] = 1+6, 1
	m := prepare(t, route(t, ground), storm.Surface{Weight: weight})
	soak := storm.Soak{Rate: 0.01 / 3600, Hours: 3}
	for _, test := range []struct{ rain, deep, soaked float64 }{
		{0, math.NaN(), 0},
		{0.004, math.NaN(), 0.032},       // all of it: 2.8 cm at the pit, 0.4 cm on the bank
		{0.01, 0.04, 0.04},               // 7 cm at the pit, of which 3 soak in; the bank's centimetre
		{0.05, 0.32 + 0.02, 0.06},        // the bank sheds 2 cm to the pit, which has its 3 cm already
		{0.2, 1 + (1.37+0.17-1)/2, 0.06}, // and stands on the bank, which has its 3 cm too
	} {
		r, err := m.FillSoaking(context.Background(), test.rain, soak)
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(r.Depth.V[pit]); !near(got, test.deep) || !near(r.Balance.Soaked, test.soaked) {
			t.Errorf("%g m of rain: %g m deep, %g m³ soaked in; want %g and %g", test.rain, got, r.Balance.Soaked, test.deep, test.soaked)
		}
	}
}

// What runs on to a dry bank soaks in there while it stands: the pit is paved, and
// water that rises over it feeds the bank's 50 cm first.
func TestStandingWaterSoaksIntoWhatItReaches(t *testing.T) {
	ground := grid.Parse("9 9 9 9", "9 3 4 5", "9 9 9 9")
	const pit, bank = 5, 6
	weight, rates := make([]float64, ground.Len()), make([]float64, ground.Len())
	weight[pit], rates[bank] = 1, 0.5/3600
	m := prepare(t, route(t, ground), storm.Surface{Weight: weight})
	for _, test := range []struct{ rain, deep, soaked float64 }{{0.8, 0.8, 0}, {1.3, 1, 0.3}, {1.5, 1, 0.5}, {2.5, 1.5, 0.5}, {4, 2, 0.5}} {
		r, err := m.FillSoaking(context.Background(), test.rain, storm.Soak{Rates: rates, Hours: 1})
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(r.Depth.V[pit]); !near(got, test.deep) || !near(r.Balance.Soaked, test.soaked) {
			t.Errorf("%g m of rain: %g m deep, %g m³ soaked in; want %g and %g", test.rain, got, r.Balance.Soaked, test.deep, test.soaked)
		}
	}
}

// The surface's weights have what soaks in taken off; those that are given for
// soaking take their place.
func TestSoakingTakesWeightsOfItsOwn(t *testing.T) {
	ground := grid.Parse("9 9 9 9", "9 3 4 5", "9 9 9 9")
	const pit = 5
	few, all := make([]float64, ground.Len()), make([]float64, ground.Len())
	few[pit], all[pit] = 0.2, 1
	m := prepare(t, route(t, ground), storm.Surface{Weight: few})
	soak := storm.Soak{Rate: 0.01 / 3600, Hours: 3, Weight: all}
	r, err := m.FillSoaking(context.Background(), 0.1, soak)
	if err != nil || !near(r.Balance.In, 0.1) || !near(r.Balance.Soaked, 0.03) || !near(r.Balance.Stored, 0.07) {
		t.Errorf("got %+v and error %v; want 0.1 m³ in, 0.03 soaked, 0.07 stored", r.Balance, err)
	}
	for c, weight := range map[string][]float64{"a weight below nought": {pit: -1, 11: 0}, "too few": {1}} {
		soak.Weight = weight
		if _, err := m.FillSoaking(context.Background(), 0.1, soak); err == nil {
			t.Errorf("%s: no error", c)
		}
	}
}

func TestAModelSoaksAsItsTwinDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := route(t, distinct().Draw(t, "ground"))
		n := f.Ground.Len()
		links := unlooped(f, linksOn(t, f.Ground))
		weight := rapid.SliceOfN(rapid.Float64Range(0, 3), n, n).Draw(t, "weight")
		// In the storm's two hours a cell takes in up to 4 m.
		soak := storm.Soak{Rates: rapid.SliceOfN(rapid.Float64Range(0, 2./3600), n, n).Draw(t, "rates"), Hours: 2}
		rain := rapid.Float64Range(0, 5).Draw(t, "rain")
		m := prepare(t, f, storm.Surface{Weight: weight, Links: links})
		r, err := m.FillSoaking(context.Background(), rain, soak)
		if err != nil {
			t.Fatal(err)
		}
		check(t, f, m, r)
		runoff, more, rained := make([]float64, n), make([]float64, n), 0.0
		for c := range runoff {
			falls, takes := rain*weight[c], soak.Rates[c]*3600*soak.Hours
			runoff[c] = max(falls-takes, 0) * f.Ground.CellArea()
			more[c] = max(takes-falls, 0)
			if !grid.IsNoData(f.Ground.V[c]) {
				rained += min(falls, takes) * f.Ground.CellArea()
			}
		}
		w := rainedOn(t, f, links, runoff, more)
		w.same(t, r)
		if math.Abs(r.Balance.Soaked-rained-w.soaked) > 1e-9*(1+rained+w.soaked) {
			t.Fatalf("%g m³ soaked in, want %g\n%s", r.Balance.Soaked, rained+w.soaked, grid.Print(f.Ground))
		}
	})
}

func TestGroundThatTakesInNothingFillsAsWithoutSoaking(t *testing.T) {
	f := route(t, split)
	m := prepare(t, f, storm.Surface{})
	want := fill(t, m, 0.7).Balance
	r, err := m.FillSoaking(context.Background(), 0.7, storm.Soak{Hours: 24})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Balance; !near(got.Stored, want.Stored) || !near(got.Left, want.Left) || got.Soaked != 0 {
		t.Errorf("%+v, want %+v", got, want)
	}
}
