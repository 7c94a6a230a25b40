package caution

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

const foot = 0.3048

// The channel of these tests runs along y = 20 m; its bed is 0.6 m wide at 9.6 m,
// its banks go 3 to 1 and its water stands at 9.9 m: the water's edge lies
// 0.3 + 0.9 m from the line.
const shoreAt = 20 + 1.2

func site() *plan.Site {
	g := grid.New[float32](grid.Square(240, 160, 500_000, 4_000_040, 0.25))
	for i := range g.V {
		g.V[i] = 10
	}
	s := &plan.Site{Ground: g, Setting: plan.UsualSetting()}
	add(s, plan.Channel, line(10, 20, 50, 20), numbers{"side_left": 3, "side_right": 3, "bed_start": 9.6, "bed_end": 9.6, "water_level": 9.9})
	return s
}

type numbers map[string]float64

func at(x, y float64) orb.Point { return orb.Point{500_000 + x, 4_000_000 + y} }

func line(xy ...float64) orb.LineString {
	var l orb.LineString
	for i := 0; i < len(xy); i += 2 {
		l = append(l, at(xy[i], xy[i+1]))
	}
	return l
}

func rectangle(x0, y0, x1, y1 float64) orb.Polygon {
	return orb.Polygon{orb.Ring(line(x0, y0, x1, y0, x1, y1, x0, y1, x0, y0))}
}

func add(s *plan.Site, kind plan.Kind, g orb.Geometry, fields numbers) plan.ID {
	f := plan.Feature{ID: plan.ID(len(s.Plan.Features) + 1), Kind: kind, Geometry: g}
	if plan.SpecOf(kind).InScheme {
		f.Scheme = 1
	}
	for name, v := range fields {
		f = f.With(name, plan.Value{Number: v})
	}
	s.Plan.Features = append(s.Plan.Features, f)
	return f.ID
}

func check(t *testing.T, s *plan.Site, l Limits) []Caution {
	t.Helper()
	if _, problems := channel.NewNetwork(s, 1); len(problems) > 0 {
		t.Fatal(problems)
	}
	return measured(t, s, l)
}

// measured lists the cautions of what can be laid out.
func measured(t *testing.T, s *plan.Site, l Limits) []Caution {
	t.Helper()
	n, _ := channel.NewNetwork(s, 1)
	lines, err := n.Measure(t.Context(), channel.Step{})
	if err != nil {
		t.Fatal(err)
	}
	proposed, wet, err := earthwork.Stand(t.Context(), s.Ground, n)
	if err != nil {
		t.Fatal(err)
	}
	found := Check(s, 1, Water{n.Features(), n.Mouths(), n.Sills(), lines, proposed, wet, earthwork.Watertables(s, n)}, l)
	for _, c := range found {
		if c.Text == "" || c.Measured == "" || c.Guidance == "" || len(c.Features) == 0 || c.At == (orb.Point{}) {
			t.Errorf("a caution says too little: %+v", c)
		}
	}
	return found
}

func about(found []Caution, rule string) *Caution {
	if i := slices.IndexFunc(found, func(c Caution) bool { return c.Rule == rule }); i >= 0 {
		return &found[i]
	}
	return nil
}

// Setbacks of the Minnesota Stormwater Manual; each is tried 0.1 ft short of its
// limit and 0.1 ft past it.
func TestSetbacksHoldToATenthOfAFoot(t *testing.T) {
	for rule, c := range map[string]struct {
		limit float64
		draw  func(s *plan.Site, away float64)
	}{
		"well setback": {50, func(s *plan.Site, away float64) { add(s, plan.Well, at(30, shoreAt+away), nil) }},
		"building setback": {10, func(s *plan.Site, away float64) {
			add(s, plan.Roof, rectangle(20, shoreAt+away, 40, shoreAt+away+8), nil)
		}},
		"boundary setback": {10, func(s *plan.Site, away float64) {
			add(s, plan.Boundary, rectangle(-30, -30, 90, shoreAt+away), nil)
		}},
		"septic field setback": {35, func(s *plan.Site, away float64) {
			add(s, plan.SepticField, rectangle(25, shoreAt+away, 35, shoreAt+away+3), nil)
		}},
	} {
		near, far := site(), site()
		c.draw(near, (c.limit-0.1)*foot)
		c.draw(far, (c.limit+0.1)*foot)
		if about(check(t, near, Limits{}), rule) == nil {
			t.Errorf("%s: nothing is said at %.1f ft", rule, c.limit-0.1)
		}
		if got := about(check(t, far, Limits{}), rule); got != nil {
			t.Errorf("%s: at %.1f ft it is said that %s", rule, c.limit+0.1, got.Measured)
		}
	}
}

func TestWhatStandsInWaterIsNoDistanceAway(t *testing.T) {
	s := site()
	id := add(s, plan.Well, at(30, 20), nil)
	c := about(check(t, s, Limits{}), "well setback")
	if c == nil || !strings.HasPrefix(c.Measured, "0.0 m") || c.Features[0] != id {
		t.Errorf("a well in the channel: %+v", c)
	}
}

// pond sets how deep the water of the channel is [m].
func pond(s *plan.Site, depth float64) {
	set(s, numbers{"bed_start": 9.9 - depth, "bed_end": 9.9 - depth})
}

// set changes fields of the channel.
func set(s *plan.Site, fields numbers) {
	for name, v := range fields {
		s.Plan.Features[0] = s.Plan.Features[0].With(name, plan.Value{Number: v})
	}
}

// Each limit is tried a little inside and a little outside.
func TestEveryOtherLimitIsHeld(t *testing.T) {
	for name, c := range map[string]struct {
		rule        string
		short, past float64
		draw        func(s *plan.Site, v float64)
	}{
		// City of Los Angeles criteria: 18 in (0.4572 m) of water, sides of 3 to 1.
		"depth":              {"deep water", 0.456, 0.459, pond},
		"the left bank":      {"steep bank", 3.01, 2.99, func(s *plan.Site, v float64) { set(s, numbers{"side_left": v}) }},
		"the right bank":     {"steep bank", 3.01, 2.99, func(s *plan.Site, v float64) { set(s, numbers{"side_right": v}) }},
		"the island's banks": {"steep bank", 3.01, 2.99, func(s *plan.Site, v float64) { add(s, plan.Island, rectangle(25, 18, 35, 22), numbers{"side": v}) }},
		// 48 h and 96 h at the 4.3 mm/h of sandy clay loam are 0.2064 m and 0.4128 m.
		"48 h after the drain stops": {"slow to drain", 47.5 * 0.0043, 48.5 * 0.0043, func(s *plan.Site, v float64) { s.Setting.Soil = "sandy clay loam"; pond(s, v) }},
		"96 h after the drain stops": {"mosquitoes", 95.5 * 0.0043, 96.5 * 0.0043, func(s *plan.Site, v float64) { s.Setting.Soil = "sandy clay loam"; pond(s, v) }},
		// The bank meets the ground 0.3 + 1.2 m from the line.
		"a metre from a service": {"service near digging", 1.01, 0.99, func(s *plan.Site, v float64) {
			add(s, plan.ServiceLine, line(5, 21.5+v, 55, 21.5+v), nil)
		}},
		"an unlocated service 5 m off": {"service not located", 5.01, 4.99, func(s *plan.Site, v float64) {
			add(s, plan.ServiceLine, line(5, 21.5+v, 55, 21.5+v), nil)
		}},
		// Cells are 0.25 m.
		"two cells in the bed": {"coarse cells", 0.51, 0.49, func(s *plan.Site, v float64) { set(s, numbers{"bed_width": v}) }},
		"two cells in an arm": {"coarse cells", 0.51, 0.49, func(s *plan.Site, v float64) {
			set(s, numbers{"bed_width": 2})
			add(s, plan.Island, rectangle(25, 18, 35, 22), numbers{"arm_width": v, "side": 3})
		}},
		"a crown 2 m from the bank": {"tree roots", 3.9, 4.1, func(s *plan.Site, v float64) { add(s, plan.Tree, at(30, 21.5+2), numbers{"spread": v}) }},
		"1.5 m from a drain":        {"permission to tie in", 1.51, 1.49, func(s *plan.Site, v float64) { add(s, plan.Drain, line(10-v, 5, 10-v, 35), nil) }},
	} {
		short, past := site(), site()
		c.draw(short, c.short)
		c.draw(past, c.past)
		if got := about(check(t, short, Limits{}), c.rule); got != nil {
			t.Errorf("%s: at %v it is said that %s", name, c.short, got.Measured)
		}
		if about(check(t, past, Limits{}), c.rule) == nil {
			t.Errorf("%s: nothing is said at %v", name, c.past)
		}
	}
}

func TestWaterThatStandsLongIsToldByTheSoil(t *testing.T) {
	// 0.3 m sinks in 23 h at the 13.2 mm/h of loam, 70 h at the 4.3 mm/h of sandy
	// clay loam, 500 h at the 0.6 mm/h of clay.
	for soil, want := range map[string][2]bool{"loam": {false, false}, "sandy clay loam": {true, false}, "clay": {true, true}} {
		s := site()
		s.Setting.Soil = soil
		found := check(t, s, Limits{})
		if got := [2]bool{about(found, "slow to drain") != nil, about(found, "mosquitoes") != nil}; got != want {
			t.Errorf("%s: slow and mosquitoes are %v, want %v", soil, got, want)
		}
	}
}

func TestARuleSpeaksOnceAndNamesAllThatItConcerns(t *testing.T) {
	s := site()
	set(s, numbers{"side_left": 2})
	island := add(s, plan.Island, rectangle(25, 18, 35, 22), numbers{"side": 1.5})
	for _, x := range []float64{15, 20, 25} {
		add(s, plan.Well, at(x, shoreAt+10), nil)
	}
	drain := add(s, plan.Drain, line(9, 5, 9, 35), nil)
	for _, y := range []float64{10, 30} {
		add(s, plan.Channel, line(10, y, 14, y), numbers{"side_left": 3, "side_right": 3})
	}
	found := measured(t, s, Limits{})
	rules := map[string]bool{}
	for _, c := range found {
		if rules[c.Rule] {
			t.Errorf("%s is said twice", c.Rule)
		}
		rules[c.Rule] = true
	}
	for rule, want := range map[string]struct {
		text     string
		measured string
		features []plan.ID
	}{
		"steep bank":           {"The banks of Channel 1 and Island 2 are steep.", "2.0 at Channel 1 and 1.5 at Island 2.", []plan.ID{1, island}},
		"well setback":         {"Water stands near Well 3, Well 4 and Well 5.", " and 7.3 m from Well 5 to the water's edge.", []plan.ID{3, 8, 4, 5, 1}},
		"permission to tie in": {"The scheme draws on or dams Drain 6.", "Channel 8 ends", []plan.ID{1, drain, 7, 8}},
	} {
		c := about(found, rule)
		if c == nil || !strings.HasPrefix(c.Text, want.text) || !strings.Contains(c.Measured, want.measured) || !slices.Equal(c.Features, want.features) {
			t.Errorf("%s: %+v, want %+v", rule, c, want)
		}
	}
}

func TestAListOfManyIsCutShort(t *testing.T) {
	for want, things := range map[string][]string{
		"": nil, "A": {"A"}, "A and B": {"A", "B"}, "A, B and C": {"A", "B", "C"},
		"A, B, C, D, E, F and 2 more": {"A", "B", "C", "D", "E", "F", "G", "H"},
	} {
		if got := list(things); got != want {
			t.Errorf("%v is written %q, want %q", things, got, want)
		}
	}
}

func TestWhatIsNotLaidOutIsNoReasonForCaution(t *testing.T) {
	s := site()
	island := add(s, plan.Island, rectangle(25, 30, 35, 34), numbers{"side": 1})
	channel := add(s, plan.Channel, line(-400, 20, -300, 20), numbers{"side_left": 1})
	for _, c := range measured(t, s, Limits{}) {
		if slices.Contains(c.Features, island) || slices.Contains(c.Features, channel) {
			t.Errorf("of what is left out it is said: %s", c.Text)
		}
	}
}

func TestDiggingNearServicesAndRoots(t *testing.T) {
	// The channel's bank meets the ground 0.3 + 1.2 m from its line.
	const edge = 20 + 1.5
	for name, c := range map[string]struct {
		draw func(s *plan.Site)
		rule string
		want bool
	}{
		"a cable across the channel": {func(s *plan.Site) { add(s, plan.ServiceLine, line(30, 5, 30, 38), nil) }, "service near digging", true},
		"a pipe 0.6 m beside it":     {func(s *plan.Site) { add(s, plan.ServiceLine, line(5, edge+0.6, 55, edge+0.6), nil) }, "service near digging", true},
		"a pipe 1.5 m beside it":     {func(s *plan.Site) { add(s, plan.ServiceLine, line(5, edge+1.5, 55, edge+1.5), nil) }, "service near digging", false},
		"a pipe that nobody located": {func(s *plan.Site) { add(s, plan.ServiceLine, line(5, edge+4, 55, edge+4), nil) }, "service not located", true},
		"one that is far off":        {func(s *plan.Site) { add(s, plan.ServiceLine, line(5, edge+6, 55, edge+6), nil) }, "service not located", false},
		"one that is located": {func(s *plan.Site) {
			add(s, plan.ServiceLine, line(5, edge+4, 55, edge+4), nil)
			s.Plan.Features[1] = s.Plan.Features[1].With("located", plan.Value{Text: "yes"})
		}, "service not located", false},
		"a tree 2 m from the bank":     {func(s *plan.Site) { add(s, plan.Tree, at(30, edge+2), numbers{"spread": 6}) }, "tree roots", true},
		"a small tree 2 m from it":     {func(s *plan.Site) { add(s, plan.Tree, at(30, edge+2), numbers{"spread": 3}) }, "tree roots", false},
		"a tree off the ground's edge": {func(s *plan.Site) { add(s, plan.Tree, at(-400, 20), numbers{"spread": 6}) }, "tree roots", false},
	} {
		s := site()
		c.draw(s)
		if got := about(check(t, s, Limits{}), c.rule) != nil; got != c.want {
			t.Errorf("%s: %q is %v, want %v", name, c.rule, got, c.want)
		}
	}
}

func TestTyingInToAPublicDrainNeedsPermission(t *testing.T) {
	for owner, want := range map[string]bool{"public": true, "not known": true, "private": false} {
		s := site()
		id := add(s, plan.Drain, line(9, 5, 9, 35), nil)
		s.Plan.Features[1] = s.Plan.Features[1].With("owner", plan.Value{Text: owner})
		c := about(check(t, s, Limits{}), "permission to tie in")
		if (c != nil) != want || want && c.Features[1] != id {
			t.Errorf("owner %s: %+v", owner, c)
		}
	}
}

func TestLimitsAreTheUsersToSet(t *testing.T) {
	s := site()
	add(s, plan.Well, at(30, shoreAt+20), nil)
	if about(check(t, s, Limits{}), "well setback") != nil {
		t.Error("a well 20 m off is too near by the usual limits")
	}
	mine := UsualLimits()
	mine.Well = 30
	if c := about(check(t, s, mine), "well setback"); c == nil || !strings.Contains(c.Guidance, "30.0 m") {
		t.Errorf("by a limit of 30 m: %+v", c)
	}
	mine.Well = 0
	if about(check(t, s, mine), "well setback") != nil {
		t.Error("a check that is turned off speaks")
	}
	if got := UsualLimits(); math.Abs(got.Well-15.24) > 1e-9 || math.Abs(got.Building-3.048) > 1e-9 || math.Abs(got.Septic-10.668) > 1e-9 || math.Abs(got.Boundary-3.048) > 1e-9 ||
		math.Abs(got.Depth-0.4572) > 1e-9 {
		t.Errorf("feet and inches come to %+v", got)
	}
}

func TestASchemeWithoutChannelsHasNoCautions(t *testing.T) {
	s := site()
	s.Plan.Features = nil
	add(s, plan.ServiceLine, line(5, 35, 55, 35), nil)
	add(s, plan.Drain, line(9, 5, 9, 35), nil)
	if found := check(t, s, Limits{}); len(found) > 0 {
		t.Errorf("%+v", found)
	}
	if !strings.Contains(Deference, "Local codes") {
		t.Error("the deference to local codes is gone")
	}
}

// A drain at 9.5 m and a channel that it feeds to 9.7 m.
func fed() *plan.Site {
	s := site()
	for i := range s.Ground.V {
		x := s.Ground.Centre(i%s.Ground.W, i/s.Ground.W)[0] - 500_000
		s.Ground.V[i] = float32(min(10, 9.5+max(0, math.Abs(x-10)-0.3)))
	}
	s.Plan.Features[0] = s.Plan.Features[0].Without("water_level").With("bed_start", plan.Value{Number: 9.55}).With("bed_end", plan.Value{Number: 9.55})
	add(s, plan.Drain, line(10, 2, 10, 38), numbers{"bed_width": 0.6, "water_depth": 0.2})
	return s
}

func TestWaterThatADrainAloneHoldsUpIsSaidToRunOut(t *testing.T) {
	s := fed()
	c := about(check(t, s, Limits{}), "open mouth")
	const says = "Channel 1 stands at 9.70 m only while Drain 2 runs; when it stops the water runs back out at the mouth, down to 9.55 m. A sill across the drain below the mouth, or across the mouth, would hold it longer."
	if c == nil || c.Text != says || !slices.Equal(c.Features, []plan.ID{1, 2}) || !strings.Contains(c.Measured, "0.15 m of Channel 1") {
		t.Errorf("it is said that %+v", c)
	}
	for name, sill := range map[string]orb.LineString{"the drain": line(8.5, 25, 11.5, 25), "the mouth": line(12, 17, 12, 23)} {
		s := fed()
		add(s, plan.Sill, sill, numbers{"crest": 9.7})
		if c := about(check(t, s, Limits{}), "open mouth"); c != nil {
			t.Errorf("with a sill across %s: %s", name, c.Text)
		}
	}
}

func TestDammingAPublicDrainNeedsPermission(t *testing.T) {
	for owner, want := range map[string]bool{"public": true, "private": false} {
		s := fed()
		s.Plan.Features[1] = s.Plan.Features[1].With("owner", plan.Value{Text: owner})
		id := add(s, plan.Sill, line(8.5, 15, 11.5, 15), numbers{"crest": 9.7})
		c := about(check(t, s, Limits{}), "permission to tie in")
		if (c != nil) != want || want && (!slices.Contains(c.Features, id) || !strings.Contains(c.Measured, "Sill 3 dams Drain 2 (owner: public)")) {
			t.Errorf("of a %s drain: %+v", owner, c)
		}
	}
}
