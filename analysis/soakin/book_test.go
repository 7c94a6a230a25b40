package soakin_test

import (
	"context"
	"math"
	"reflect"
	"testing"

	"runnel/analysis/compare"
	"runnel/analysis/soakin"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

// told is what an account comes to, for telling two apart.
func told(a *soakin.Account) [4]float64 {
	return [4]float64{a.Mean.Soaked, a.Mean.Recharge, a.Mean.Draw, a.Cost.Total}
}

// widen gives the first scheme's channels a wider bed.
func widen(s *plan.Site) {
	for i, f := range s.Plan.Features {
		if f.Scheme == s.Plan.Schemes[0].ID && f.Kind == plan.Channel {
			s.Plan.Features[i] = f.With("bed_width", plan.Value{Number: f.Num("bed_width") + 0.3})
		}
	}
}

// changes are made one after another; same is how many accounts stay as they are.
var changes = []struct {
	name   string
	change func(*plan.Site)
	same   int
}{
	{"nothing", func(*plan.Site) {}, 3},
	{"the soil", func(s *plan.Site) { s.Setting.Soil = "clay loam" }, 0},
	{"a bed's width", widen, 2},
	{"a scheme's name", func(s *plan.Site) { s.Plan.Schemes[1].Name = "Trench" }, 2},
	{"the record", func(s *plan.Site) { s.Weather.Days = s.Weather.Days[:365*3] }, 0},
}

// After each change a book has what is worked out from the start, and what does not
// hang on the change is not worked out again.
func TestABookFollowsEveryChange(t *testing.T) {
	first := demo.Site()
	s := &first
	var b soakin.Book
	_, before, err := b.Accounts(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range changes {
		next := s.Clone()
		c.change(&next)
		s = &next
		measured, after, err := b.Accounts(context.Background(), s)
		if err != nil {
			t.Fatal(err)
		}
		same := 0
		for i, want := range accounts(t, s) {
			if after[i] == before[i] {
				same++
			}
			if told(after[i]) != told(want) || after[i].Name != want.Name || measured[i].Contact != want.Setup.Measured.Contact || len(after[i].Cautions) != len(want.Cautions) {
				t.Errorf("%s changed: %s comes to %v, from the start to %v", c.name, want.Name, told(after[i]), told(want))
			}
		}
		if same != c.same {
			t.Errorf("%s changed: %d accounts stay, want %d", c.name, same, c.same)
		}
		before = after
	}
}

// The demo's schemes have a channel each, so that the storm through all is that through it.
func TestThroughTellsOfTheWorstChannel(t *testing.T) {
	s := demo.Site()
	all := accounts(t, &s)
	if _, ok := all[0].Through(); ok {
		t.Error("a storm goes through channels that are not there")
	}
	for _, a := range all[1:] {
		got, ok := a.Through()
		if !ok {
			t.Fatalf("%s: no storm", a.Name)
		}
		peak, empty, free := math.Inf(-1), 0.0, math.Inf(1)
		for i, p := range a.Storm.Likely.Pools {
			if !a.Setup.Pools.Pools[i].Drain {
				peak, empty, free = max(peak, p.Peak), max(empty, p.Empty), min(free, p.Freeboard)
			}
		}
		if got.Highest.Likely != peak || got.Empty.Likely != empty || got.Freeboard.Likely != free {
			t.Errorf("%s: %+v, want %v, %v, %v", a.Name, got, peak, empty, free)
		}
		if got.Highest.Low > got.Highest.High || got.Empty.Low > got.Empty.High || got.Freeboard.Low > got.Freeboard.High {
			t.Errorf("%s: ranges run backward: %+v", a.Name, got)
		}
		volume := 0.0
		for _, o := range a.Storm.Overflows {
			volume += o.Volume
		}
		if math.Abs(volume-got.Overflow.Likely) > 0.01 {
			t.Errorf("%s: %v m³ run over, their ways tell of %v", a.Name, got.Overflow.Likely, volume)
		}
	}
}

// Ranges of accounts that did not change are taken over.
func TestBesideTakesOverKnownRanges(t *testing.T) {
	s := demo.Site()
	all := accounts(t, &s)
	first, err := soakin.Beside(context.Background(), &s, all, 100)
	if err != nil {
		t.Fatal(err)
	}
	done, cancel := context.WithCancel(context.Background())
	cancel()
	again, err := soakin.Beside(done, &s, all, 100, first...)
	if err != nil {
		t.Fatalf("what is known is drawn again: %v", err)
	}
	if again[1].Spread.Recharge != first[1].Spread.Recharge || again[1].MoreRecharge != first[1].MoreRecharge || !again[1].MoreRecharge.Sure {
		t.Errorf("%+v, want %+v", again[1].MoreRecharge, first[1].MoreRecharge)
	}
	if _, err := soakin.Beside(done, &s, all, 200, first...); err == nil {
		t.Error("ranges of fewer draws are taken over")
	}
}

// BenchmarkABookFollows is the first stroke of the comparison: another soil, another bed
// width.
func BenchmarkABookFollows(b *testing.B) {
	for _, c := range []struct {
		name   string
		change func(*plan.Site, int)
	}{
		{"the soil", func(s *plan.Site, i int) { s.Setting.Soil = []string{"loam", "clay loam"}[i%2] }},
		{"a bed width", func(s *plan.Site, i int) {
			for k, f := range s.Plan.Features {
				if f.Scheme == s.Plan.Schemes[0].ID && f.Kind == plan.Channel {
					s.Plan.Features[k] = f.With("bed_width", plan.Value{Number: 0.8 + 0.1*float64(i%2)})
				}
			}
		}},
	} {
		b.Run(c.name, func(b *testing.B) {
			first, book := demo.Site(), soakin.Book{}
			s := &first
			if _, _, err := book.Accounts(context.Background(), s); err != nil {
				b.Fatal(err)
			}
			for i := 0; b.Loop(); i++ {
				next := s.Clone()
				s = &next
				c.change(s, i+1)
				if _, _, err := book.Accounts(context.Background(), s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A setup that takes over where the water leads is the one from nothing.
func TestASetupThatFollowsIsThatFromNothing(t *testing.T) {
	s := demo.Site()
	m, err := compare.Measure(t.Context(), &s, s.Plan.Schemes[0].ID, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	before, err := soakin.NewSetup(t.Context(), &s, &m, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*plan.Site){
		"the soil":        func(s *plan.Site) { s.Setting.Soil = "sand" },
		"the storm":       func(s *plan.Site) { s.Setting.Storm = 5 },
		"the cover":       func(s *plan.Site) { s.Setting.Cover = "gravel" },
		"the groundwater": func(s *plan.Site) { s.Setting.Groundwater = 0.1 },
	} {
		other := s.Clone()
		change(&other)
		after, err := soakin.NewSetup(t.Context(), &other, &m, before)
		if err != nil {
			t.Fatal(err)
		}
		anew, err := soakin.NewSetup(t.Context(), &other, &m, nil)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(after.Catchments, anew.Catchments) {
			t.Errorf("with another of %s the catchments are\n%.300v\nnot\n%.300v", name, after.Catchments, anew.Catchments)
		}
	}
}
