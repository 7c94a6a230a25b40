package earthwork

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// scribble draws anything anywhere: lines that double back, features off the ground,
// rings about nothing, levels far out, holes in the ground.
func scribble(t *rapid.T) *plan.Site {
	s := siteOf(0.5, func(x, y float64) float64 { return 10 + 0.03*x })
	for range rapid.IntRange(0, 30).Draw(t, "holes") {
		s.Ground.V[rapid.IntRange(0, len(s.Ground.V)-1).Draw(t, "hole")] = grid.NoData
	}
	coordinate := rapid.IntRange(-3, 33)
	points := func(least, most int) orb.LineString {
		var flat []float64
		for range rapid.IntRange(least, most).Draw(t, "n") {
			flat = append(flat, float64(coordinate.Draw(t, "x")), float64(coordinate.Draw(t, "y")))
		}
		return line(flat...)
	}
	level := rapid.SampledFrom([]float64{9, 9.5, 9.8, 10.4, 12, 40})
	kinds := []plan.Kind{plan.Channel, plan.Channel, plan.Channel, plan.Island, plan.Drain, plan.Sill, plan.Spillway, plan.Section, plan.Crossing}
	for range rapid.IntRange(1, 8).Draw(t, "features") {
		l := points(2, 6)
		switch kind := rapid.SampledFrom(kinds).Draw(t, "kind"); kind {
		case plan.Island:
			add(s, kind, orb.Polygon{orb.Ring(append(l, l[0]))}, nil)
			if rapid.Bool().Draw(t, "raised") {
				set(s, "top", plan.Value{Number: level.Draw(t, "top")})
			}
		case plan.Spillway, plan.Crossing:
			add(s, kind, l[0], nil)
		case plan.Section:
			add(s, kind, l[0], map[string]float64{"drop": rapid.Float64Range(0, 1).Draw(t, "drop")})
		case plan.Channel:
			if rapid.IntRange(0, 3).Draw(t, "ring") == 0 {
				l = append(l, l[0])
			}
			add(s, kind, l, map[string]float64{"side_left": rapid.Float64Range(0, 20).Draw(t, "side")})
			for _, name := range []string{"bed_start", "bed_end", "bank_top"} {
				if rapid.IntRange(0, 2).Draw(t, name) == 0 {
					set(s, name, plan.Value{Number: level.Draw(t, name)})
				}
			}
		default:
			add(s, kind, l, nil)
		}
	}
	return s
}

func TestNoDrawingBreaksTheSettingOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := scribble(t)
		n, _ := channel.NewNetwork(s, 1)
		pegs, err := SetOut(t.Context(), s, n, SetOutOptions{Spacing: rapid.Float64Range(0.5, 5).Draw(t, "spacing")})
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range pegs {
			sound(t, s, n, i, p)
			if i > 0 && pegs[i-1].ID == p.ID && !(p.Chainage-pegs[i-1].Chainage >= together) {
				t.Fatalf("pegs %d and %d stand at %v and %v m", i, i+1, pegs[i-1].Chainage, p.Chainage)
			}
		}
	})
}

// sound holds one peg to the network and the ground.
func sound(t *rapid.T, s *plan.Site, n *channel.Network, i int, p Peg) {
	if p.Number != i+1 || len(p.What) == 0 || p.Title == "" || math.IsNaN(p.At[0]+p.At[1]+p.Bed+p.Chainage) {
		t.Fatalf("peg %d is %+v", i+1, p)
	}
	if p.Kind == plan.Channel && p.Bed != n.BedAt(p.ID, p.Chainage) {
		t.Fatalf("peg %d has its bed at %v m, and the network at %v m", p.Number, p.Bed, n.BedAt(p.ID, p.Chainage))
	}
	same := func(what string, a, b float64) {
		if a != b && !(math.IsNaN(a) && math.IsNaN(b)) {
			t.Fatalf("peg %d: %s is %v, want %v", p.Number, what, a, b)
		}
	}
	same("ground", p.Ground, grid.Sample(s.Ground, p.At))
	same("cut", p.Cut, p.Ground-p.Bed)
	for _, side := range []PegSide{p.Left, p.Right} {
		if side.Off < 0 || side.StakeOff < UsualPegOffset-1e-9 {
			t.Fatalf("peg %d has a bank %v m off and its stake %v m further", p.Number, side.Off, side.StakeOff)
		}
		if known := !math.IsNaN(side.StakeGround); known != !math.IsNaN(side.Stake[0]) {
			t.Fatalf("a stake of peg %d stands at %v, on ground at %v", p.Number, side.Stake, side.StakeGround)
		} else if known {
			same("ground at a stake", side.StakeGround, grid.Sample(s.Ground, side.Stake))
			same("stake to bed", side.StakeCut, side.StakeGround-p.Bed)
		}
	}
	if slices.ContainsFunc(p.What, func(r Reason) bool { return !slices.Contains(order, r.Why) }) {
		t.Fatalf("peg %d marks %v, which has no place in the order", p.Number, p.What)
	}
}
