package earthwork

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// islands lists the islands that are laid out as takers.
func (b *balancer) islands(n *channel.Network, rise float64) []taker {
	var takers []taker
	for _, f := range n.Features() {
		i, ok := b.find(f)
		if f.Kind != plan.Island || !ok || rise <= 0 {
			continue
		}
		low, half := standsOn(b.site.Ground, f.Area())
		if math.IsInf(low, 1) {
			continue // the ground is not known there
		}
		high := low + min(rise, half/max(f.Num("side"), 1e-3))
		takers = append(takers, taker{at: i, field: "top", low: low, high: high})
	}
	return takers
}

// standsOn returns the lowest ground in an area [m], +Inf where none is known, and
// half the area's width: how far its middle is from its outline [m].
func standsOn(ground grid.Ground, area orb.Polygon) (low, half float64) {
	low = math.Inf(1)
	look := func(p orb.Point) {
		if z := grid.Sample(ground, p); z < low {
			low = z
		}
	}
	for _, p := range area[0] {
		look(p)
	}
	bound := area.Bound()
	const across = 40
	step := max(bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1]) / across
	for x := bound.Min[0] + step/2; x < bound.Max[0]; x += step {
		for y := bound.Min[1] + step/2; y < bound.Max[1]; y += step {
			if p := (orb.Point{x, y}); planar.RingContains(area[0], p) {
				look(p)
				half = max(half, planar.DistanceFrom(orb.LineString(area[0]), p))
			}
		}
	}
	return low, half
}

// banks lists the channels whose banks' tops are not set as takers.
func (b *balancer) banks(n *channel.Network, rise float64) []taker {
	var takers []taker
	for _, f := range n.Features() {
		i, ok := b.find(f)
		if f.Kind != plan.Channel || !ok || rise <= 0 || !math.IsNaN(f.Num("bank_top")) {
			continue
		}
		if low := lowestBank(n, f); !math.IsInf(low, 1) {
			takers = append(takers, taker{at: i, field: "bank_top", low: low, high: low + rise})
		}
	}
	return takers
}

// bankApart is how far apart a channel's banks are looked at [m].
const bankApart = 1.0

// lowestBank returns the lowest of a channel's banks that stand above its water
// [m], +Inf where none does: where it is open to a drain there is no bank.
func lowestBank(n *channel.Network, f plan.Feature) float64 {
	low, length := math.Inf(1), planar.Length(f.Line())
	for at := 0.0; at <= length; at += bankApart {
		left, right, err := n.Banks(f.ID, at)
		water := n.WaterAt(f.ID, at)
		for _, bank := range []channel.Bank{left, right} {
			if err == nil && bank.Level > water && bank.Level < low {
				low = bank.Level
			}
		}
	}
	return low
}

// find returns the place of a laid out feature of the scheme in the plan.
func (b *balancer) find(f plan.Feature) (int, bool) {
	for i, g := range b.site.Plan.Features {
		if g.ID == f.ID {
			return i, g.Scheme == b.scheme
		}
	}
	return 0, false
}
