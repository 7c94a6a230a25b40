package channel

import (
	"fmt"
	"math"

	"runnel/geo/grid"
)

// A bed is said to rise out of the ground where it does for longer than outLength,
// unless that is at an end and by less than outHeight; and to rise against its fall
// by more than adverseRise [m].
const (
	outLength   = 0.5
	outHeight   = 0.02
	adverseRise = 0.01
	bedStep     = 0.25
)

// bedAboveGround says where a channel's bed first lies above the ground.
func (n *Network) bedAboveGround(f *feature) {
	segs := n.segsOf(f)
	end := segs[len(segs)-1].start + segs[len(segs)-1].length
	from, high, was, last := math.NaN(), 0.0, 0.0, 0.0
	say := func(to float64) bool {
		atEnd := from <= shortest || to >= end-shortest
		if math.IsNaN(from) || to-from <= outLength || atEnd && high < outHeight {
			from, high = math.NaN(), 0
			return false
		}
		s, along := segmentAt(segs, (from+to)/2)
		n.wrong(f.Feature, s.place(along), fmt.Errorf("the bed of %s lies above the ground from %.1f to %.1f m along it, by %.2f m at most, and nothing is dug there; lower the bed, or lead the channel over higher ground", f.Title(), from, to, high))
		return true
	}
	for i := range segs {
		s := &segs[i]
		count := math.Ceil(s.length / bedStep)
		for k := 0.0; k <= count; k++ {
			along := s.length * k / count
			out, at := n.outBy(s, along), s.start+along
			switch {
			case out > 0 && math.IsNaN(from):
				from = at
				if was < 0 {
					from -= (at - last) * out / (out - was)
				}
			case !(out > 0) && !math.IsNaN(from):
				if say(last + (at-last)*was/(was-min(out, 0))) {
					return
				}
			}
			if out > 0 {
				high = max(high, out)
			}
			was, last = out, at
		}
	}
	say(end)
}

// outBy returns how far above the ground the bed lies some way along a segment [m];
// nought on an island and in a drain, whose own bed it comes to.
func (n *Network) outBy(s *segment, along float64) float64 {
	at := s.place(along)
	out := s.bed(along) - grid.Sample(n.ground, at)
	if !(out > 0) {
		return out
	}
	if r := n.at(at, allWater); r.kept || !math.IsInf(r.moat, 1) || n.inDrain(at) {
		return 0
	}
	return out
}

// adverseGrades says where the bed of a channel that is no ring rises, on its way
// from the higher of its ends to the lower.
func (n *Network) adverseGrades(f *feature) {
	segs := n.segsOf(f)
	if n.reaches[f.reach].ring {
		return
	}
	first, last := segs[0].bedA, segs[len(segs)-1].bedB
	var way []Station
	for i := range segs {
		s := &segs[i]
		way = append(way, Station{s.start, s.bedA}, Station{s.start + s.length, s.bedB})
	}
	if first < last {
		for i, k := 0, len(way)-1; i < k; i, k = i+1, k-1 {
			way[i], way[k] = way[k], way[i]
		}
	}
	low := way[0]
	for i := 0; i < len(way); i++ {
		if way[i].Level <= low.Level {
			low = way[i]
			continue
		}
		high := way[i]
		for ; i < len(way) && way[i].Level > low.Level; i++ {
			if way[i].Level > high.Level {
				high = way[i]
			}
		}
		i--
		if rise := high.Level - low.Level; rise > adverseRise {
			s, along := segmentAt(segs, low.Chainage)
			n.wrong(f.Feature, s.place(along), fmt.Errorf("the bed of %s rises by %.2f m against its fall, from %.1f to %.1f m along it: a dead pool stands there when the water falls; lower the bed at %.1f m, or raise it at %.1f m", f.Title(), rise, low.Chainage, high.Chainage, high.Chainage, low.Chainage))
			return
		}
	}
}
