package channel

import (
	"fmt"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
)

// leastBed is the least share of its bed's width that a rounded channel is dug to.
const leastBed = 0.5

// slit says where a rounded channel comes out much narrower than its bed is set. Its
// bed is as steep at the edge as the bank, so that the steeper the banks the deeper it
// is: with banks that are nearly walls what is dug from the ground is the bottom of it
// alone. It is measured as it is drawn; where it is dug deepest counts.
func (n *Network) slit(f *feature) {
	var at orb.Point
	deepest, wide, bed := 0.0, 0.0, 0.0
	r := &n.reaches[f.reach]
	for i := r.first; i < r.end; i++ {
		s := &n.segs[i]
		left, right := r.flank(s, s.length/2, 0), r.flank(s, s.length/2, 1)
		place := s.place(s.length / 2)
		depth := max(grid.Sample(n.ground, place), r.berm.top) - s.bed(s.length/2)
		if left.over != nil || left.form != Rounded || !(depth > deepest) {
			continue
		}
		at, deepest, wide, bed = place, depth, left.out(depth)+right.out(depth), left.bed+right.bed
	}
	if wide < leastBed*bed {
		n.wrong(f.Feature, at, fmt.Errorf("%s is rounded with banks so steep that it is a slit: dug %.2f m deep it is %.2f m wide at the ground, less than half the %.2f m of its bed; make its banks flatter, its bed narrower or its shape a trapezoid", f.Title(), deepest, wide, bed))
	}
}
