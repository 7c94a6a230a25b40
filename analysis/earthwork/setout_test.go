package earthwork

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// pegsOf sets out scheme 1 of a site.
func pegsOf(t testing.TB, s *plan.Site, o SetOutOptions) ([]Peg, *channel.Network) {
	t.Helper()
	n, _ := channel.NewNetwork(s, 1)
	pegs, err := SetOut(t.Context(), s, n, o)
	if err != nil {
		t.Fatal(err)
	}
	return pegs, n
}

func set(s *plan.Site, name string, v plan.Value) {
	f := &s.Plan.Features[len(s.Plan.Features)-1]
	*f = f.With(name, v)
}

// marked returns the first peg with a reason.
func marked(t testing.TB, pegs []Peg, why Why) Peg {
	t.Helper()
	for _, p := range pegs {
		if slices.ContainsFunc(p.What, func(r Reason) bool { return r.Why == why }) {
			return p
		}
	}
	t.Fatalf("no peg marks a %s", why)
	return Peg{}
}

func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// A straight channel runs east on a plane that rises by 0.01 along it and by 0.05 to
// its left. With h from bed to ground, half the bed's width b, a bank of m (H:V) and
// ground that rises by r outward, the bank meets the ground at (h + b/m) ÷ (1/m − r).
func TestPegsOfAStraightChannelOnASlope(t *testing.T) {
	s := siteOf(0.5, func(x, y float64) float64 { return 10 + 0.01*x + 0.05*(y-8) })
	add(s, plan.Channel, line(4, 8, 14, 8), map[string]float64{
		"bed_width": 0.6, "side_left": 3, "side_right": 2, "bed_start": 9.6, "bed_end": 9.5,
	})
	pegs, n := pegsOf(t, s, SetOutOptions{})
	if len(pegs) != 6 {
		t.Fatalf("%d pegs, want one every 2 m from 0 to 10 m", len(pegs))
	}
	for i, p := range pegs {
		x := 2 * float64(i)
		if p.Number != i+1 || p.ID != 1 || p.Kind != plan.Channel {
			t.Errorf("peg %d is number %d of %v %d", i, p.Number, p.Kind, p.ID)
		}
		within(t, "bed of the network", p.Bed, n.BedAt(1, x), 0)
		onTheSlope(t, p, x)
	}
	if pegs[0].What[0].Why != PegStart || pegs[5].What[0].Why != PegEnd || pegs[2].What[0].Why != PegStation {
		t.Errorf("the pegs mark %v, %v, %v", pegs[0].What, pegs[5].What, pegs[2].What)
	}
}

// onTheSlope holds a peg at a chainage of the channel on the slope against geometry.
func onTheSlope(t *testing.T, p Peg, x float64) {
	t.Helper()
	ground, bed := 10+0.01*(4+x), 9.6-0.01*x
	within(t, "chainage", p.Chainage, x, 1e-9)
	within(t, "easting", p.At[0], 500_004+x, 1e-6)
	within(t, "northing", p.At[1], 4_000_008, 1e-6)
	within(t, "ground", p.Ground, ground, 1e-5)
	within(t, "bed", p.Bed, bed, 1e-9)
	within(t, "cut", p.Cut, ground-bed, 1e-5)
	within(t, "bed width", p.BedWidth, 0.6, 0)
	h := ground - bed
	left, right := (h+0.3/3)/(1/3.0-0.05), (h+0.3/2)/(1/2.0+0.05)
	within(t, "left bank top off the line", p.Left.Off, left, 1e-3)
	within(t, "right bank top off the line", p.Right.Off, right, 1e-3)
	within(t, "left bank top northing", p.Left.Top[1], 4_000_008+left, 1e-3)
	within(t, "right bank top northing", p.Right.Top[1], 4_000_008-right, 1e-3)
	within(t, "left bank top easting", p.Left.Top[0], 500_004+x, 1e-6)
	within(t, "left bank top", p.Left.Level, ground+0.05*left, 1e-4)
	within(t, "right bank top", p.Right.Level, ground-0.05*right, 1e-4)
	within(t, "left stake northing", p.Left.Stake[1], 4_000_008+left+1, 1e-3)
	within(t, "right stake northing", p.Right.Stake[1], 4_000_008-right-1, 1e-3)
	within(t, "left stake to bed", p.Left.StakeCut, h+0.05*(left+1), 1e-4)
	within(t, "right stake to bed", p.Right.StakeCut, h-0.05*(right+1), 1e-4)
}

// At a right angle the tops of the banks lie on the line that halves it: outside as far
// off as beside a straight, 1 m and twice 0.4 m; inside further by √2.
func TestPegsAtACorner(t *testing.T) {
	s := siteOf(0.25, level)
	add(s, plan.Channel, line(5, 5, 15, 5, 15, 15), map[string]float64{"bed_width": 2, "bed_start": 9.6, "bed_end": 9.6})
	pegs, _ := pegsOf(t, s, SetOutOptions{})
	p := marked(t, pegs, PegCorner)
	const beside = 1 + 2*0.4
	within(t, "chainage", p.Chainage, 10, 1e-9)
	within(t, "outer bank's top easting", p.Right.Top[0], 500_015+beside*math.Sqrt(0.5), 2e-3)
	within(t, "outer bank's top northing", p.Right.Top[1], 4_000_005-beside*math.Sqrt(0.5), 2e-3)
	within(t, "inner bank's top easting", p.Left.Top[0], 500_015-beside, 2e-3)
	within(t, "inner bank's top northing", p.Left.Top[1], 4_000_005+beside, 2e-3)
	within(t, "inner bank's top from the peg", p.Left.Off, beside*math.Sqrt2, 2e-3)
}

func TestTheSpacingAndTheOffsetAreThoseThatAreAskedFor(t *testing.T) {
	s := siteOf(0.5, level)
	add(s, plan.Channel, line(4, 8, 14, 8), map[string]float64{"bed_start": 9.6, "bed_end": 9.6})
	pegs, _ := pegsOf(t, s, SetOutOptions{Spacing: 3, Offset: 2.5})
	for i, want := range []float64{0, 3, 6, 9, 10} {
		within(t, "chainage", pegs[i].Chainage, want, 1e-9)
		within(t, "stake outside the bank", pegs[i].Left.StakeOff, 2.5, 1e-9)
	}
	if len(pegs) != 5 {
		t.Errorf("%d pegs, want 5", len(pegs))
	}
}

func TestOptionsThatCannotBeAreRefused(t *testing.T) {
	s := siteOf(0.5, level)
	add(s, plan.Channel, line(4, 8, 14, 8), nil)
	n, _ := channel.NewNetwork(s, 1)
	for _, o := range []SetOutOptions{
		{Spacing: 0.01}, {Spacing: -2}, {Spacing: math.NaN()}, {Spacing: math.Inf(1)},
		{Offset: -1}, {Offset: 1000}, {Offset: math.NaN()}, {Bend: -5}, {Bend: math.NaN()}, {Bend: 200},
	} {
		if pegs, err := SetOut(t.Context(), s, n, o); err == nil {
			t.Errorf("%+v gives %d pegs", o, len(pegs))
		}
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := SetOut(stopped, s, n, SetOutOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// What stands on a channel has a peg of its own.
func TestPegsMarkWhatStandsOnTheLine(t *testing.T) {
	s := siteOf(0.25, level)
	add(s, plan.Drain, line(2, 2, 2, 18), map[string]float64{"bed_width": 0.4, "depth": 0.5})
	add(s, plan.Channel, line(2, 10, 27, 10), map[string]float64{"bed_start": 9.6, "bed_end": 9.4})
	add(s, plan.Channel, line(20.5, 17, 20.5, 10), map[string]float64{"bed_start": 9.6, "bed_end": 9.5})
	add(s, plan.Sill, line(11.25, 7, 11.25, 13), map[string]float64{"crest": 9.9})
	add(s, plan.Spillway, line(24.3, 11.2)[0], nil)
	add(s, plan.Section, line(16.75, 10.1)[0], map[string]float64{"drop": 0.1})
	add(s, plan.Section, line(8.75, 10)[0], map[string]float64{"bed_width": 1})
	add(s, plan.Crossing, line(13.4, 10)[0], nil)
	pegs, _ := pegsOf(t, s, SetOutOptions{})
	for why, want := range map[Why]float64{
		PegTie: 0, PegSill: 9.25, PegSpillway: 22.3, PegDrop: 14.75, PegSection: 6.75, PegCrossing: 11.4, PegJunction: 18.5,
	} {
		p := marked(t, pegs, why)
		if p.ID != 2 {
			t.Errorf("the %s stands on line %d", why, p.ID)
		}
		within(t, string(why), p.Chainage, want, 1e-6)
	}
	drop := marked(t, pegs, PegDrop)
	within(t, "drop", drop.Drop, 0.1, 0)
	for _, p := range pegs {
		if p.ID == 3 && p.Chainage == 7 && !slices.Contains(p.What, Reason{PegJunction, "Channel 2"}) {
			t.Errorf("the end of the side channel marks %v", p.What)
		}
	}
}

func TestNoStakeStandsInADrainOrOnWorkedGround(t *testing.T) {
	s := siteOf(0.25, level)
	add(s, plan.Drain, line(2, 0, 2, 20), map[string]float64{"bed_width": 2, "depth": 0.5})
	add(s, plan.Channel, line(2, 10, 27, 10), map[string]float64{"bed_start": 9.6, "bed_end": 9.4})
	add(s, plan.Channel, line(6, 13.2, 27, 13.2), map[string]float64{"bed_start": 9.6, "bed_end": 9.4})
	pegs, n := pegsOf(t, s, SetOutOptions{})
	if start := pegs[0]; !math.IsNaN(start.Left.StakeGround + start.Right.StakeGround) {
		t.Errorf("a stake of the peg in the drain stands at %v or %v", start.Left.Stake, start.Right.Stake)
	}
	moved := false
	for _, p := range pegs {
		for _, side := range []PegSide{p.Left, p.Right} {
			if math.IsNaN(side.StakeGround) {
				continue
			}
			if got := n.Proposed(side.Stake); got != side.StakeGround {
				t.Errorf("a stake of peg %d stands at %v m, and the design makes that %v m", p.Number, side.StakeGround, got)
			}
			if math.Abs(side.Stake[0]-500_002) < 1.5 {
				t.Errorf("a stake of peg %d stands in the drain", p.Number)
			}
			moved = moved || side.StakeOff > 1.05
		}
	}
	if !moved {
		t.Error("no stake had to stand further out, though the channels lie 3.2 m apart")
	}
}

func TestPegsTogetherAreOneAndNameBoth(t *testing.T) {
	s := siteOf(0.25, level)
	add(s, plan.Channel, line(4, 8, 14, 8), map[string]float64{"bed_start": 9.6, "bed_end": 9.5})
	add(s, plan.Sill, line(8.06, 5, 8.06, 11), map[string]float64{"crest": 9.7})
	pegs, _ := pegsOf(t, s, SetOutOptions{})
	p := marked(t, pegs, PegSill)
	within(t, "the sill's peg", p.Chainage, 4.06, 1e-6)
	if want := []Reason{{PegSill, "Sill 2"}, {Why: PegStation}}; !slices.Equal(p.What, want) || len(pegs) != 6 {
		t.Errorf("it marks %v, want %v; %d pegs", p.What, want, len(pegs))
	}
}

// A round island of radius 3 m stands on a channel, in an arm 0.8 m wide with a bank of
// 1.5. On level ground at 10 m with the bed at 9.4 m its bank is 0.9 m wide, so that the
// middle of the arm's bed lies 4.3 m from its centre, and the arm's outer foot 4.7 m.
func TestPegsRoundAMoat(t *testing.T) {
	s := siteOf(0.25, level)
	add(s, plan.Channel, line(3, 10, 27, 10), map[string]float64{"bed_start": 9.4, "bed_end": 9.4})
	add(s, plan.Island, circle(15, 10, 3), map[string]float64{"arm_width": 0.8})
	pegs, _ := pegsOf(t, s, SetOutOptions{})
	within(t, "where the moat begins", marked(t, pegs, PegMoatBegins).Chainage, 12-4.7, 0.02)
	within(t, "where it ends", marked(t, pegs, PegMoatEnds).Chainage, 12+4.7, 0.02)
	round := 0
	for _, p := range pegs {
		far := math.Hypot(p.At[0]-500_015, p.At[1]-4_000_010)
		if p.Kind == plan.Channel {
			if far < 4.69 {
				t.Errorf("peg %d of the channel stands in the moat", p.Number)
			}
			continue
		}
		round++
		within(t, "the arm's middle from the centre", far, 4.3, 0.01)
		within(t, "bed", p.Bed, 9.4, 1e-9)
		within(t, "cut", p.Cut, 0.6, 1e-5)
		within(t, "bed width", p.BedWidth, 0.8, 0)
		within(t, "crest", p.Left.Level, 10, 1e-5)
		within(t, "crest from the centre", math.Hypot(p.Left.Top[0]-500_015, p.Left.Top[1]-4_000_010), 3, 0.01)
		within(t, "crest's stake from the centre", math.Hypot(p.Left.Stake[0]-500_015, p.Left.Stake[1]-4_000_010), 2, 0.01)
		// Across the water the bank goes up as the channel's do, by 2.
		if !math.IsNaN(p.Right.Off) {
			within(t, "outer bank from the arm's middle", p.Right.Off, 0.4+2*0.6, 0.02)
		}
	}
	// 18.8 m round, a peg every 2 m and one at the start.
	if round != 10 {
		t.Errorf("%d pegs go round the island, want 10", round)
	}
}

func TestARaisedBankIsNotMovedIn(t *testing.T) {
	s := siteOf(0.25, level)
	add(s, plan.Channel, line(4, 8, 14, 8), map[string]float64{"bed_start": 9.6, "bed_end": 9.6, "bank_top": 10.3, "bank_width": 0.5})
	pegs, n := pegsOf(t, s, SetOutOptions{})
	left, right, err := n.Banks(1, 4)
	if err != nil {
		t.Fatal(err)
	}
	p := pegs[2]
	within(t, "left bank top", p.Left.Level, left.Level, 1e-6)
	within(t, "right bank top", p.Right.Level, right.Level, 1e-6)
	for _, side := range []PegSide{p.Left, p.Right} {
		within(t, "ground at the stake", n.Proposed(side.Stake), side.StakeGround, 1e-6)
	}
}

func TestASurveyedBedHasNoWidth(t *testing.T) {
	s := siteOf(0.25, level)
	add(s, plan.Channel, line(4, 8, 14, 8), map[string]float64{"bed_start": 9.6, "bed_end": 9.6})
	for _, x := range []float64{4, 14} {
		add(s, plan.Section, orb.Point{500_000 + x, 4_000_008}, nil)
		set(s, "surveyed", plan.Value{Text: "-1 0.4; 0 0; 1 0.4"})
	}
	pegs, _ := pegsOf(t, s, SetOutOptions{})
	if !math.IsNaN(pegs[2].BedWidth) {
		t.Errorf("its bed is %v m wide", pegs[2].BedWidth)
	}
	within(t, "bank top off the line", pegs[2].Left.Off, 1, 1e-3)
}
