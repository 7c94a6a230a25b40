package hydraulics

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// falling returns a site whose ground falls east by a slope from 20 m.
func falling(w, h, slope float64) *plan.Site {
	return siteOf(w, h, func(p orb.Point) float64 { return 20 - slope*p[0] })
}

// canal draws a channel along y = 20 m whose bed is a metre below 20 m at x = 0 and
// falls by a slope, with a spillway at its end, whose crest is level with the bed.
func canal(s *plan.Site, from, to, slope float64, fields ...any) plan.ID {
	id := add(s, plan.Channel, line(from, 20, to, 20), append([]any{
		"bed_width", 1.0, "side_left", 2.0, "side_right", 2.0, "bed_start", 19 - slope*from, "bed_end", 19 - slope*to,
	}, fields...)...)
	add(s, plan.Spillway, at(to, 20), "crest", 19-slope*to, "width", 1.0)
	return id
}

// integrate goes up a prismatic channel from a depth by dy/dx = (S0 − Sf)/(1 − Fr²)
// in the fine steps of the classical Runge and Kutta, some way [m].
func integrate(s channel.Section, n, slope, q, y, way float64) float64 {
	const h = 0.02
	change := func(y float64) float64 {
		f := Froude(s, y, q)
		return -(slope - FrictionSlope(s, y, n, q)) / (1 - f*f)
	}
	for x := 0.0; x < way-1e-9; x += h {
		h := min(h, way-x)
		a := change(y)
		b := change(y + a*h/2)
		c := change(y + b*h/2)
		d := change(y + c*h)
		y += h / 6 * (a + 2*b + 2*c + d)
	}
	return y
}

func TestBackwaterBehindASill(t *testing.T) {
	const slope, n, q = .002, .027, .1
	s := falling(620, 40, slope)
	canal(s, 10, 600, slope, "flow", q*1000)
	add(s, plan.Sill, line(550, 10, 550, 30), "crest", 19-slope*550+.6)
	r := given(t, s)
	section := trapezoid(1, 2)
	normal, _ := NormalDepth(section, n, slope, q)
	up := r.Reaches[slices.IndexFunc(r.Reaches, func(r Reach) bool { return r.Kind == channel.RunLink && r.Stations[0].Chainage == 0 })]
	last := up.Stations[len(up.Stations)-1]
	// The sill is as wide as the water is at its crest: 1 + 2 × 2 × 0.6 m.
	within(t, "head at the sill", SpecificEnergy(section, last.Depth, q), .6+WeirHead(1+2*2*.6, q), 1e-9)
	if !(last.Depth > normal*1.5) {
		t.Fatalf("there is no backwater: %v of %v", last.Depth, normal)
	}
	y := last.Depth
	for i := len(up.Stations) - 1; i >= 0; i-- {
		st := up.Stations[i]
		if i < len(up.Stations)-1 {
			y = integrate(section, n, slope, q, y, up.Stations[i+1].Along-st.Along)
		}
		within(t, "depth", st.Depth, y, 2e-6)
		within(t, "continuity", st.Velocity*section.Area(st.Depth), q, 1e-12)
	}
	within(t, "depth far upstream", up.Stations[0].Depth, normal, 1e-6)
	within(t, "normal depth", up.Normal, normal, 1e-6)
	within(t, "what leaves", r.Outflows[0].Flow, q, 1e-12)
}

func TestTheMouthTakesNoMoreThanTheDrainsLevelGives(t *testing.T) {
	// A drain falls north along x = 10 m, its bed half a metre below the ground.
	s := siteOf(60, 60, func(p orb.Point) float64 {
		z := 20 - .01*p[1]
		if math.Abs(p[0]-10) < 1 {
			return z - .5
		}
		return z
	})
	add(s, plan.Drain, line(10, 2, 10, 58), "depth", .5, "water_depth", .3, "bed_width", .6, "side_left", 1.0, "side_right", 1.0)
	id := add(s, plan.Channel, line(10, 30, 50, 30), "bed_width", .5, "side_left", 2.0, "side_right", 2.0, "bed_start", 19.2, "bed_end", 19.1)
	add(s, plan.Spillway, at(50, 30), "crest", 19.4, "width", .5)
	r := given(t, s)
	in := r.Inflows[0]
	if !(in.Flow > 0 && in.Flow < in.Offered) || found(r, TooLittleHead) == nil {
		t.Fatalf("it takes %v of %v", in.Flow, in.Offered)
	}
	mouth := r.Reaches[0].Stations[0]
	within(t, "head in the mouth", mouth.Level+mouth.Velocity*mouth.Velocity/(2*Gravity), in.Head, 1e-9)
	// 0.6 m of bed, 1:1, 0.3 m deep, at 1 %: 0.27 m² × (0.27/1.4485)^(2/3) × 0.1/0.027.
	within(t, "what the drain carries", in.Offered, .3263, .004)
	if full := r.Full.Inflows[0]; !(full.Flow > in.Flow && full.Head > in.Head) {
		t.Errorf("full, it takes %v at %v", full.Flow, full.Head)
	}
	// A spillway above the drain's water passes nothing.
	i := s.Plan.Index(id + 1)
	s.Plan.Features[i] = s.Plan.Features[i].With("crest", plan.Value{Number: 19.9})
	r = given(t, s)
	if r.Inflows[0].Flow != 0 || r.Reaches[0].Still == "" || r.Reaches[0].Stations[0].Velocity != 0 {
		t.Errorf("it runs uphill: %+v", r.Inflows[0])
	}
}

func TestTwoChannelsShareADrain(t *testing.T) {
	s := siteOf(60, 60, func(p orb.Point) float64 {
		z := 20 - .01*p[1]
		if math.Abs(p[0]-10) < 1 {
			return z - .5
		}
		return z
	})
	add(s, plan.Drain, line(10, 2, 10, 58), "depth", .5, "water_depth", .1, "bed_width", .4)
	for _, y := range []float64{20, 40} {
		add(s, plan.Channel, line(10, y, 50, y), "bed_start", 18.6, "bed_end", 18.4)
		add(s, plan.Spillway, at(50, y), "crest", 18.5, "width", 1.0)
	}
	r := given(t, s)
	within(t, "one's share", r.Inflows[0].Offered, r.Inflows[1].Offered, 1e-12)
	one := s.Plan.Clone()
	alone := *s
	alone.Plan = one
	alone.Plan.Features = alone.Plan.Features[:3]
	within(t, "the whole", given(t, &alone).Inflows[0].Offered, 2*r.Inflows[0].Offered, 1e-12)
	// One that is set has what is set, and the other the rest.
	i := s.Plan.Index(2)
	s.Plan.Features[i] = s.Plan.Features[i].With("flow", plan.Value{Number: 3})
	set := given(t, s)
	within(t, "what is set", set.Inflows[0].Offered, .003, 1e-12)
	within(t, "the rest", set.Inflows[1].Offered, 2*r.Inflows[0].Offered-.003, 1e-12)
}

func TestSteepFlowIsSupercriticalAndRunsToNormalDepth(t *testing.T) {
	const slope = .05
	s := falling(120, 40, slope)
	canal(s, 10, 110, slope, "flow", 80.0, "lining", "bare earth, new")
	r := given(t, s)
	f := found(r, Supercritical)
	if f == nil {
		t.Fatal("it is not told to be supercritical")
	}
	section := trapezoid(1, 2)
	normal, _ := NormalDepth(section, .018, slope, .08)
	critical, _ := CriticalDepth(section, .08)
	st := r.Reaches[0].Stations
	within(t, "depth at the head", st[0].Depth, critical, 1e-9)
	within(t, "depth half way", st[len(st)/2].Depth, normal, 1e-4)
	if fast := found(r, TooFast); fast == nil || !(fast.Value > fast.Limit) || fast.Source == "" {
		t.Errorf("it scours nothing: %+v", fast)
	}
	within(t, "the limit", found(r, TooFast).Limit, .762, 1e-9) // Fortier and Scobey's 2.5 ft/s
}

func TestWaterFallsCriticallyOverADrop(t *testing.T) {
	const slope = .002
	s := falling(120, 40, slope)
	canal(s, 10, 110, slope, "flow", 50.0, "bed_end", 19-slope*110-.5)
	add(s, plan.Section, at(60, 20), "drop", .5)
	add(s, plan.Spillway, at(110, 20), "crest", 19-slope*110-.5, "width", 1.0)
	r := given(t, s)
	critical, _ := CriticalDepth(trapezoid(1, 2), .05)
	var falls bool
	for i, st := range r.Reaches[0].Stations {
		if i > 0 && st.Chainage == r.Reaches[0].Stations[i-1].Chainage {
			falls = true
			within(t, "depth at the drop", r.Reaches[0].Stations[i-1].Depth, critical, 1e-9)
		}
	}
	if !falls {
		t.Fatal("there is no drop")
	}
}

func TestAnOpenEndRunsOutAtNormalDepth(t *testing.T) {
	const slope = .002
	s := siteOf(120, 40, func(p orb.Point) float64 { return 20 - .0091*p[0] })
	add(s, plan.Channel, line(10, 20, 110, 20), "bed_width", 1.0, "side_left", 2.0, "side_right", 2.0,
		"bed_start", 19.2, "bed_end", 19.2-100*slope, "flow", 30.0)
	r := given(t, s)
	normal, _ := NormalDepth(trapezoid(1, 2), .027, slope, .03)
	if r.Outflows[0].Kind != plan.Channel {
		t.Fatalf("it leaves by %+v", r.Outflows)
	}
	for _, st := range r.Reaches[0].Stations {
		within(t, "depth", st.Depth, normal, 1e-6)
	}
}

func TestLittleFreeboardAndASpillwayTooNarrow(t *testing.T) {
	s := site(120, 40)
	add(s, plan.Channel, line(10, 20, 110, 20), "bed_width", .6, "bed_start", 9.4, "bed_end", 9.3, "flow", 40.0)
	id := add(s, plan.Spillway, at(110, 20), "crest", 9.8, "width", .2)
	r := given(t, s)
	over, small := found(r, OverBank), found(r, SpillwayTooSmall)
	if over == nil || small == nil || found(r, LittleFreeboard) != nil {
		t.Fatalf("it finds %+v", r.Findings)
	}
	// 0.2 m of head at a bank of 10 m: 1.705 × 0.2 × 0.2^1.5.
	within(t, "what it passes to the brim", small.Limit, .0305, .0001)
	least := math.Inf(1)
	for _, st := range r.Reaches[0].Stations {
		least = math.Min(least, st.Freeboard)
	}
	if over.ID != 1 || over.Value != least {
		t.Errorf("it finds %+v, and the least freeboard is %v", over, least)
	}
	i := s.Plan.Index(id)
	s.Plan.Features[i] = s.Plan.Features[i].With("width", plan.Value{Number: .29})
	r = given(t, s)
	if little := found(r, LittleFreeboard); little == nil || found(r, OverBank) != nil || !(little.Value > 0 && little.Value < .05) {
		t.Errorf("it finds %+v", r.Findings)
	}
}

// What a sentence tells of is more than its digits: a spillway is never to be widened to
// what it has.
func TestASpillwayIsWidenedToMoreThanItHas(t *testing.T) {
	for name, c := range map[string]struct {
		flow, capacity float64
		want           string
	}{
		"hardly too small": {.0202, .02, "widen it to 1.1 m"},
		"twice too small":  {.04, .02, "widen it to 2.0 m"},
		"above the bank":   {.02, 0, "passes none before the water is over the bank at 10.00 m; lower its crest"},
	} {
		s := sink{Outflow: Outflow{Title: "Weir", Flow: c.flow, Capacity: c.capacity}, width: 1}
		if got := s.tooSmall(10); !strings.Contains(got, c.want) || strings.Contains(got, "Inf") {
			t.Errorf("%s: it says %q", name, got)
		}
	}
}

func TestNoFreeboardIsSaidInWords(t *testing.T) {
	for freeboard, want := range map[float64]string{-.004: "has no freeboard", .004: "has no freeboard", .02: "0.02 m of freeboard", -.006: "0.01 m above its bank"} {
		p := part{study: &study{options: Options{Freeboard: .05}}}
		p.judgeBanks(&Reach{Title: "Brook", Stations: []Station{{Freeboard: freeboard}}})
		if f := p.result.Findings; len(f) != 1 || !strings.Contains(f[0].Text, want) {
			t.Errorf("at %v m: %+v", freeboard, f)
		}
	}
}

func BenchmarkFlow(b *testing.B) {
	s := falling(620, 40, .002)
	canal(s, 10, 600, .002, "flow", 60.0)
	for x := 60.0; x < 560; x += 100 {
		add(s, plan.Island, oval(x, 20, 12, 5), "arm_width", .8, "side", 1.5)
	}
	n, _ := channel.NewNetwork(s, 1)
	for b.Loop() {
		if _, err := Flow(b.Context(), s, n, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
