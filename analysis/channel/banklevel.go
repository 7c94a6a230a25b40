package channel

import "math"

// bankLevel returns how high a bank is [m], above which its freeboard is not counted;
// NaN where it is none: where a moat, another channel or a drain opens there.
func (n *Network) bankLevel(b Bank) float64 {
	if n.Proposed(b.At) < b.Level-leastDepth || n.openToDrain(b) {
		return math.NaN()
	}
	return b.Level
}

// openToDrain reports whether a bank lies in the section of a drain or next to it, and
// no higher than the drain's own banks.
func (n *Network) openToDrain(b Bank) bool {
	for i := range n.reaches {
		r := &n.reaches[i]
		for k := r.first; k < r.end && r.form == drain; k++ {
			s := &n.segs[k]
			along, square := s.near(b.At)
			full := s.bed(along) + n.lines[s.line].Num("depth")
			if square <= (r.edge+drainClear)*(r.edge+drainClear) && b.Level < full+tieSlack {
				return true
			}
		}
	}
	return false
}

// roundOff returns the lowest of the bank round an end of a channel [m], its start for
// way -1, NaN where it opens on something there; open is set where the ground straight
// ahead lies no higher than the bed.
func (n *Network) roundOff(line int, way float64) (low float64, open bool) {
	r := &n.reaches[n.lines[line].reach]
	s, along := &n.segs[r.first], 0.0
	if way > 0 {
		s = &n.segs[r.end-1]
		along = s.length
	}
	end, bank := s.facing(along, way), r.capped(way)
	ux, uy := end.ux, end.uy
	low = math.Inf(1)
	const steps = 12
	for i := 1.0; i < steps; i++ {
		sin, cos := math.Sincos(math.Pi * (i/steps - 0.5))
		end.ux, end.uy = ux*cos-uy*sin, ux*sin+uy*cos
		t := n.bankToward(&bank, &end, 0, 1, hit{left: end.ux*s.ux + end.uy*s.uy, off: 1}.round())
		open = open || i == steps/2 && t.ground <= s.bed(along)+leastDepth
		if level := n.bankLevel(Bank{At: t.at, Level: t.ground}); level < low {
			low = level
		}
	}
	if open || math.IsInf(low, 1) {
		return math.NaN(), open
	}
	return low, false
}
