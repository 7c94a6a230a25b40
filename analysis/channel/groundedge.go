package channel

import (
	"fmt"
	"math"

	"runnel/geo/grid"
)

// beyondGround says where a channel's line first leaves the ground that is known, and
// for how much of its length it does.
func (n *Network) beyondGround(f *feature) {
	segs := n.segsOf(f)
	from, length := math.NaN(), 0.0
	for i := range segs {
		s := &segs[i]
		count := math.Ceil(s.length / bedStep)
		for k := 0.0; k < count; k++ {
			along := s.length * (k + 0.5) / count
			if !math.IsNaN(grid.Sample(n.ground, s.place(along))) {
				continue
			}
			if math.IsNaN(from) {
				from = s.start + s.length*k/count
			}
			length += s.length / count
		}
	}
	if length == 0 {
		return
	}
	s, along := segmentAt(segs, from)
	n.wrong(f.Feature, s.place(along), fmt.Errorf("%s leaves the known ground %.1f m along it, and lies beyond it for %.1f m, where nothing is measured; move its line onto the ground, or bring in ground that goes further", f.Title(), from, length))
}
