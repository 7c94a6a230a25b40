package soakin_test

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"testing"

	"runnel/analysis/compare"
	"runnel/analysis/soakin"
	"runnel/assets/demo"
	"runnel/geo"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// accounts accounts for every scheme of a site, the site as it is first.
func accounts(t testing.TB, s *plan.Site) []*soakin.Account {
	t.Helper()
	measured, err := compare.Schemes(context.Background(), s, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	all, err := soakin.Accounts(context.Background(), s, measured)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// account accounts for one scheme, by its place from the site as it is on.
func account(t testing.TB, s *plan.Site, place int) *soakin.Account {
	t.Helper()
	id := plan.AsItIs
	if place > 0 {
		id = s.Plan.Schemes[place-1].ID
	}
	m, err := compare.Measure(context.Background(), s, id, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	all, err := soakin.Accounts(context.Background(), s, []compare.Account{m})
	if err != nil {
		t.Fatal(err)
	}
	return all[0]
}

func near(a, b, off float64) bool { return math.Abs(a-b) <= off }

// What comes is what goes and what stays, in each account and in each of its years.
func TestTheWaterOfAnAccountIsAllTold(t *testing.T) {
	s := demo.Site()
	for _, a := range accounts(t, &s) {
		sum := a.Season.Total
		came, went := sum.Drain+sum.Runoff+sum.Rain, sum.Soaked+sum.Evaporated+sum.Spilled+sum.RanBack+sum.Change
		if came <= 0 || !near(came, went, 1e-9*came) {
			t.Errorf("%s: %v m³ came and %v went", a.Name, came, went)
		}
		if !near(sum.Soaked, sum.Recharge+sum.Roots+sum.RootChange, 1e-9*sum.Soaked) {
			t.Errorf("%s: of %v m³ that soaked in %v are recharge, %v roots took, %v they hold", a.Name, sum.Soaked, sum.Recharge, sum.Roots, sum.RootChange)
		}
		if len(a.Years) != 10 || a.Basis.Years != 10 {
			t.Errorf("%s tells of %d years", a.Name, len(a.Years))
		}
	}
}

// The months of the mean year make up the year, in all that adds up.
func TestTheMonthsMakeUpTheYear(t *testing.T) {
	s := demo.Site()
	for _, a := range accounts(t, &s) {
		var soaked, recharge, draw, rain float64
		for _, m := range a.Months {
			soaked, recharge, draw, rain = soaked+m.Soaked, recharge+m.Recharge, draw+m.Draw, rain+m.RainDepth
		}
		for what, pair := range map[string][2]float64{
			"soaked": {soaked, a.Mean.Soaked}, "recharge": {recharge, a.Mean.Recharge}, "draw": {draw, a.Mean.Draw}, "rain": {rain, a.Mean.RainDepth},
		} {
			if !near(pair[0], pair[1], 1e-6*math.Abs(pair[1])) {
				t.Errorf("%s: %s of the months is %v, of the year %v", a.Name, what, pair[0], pair[1])
			}
		}
		if a.Dry.RainDepth > a.Mean.RainDepth || a.Wet.RainDepth < a.Mean.RainDepth {
			t.Errorf("%s: the driest year has %v mm and the wettest %v", a.Name, a.Dry.RainDepth, a.Wet.RainDepth)
		}
		if share := a.Mean.Recharge / a.Mean.Draw; a.Mean.Share() != share {
			t.Errorf("%s: the share is %v, want %v", a.Name, a.Mean.Share(), share)
		}
	}
}

// A draw is one world for all schemes, whatever machine draws it.
func TestTheRangesAreTheSameOnAnyMachine(t *testing.T) {
	s := demo.Site()
	a := account(t, &s, 1)
	many, err := soakin.SpreadOf(t.Context(), &s, a, 500)
	if err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one, err := soakin.SpreadOf(t.Context(), &s, a, 500)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(many, one) {
		t.Error("one processor draws other ranges than several")
	}
}

func TestAFigureLiesWithinItsRange(t *testing.T) {
	s := demo.Site()
	all := accounts(t, &s)
	columns, err := soakin.Beside(t.Context(), &s, all, 1000)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range columns {
		for what, pair := range map[string]struct {
			is float64
			in geo.Range
		}{
			"soaked": {c.Mean.Soaked, c.Spread.Soaked}, "recharge": {c.Mean.Recharge, c.Spread.Recharge},
			"draw": {c.Mean.Draw, c.Spread.Draw}, "share": {c.Mean.Share(), c.Spread.Share},
		} {
			if pair.in.Check() != nil || pair.is < pair.in.Low || pair.is > pair.in.High {
				t.Errorf("%s: %s is %v, and its range %v", c.Name, what, pair.is, pair.in)
			}
		}
		for _, y := range c.Years {
			is := c.Spread.OfYear(y.Year)
			if is.Recharge.Check() != nil || is.Recharge.Likely != y.Recharge || is.Recharge.High-is.Recharge.Low >= c.Spread.Recharge.High-c.Spread.Recharge.Low {
				t.Errorf("%s: %d lies in %v, and any year in %v", c.Name, y.Year, is.Recharge, c.Spread.Recharge)
			}
		}
		for k, r := range c.Rises {
			if in := c.Spread.Rises[k]; in.Check() != nil || in.Likely != r.Peak || !(in.Low < r.Peak && r.Peak < in.High) {
				t.Errorf("%s: the water table at %s rises by %v m, in %v", c.Name, r.Place.Title(), r.Peak, in)
			}
		}
		explained := c.Spread.RechargeCauses.Rest
		for _, cause := range c.Spread.RechargeCauses.Causes {
			explained += cause.Share
		}
		if !near(explained, 1, 1e-9) {
			t.Errorf("%s: the causes and the rest are %v together", c.Name, explained)
		}
		if i > 0 && (!c.MoreRecharge.Sure || c.MoreRecharge.Low <= 0) {
			t.Errorf("%s puts back %v more than the site as it is, sure %v", c.Name, c.MoreRecharge.Range, c.MoreRecharge.Sure)
		}
	}
	if columns[0].MoreSoaked.Range != (geo.Range{}) || columns[0].MoreSoaked.Sure {
		t.Error("the site as it is differs from itself")
	}
}

// Without a record the drain runs its likely days on end: contact × conductivity × days, in
// which clean soil takes a little more at first. By arithmetic.
func TestWithoutARecordTheDrainRunsItsDays(t *testing.T) {
	s := demo.Site()
	s.Weather, s.Setting.Aquifer = weather.Record{}, plan.Aquifer{}
	s.Setting.Clogging.Remains = 1
	a := account(t, &s, 0)
	p := a.Setup.Pools.Pools[0]
	const hours = 24
	want := p.StageAt(p.Running).Contact * p.Soil.Ksat.Likely / 1000 * hours * s.Setting.RunDays.Likely
	if a.Basis.Record || a.Mean.RunDays != s.Setting.RunDays.Likely || a.Mean.Soaked < want || a.Mean.Soaked > 1.05*want {
		t.Errorf("in %v days %v m³ soak in, want a little more than %v", a.Mean.RunDays, a.Mean.Soaked, want)
	}
	if !math.IsNaN(a.Mean.Recharge) || !math.IsNaN(a.Mean.Evaporated) || !tellsNot(a, "recharge") {
		t.Errorf("what evaporates is not known, and %v m³ are put back; withheld is %v", a.Mean.Recharge, a.Withheld)
	}
	if !math.IsNaN(a.Mean.Draw) || !math.IsNaN(a.Mean.Share()) || a.Dry != nil || !tellsNot(a, "demand") || !tellsNot(a, "mound") {
		t.Errorf("without a record the draw is %v, and withheld is %v", a.Mean.Draw, a.Withheld)
	}
}

// The more a storm brings the higher it stands, and more leaves.
func TestAGreaterStormStandsHigher(t *testing.T) {
	last, left := 0.0, 0.0
	for _, rain := range []float64{10, 40, 90, 200} {
		s := demo.Site()
		s.Setting.Storm = rain
		a := account(t, &s, 1)
		p := a.Storm.Likely.Pools[0]
		if p.Peak < last || a.Storm.Likely.Left < left {
			t.Errorf("%v mm of rain stand at %v m and %v m³ leave; less rain at %v m and %v m³", rain, p.Peak, a.Storm.Likely.Left, last, left)
		}
		if e := a.Storm.Empty[0]; e.Low > e.Likely || e.Likely > e.High {
			t.Errorf("%v mm of rain empty in %v h", rain, e)
		}
		last, left = p.Peak, a.Storm.Likely.Left
	}
}

func ExampleBeside() {
	s := demo.Site()
	measured, _ := compare.Schemes(context.Background(), &s, compare.Options{})
	all, _ := soakin.Accounts(context.Background(), &s, measured)
	columns, _ := soakin.Beside(context.Background(), &s, all, 200)
	for _, c := range columns[1:] {
		fmt.Printf("%s puts back more than the site as it is: %v\n", c.Name, c.MoreRecharge.Sure)
	}
	// Output:
	// Winding island channel puts back more than the site as it is: true
	// Straight soakage trench puts back more than the site as it is: true
}
