package pool

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/hydraulics"
	"runnel/analysis/soil"
	"runnel/geo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func levelText(v float64) string { return strconv.FormatFloat(v, 'f', 6, 64) }

// stepped is a channel of two sills on a bed that falls, with a spillway at its lower end.
func stepped(upper, lower, spill float64) *plan.Site {
	s := siteOf(0.1, flat)
	add(s, plan.Channel, line(4, 10, 26, 10), fields{"bed_width": 0.6, "side_left": 1, "side_right": 1, "bed_start": 9.6, "bed_end": 9.2, "water_level": 9.4})
	add(s, plan.Sill, line(11, 8, 11, 12), fields{"crest": upper})
	add(s, plan.Sill, line(18, 8, 18, 12), fields{"crest": lower})
	add(s, plan.Spillway, line(25, 10)[0], fields{"crest": spill, "width": 0.8})
	return s
}

func TestPoolsBetweenSillsPassWaterDown(t *testing.T) {
	_, got := set(t, stepped(9.85, 9.7, 9.5))
	if len(got.Pools) != 3 || len(got.Notes) > 0 || len(got.Withheld)+len(got.Problems) > 0 {
		t.Fatalf("%d pools, %v %v", len(got.Pools), got.Notes, got.Withheld)
	}
	for i, want := range []struct {
		kind  OutletKind
		crest float64
		to    int
	}{{Sill, 9.85, 1}, {Sill, 9.7, 2}, {Spillway, 9.5, -1}} {
		p := got.Pools[i]
		if o := p.Outlets[0]; o.Kind != want.kind || o.Crest != want.crest || o.To != want.to || p.Drain || len(p.Outlets) != 2 {
			t.Errorf("pool %d (%s) leaves by %+v", i, p.Title, p.Outlets)
		}
		if !math.IsNaN(p.Running) || !math.IsNaN(p.Rest) {
			t.Errorf("nothing feeds %s, and it runs at %.2f, rests at %.2f", p.Title, p.Running, p.Rest)
		}
	}
	if !strings.HasSuffix(got.Pools[1].Title, "from 7 to 14 m") {
		t.Errorf("the second is called %q", got.Pools[1].Title)
	}
	// The section at the crest: 0.6 m and banks of 1:1 up from the bed at 7 m, 9.6 − 0.4·7/22.
	if o, want := got.Pools[0].Outlets[0], 0.6+2*(9.85-(9.6-0.4*7/22)); apart(o.Width, want) > 1e-6 {
		t.Errorf("the sill is %.3f m wide, want %.3f", o.Width, want)
	}
}

func TestAPoolThatDrownsItsSillIsOneWithTheUpper(t *testing.T) {
	_, got := set(t, stepped(9.85, 9.6, 9.75))
	if len(got.Pools) != 2 || len(got.Notes) != 1 || !strings.Contains(got.Notes[0], "are taken as one water") {
		t.Fatalf("%d pools, %v", len(got.Pools), got.Notes)
	}
	if p := got.Pools[1]; p.Outlets[0].Kind != Spillway || p.Outlets[0].Crest != 9.75 || len(p.bodies) != 2 {
		t.Errorf("%+v", p.Outlets)
	}
	if o := got.Pools[0].Outlets[0]; o.To != 1 {
		t.Errorf("%+v", o)
	}
}

func TestAFedChannelRunsBackToItsMouth(t *testing.T) {
	s := siteOf(0.1, flat)
	fed(s, flat, 0.6)
	id := add(s, plan.Channel, line(6.1, 10, 26, 10), fields{"bed_width": 0.6, "side_left": 1, "side_right": 1, "bed_start": 9.45, "bed_end": 9.3})
	n, got := set(t, s)
	p := got.Pools[0]
	level := n.StandsAt(id)
	if p.Running != level || apart(p.Rest, 9.45) > 1e-9 || p.Outlets[0].Kind != Mouth || p.Outlets[0].Crest != p.Rest {
		t.Errorf("it runs at %.3f (%.3f), rests at %.3f: %+v", p.Running, level, p.Rest, p.Outlets)
	}
	if !(p.Supply > 0.01 && p.Supply < 1) || p.RunDays != s.Setting.RunDays {
		t.Errorf("supply %.3f m³/s on %v days", p.Supply, p.RunDays)
	}
	drain := got.Pools[1]
	if !drain.Drain || drain.Running != 0.2 || drain.Top().Level != 0.2 || drain.Rest != 0 || apart(drain.Supply, p.Supply) > 1e-9 {
		t.Errorf("%+v", drain)
	}
	// A sill at the mouth holds all but what stands between it and the drain.
	add(s, plan.Sill, line(7.5, 8, 7.5, 12), fields{"crest": 9.52})
	_, got = set(t, s)
	if p := got.Pools[0]; len(p.bodies) != 2 || math.Abs(p.Rest-9.52) > 0.01 || !(p.Running > 9.52) {
		t.Errorf("behind a sill at 9.52 m it rests at %.3f m and runs at %.3f m: %v", p.Rest, p.Running, got.Notes)
	}
	// What is let in goes before what the drain carries, and tells where it comes to.
	s.Plan.Features[1] = s.Plan.Features[1].With("flow", plan.Value{Number: 3})
	if _, got = set(t, s); got.Pools[0].Supply != 0.003 {
		t.Errorf("supply %v", got.Pools[0].Supply)
	}
}

func TestAPipeGoesInPlaceOfASpillway(t *testing.T) {
	_, got := set(t, drawn(9))
	o := got.Pools[0].Outlets
	if len(o) != 3 || o[0].Kind != Spillway || o[1].Kind != Pipe || o[1].Diameter != 0.15 || o[1].Crest != 9.7 {
		t.Errorf("%+v", o)
	}
}

// Water that runs stands higher than at rest, and the level at which a pool runs is the one
// at which it touches as much soil.
func TestRunningWaterTouchesWhatMeasureSays(t *testing.T) {
	s := siteOf(0.1, flat)
	add(s, plan.Channel, line(4, 10, 26, 10), fields{"bed_width": 0.6, "side_left": 1, "side_right": 1, "bed_start": 9.5, "bed_end": 9.4, "flow": 40})
	add(s, plan.Spillway, line(25, 10)[0], fields{"crest": 9.6, "width": 0.6})
	n, _ := channel.NewNetwork(s, 1)
	flow, err := hydraulics.Flow(t.Context(), s, n, hydraulics.Options{})
	if err != nil {
		t.Fatal(err)
	}
	n = n.Running(flow.Levels())
	got, err := Of(t.Context(), s, n, loam{})
	if err != nil {
		t.Fatal(err)
	}
	p, m := got.Pools[0], measured(t, n)
	if !(p.Running > 9.6+0.05) || apart(p.StageAt(p.Running).Contact, m.Contact) > 0.01 || p.Supply != 0.04 {
		t.Errorf("it runs at %.3f m, touches %+v; measured %+v", p.Running, p.StageAt(p.Running), m)
	}
}

// At a level that is asked for every pool stands at that.
func TestAtALevelThatIsAskedFor(t *testing.T) {
	s := drawn(10)
	n, _ := channel.NewNetwork(s, 1)
	n, _ = n.WithLevel(9.5)
	got, err := Of(t.Context(), s, n, loam{})
	if err != nil || got.Pools[0].Running != 9.5 {
		t.Errorf("%v: %v", got.Pools[0].Running, err)
	}
}

func TestASillAcrossADrainHoldsWaterInIt(t *testing.T) {
	s := siteOf(0.1, flat)
	fed(s, flat, 0.6)
	add(s, plan.Sill, line(4, 15, 8, 15), fields{"crest": 9.75})
	n, got := set(t, s)
	p := got.Pools[0]
	lines, _ := n.Measure(t.Context(), channel.Step{})
	if m, h := lines[0].Measure, p.StageAt(p.Running); apart(h.Contact, m.Contact) > 0.01 || apart(h.Volume, m.Volume) > 0.01 {
		t.Errorf("%+v, measured %+v", h, m)
	}
	held := p.StageAt(p.Rest)
	if !(p.Rest > 0 && held.Volume > 0.5 && held.Volume < p.Top().Volume) {
		t.Errorf("%.2f m³ of %.2f stand behind the sill", held.Volume, p.Top().Volume)
	}
	lawful(t, 0, &p, 1)
}

func TestBadGroundIsSaidInASentence(t *testing.T) {
	s := drawn(0)
	s.Setting.Groundwater = 0.2
	_, got := set(t, s)
	if len(got.Pools) != 0 || len(got.Problems) != 0 || len(got.Withheld) != 1 || !strings.Contains(got.Withheld[0].Error(), "below the water table") {
		t.Errorf("%d pools, %v %v", len(got.Pools), got.Withheld, got.Problems)
	}
	s.Setting.Groundwater = 2
	_, got = set(t, s)
	if p := got.Pools[0]; len(got.Problems)+len(got.Withheld) != 0 || apart(p.Table, 8) > 0.05 {
		t.Errorf("the table lies at %.2f m: %v %v", p.Table, got.Withheld, got.Problems)
	}
	flush := siteOf(0.1, func(x, _ float64) float64 { return 10 - max(0, x-20) })
	add(flush, plan.Channel, line(4, 10, 26, 10), fields{"bed_width": 0.6, "bed_start": 9.8, "bed_end": 9.8})
	if _, got := set(t, flush); len(got.Pools) != 0 || len(got.Withheld) != 1 || !strings.Contains(got.Withheld[0].Error(), "holds no water") {
		t.Errorf("%d pools, %v", len(got.Pools), got.Withheld)
	}
	dry := siteOf(0.1, flat)
	add(dry, plan.Channel, line(4, 10, 26, 10), fields{"bed_width": 0.6, "bed_start": 9.6, "bed_end": 9.6})
	n, _ := channel.NewNetwork(dry, 1)
	n, _ = n.WithLevel(9.5)
	if got, err := Of(t.Context(), dry, n, loam{}); err != nil || len(got.Pools) != 0 || len(got.Withheld) != 1 || !strings.Contains(got.Withheld[0].Error(), "stands dry") {
		t.Errorf("%d pools, %v (%v)", len(got.Pools), got.Withheld, err)
	}
}

func TestWhatNeverFillsIsSaidInASentence(t *testing.T) {
	_, got := set(t, drawn(0))
	none := got.NeverFill([]float64{0})
	if len(none) != 1 || !strings.Contains(none[0].Error(), "never fills") {
		t.Errorf("%v", none)
	}
	if some := got.NeverFill([]float64{120}); len(some) != 0 {
		t.Errorf("%v", some)
	}
	_, chain := set(t, stepped(9.85, 9.7, 9.5))
	if some := chain.NeverFill([]float64{0, 50, 0}); len(some) != 1 || some[0].At != chain.Pools[0].At {
		t.Errorf("%v", some)
	}
	// A drain that runs on no day brings nothing, whatever level it would stand at.
	for days, want := range map[float64]int{0: 1, 1: 0} {
		s := siteOf(0.1, flat)
		fed(s, flat, 0.6)
		add(s, plan.Channel, line(6.1, 10, 26, 10), fields{"bed_width": 0.6, "side_left": 1, "side_right": 1, "bed_start": 9.45, "bed_end": 9.3})
		s.Setting.RunDays = geo.Range{High: days}
		_, got := set(t, s)
		dry := got.NeverFill([]float64{0, 0})
		if len(dry) != want || want == 1 && (dry[0].ID != 2 || !strings.Contains(dry[0].Error(), "to run on no day of the year")) || len(got.NeverFill([]float64{50, 0})) > 0 {
			t.Errorf("of a drain that runs on %g days at the most: %v", days, dry)
		}
	}
}

// halves is sand in the west of the site and clay in the east.
type halves struct{}

func (halves) At(p orb.Point, _ float64) soil.Soil {
	if p[0] < east+15 {
		return soil.Soil{Name: "sand", Ksat: geo.Range{Low: 90, Likely: 100, High: 110}, Suction: 50, Deficit: 0.4}
	}
	return soil.Soil{Name: "clay", Ksat: geo.Range{Low: 0, Likely: 1, High: 2}, Suction: 300, Deficit: 0.1}
}

func TestSoilsSideBySideAreMeanByContact(t *testing.T) {
	s := siteOf(0.1, flat)
	add(s, plan.Channel, line(5, 10, 20, 10), fields{"bed_width": 0.6, "side_left": 1, "side_right": 1, "bed_start": 9.6, "bed_end": 9.6, "water_level": 9.8})
	n, _ := channel.NewNetwork(s, 1)
	got, err := Of(t.Context(), s, n, halves{})
	if err != nil {
		t.Fatal(err)
	}
	// Two thirds of its length in sand; the rounds at its ends are alike.
	if k := got.Pools[0].Soil; math.Abs(k.Ksat.Likely-67) > 1.5 || math.Abs(k.Suction-50-250.0/3) > 5 || k.Name != "sand; clay" {
		t.Errorf("%+v", k)
	}
}

func TestDaysWetFollowTheBanks(t *testing.T) {
	s := siteOf(0.1, flat)
	add(s, plan.Channel, line(5, 10, 20, 10), fields{"bed_width": 0.6, "side_left": 2, "side_right": 2, "bed_start": 9.6, "bed_end": 9.6, "water_level": 9.8})
	n, got := set(t, s)
	p := &got.Pools[0]
	// From 100 days at the bed evenly to none at the brim.
	days := make([]float64, len(p.Stages))
	for i, stage := range p.Stages {
		days[i] = 100 * (p.Top().Level - stage.Level) / (p.Top().Level - p.Floor)
	}
	wet, err := DaysWet(t.Context(), s.Ground, n, got.Pools, [][]float64{days})
	if err != nil {
		t.Fatal(err)
	}
	at := func(x, y float64) float64 { return grid.Sample(wet, line(x, y)[0]) }
	if d := at(12.05, 10.05); math.Abs(d-100) > 0.01 {
		t.Errorf("%.1f days on the bed", d)
	}
	// 0.35 m beyond the bed's edge the bank is 0.175 m up of 0.4.
	if d, want := at(12.05, 10.65), 100*(1-0.175/0.4); math.Abs(d-want) > 1 {
		t.Errorf("%.1f days on the bank, want %.1f", d, want)
	}
	if d := at(12.05, 13.05); !math.IsNaN(d) {
		t.Errorf("%.1f days on dry ground", d)
	}
	area := 0.0
	for _, v := range wet.V {
		if v == v {
			area += 0.01
		}
	}
	if apart(area, p.Top().Surface) > 0.03 {
		t.Errorf("%.2f m² are wet at some time, and its surface at the brim is %.2f m²", area, p.Top().Surface)
	}
	if _, err := DaysWet(t.Context(), s.Ground, n, got.Pools, nil); err == nil {
		t.Error("no days are taken")
	}
}

func TestDrainsHaveDaysWetToo(t *testing.T) {
	s := siteOf(0.1, flat)
	fed(s, flat, 0.6)
	n, got := set(t, s)
	p := &got.Pools[0]
	days := make([]float64, len(p.Stages))
	for i := range days {
		days[i] = 30
	}
	wet, err := DaysWet(t.Context(), s.Ground, n, got.Pools, [][]float64{days})
	if err != nil {
		t.Fatal(err)
	}
	if d := grid.Sample(wet, line(6.15, 10.05)[0]); d != 30 {
		t.Errorf("%.1f days in the drain", d)
	}
}
