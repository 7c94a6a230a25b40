package channel

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Junction is where two channels open into one another and are one water: an
// end of one lies in the other, their lines cross, or both come to one island's
// moat.
type Junction struct {
	At orb.Point
	// ID is the channel that ends there, or the first drawn of two that cross, at
	// its chainage [m]; Into is the other.
	ID           plan.ID
	Chainage     float64
	Into         plan.ID
	IntoChainage float64
}

// Junctions lists where channels are one water.
func (n *Network) Junctions() []Junction {
	var all []Junction
	for _, j := range n.joints {
		if j.joined {
			all = append(all, Junction{j.place, n.lines[j.a].ID, j.atA, n.lines[j.b].ID, j.atB})
		}
	}
	return all
}

// Systems lists the channels by the water that they share, past sills too: the
// first drawn first, and in each those in the order in which they are drawn.
func (n *Network) Systems() [][]plan.ID {
	var all [][]plan.ID
	for _, of := range n.systems {
		var ids []plan.ID
		for _, run := range of.runs {
			ids = append(ids, n.lines[run].ID)
		}
		all = append(all, ids)
	}
	return all
}

// joinedWith returns the channels of one system, f among them.
func (n *Network) joinedWith(f feature) []feature {
	var all []feature
	for _, of := range n.systems {
		for _, i := range of.runs {
			all = append(all, n.lines[i])
		}
		if slices.ContainsFunc(all, func(o feature) bool { return o.ID == f.ID }) {
			return all
		}
		all = all[:0]
	}
	return nil
}

// joinedTo reports whether a channel is joined to another, whose number is given.
func (n *Network) joinedTo(f feature, other plan.ID) bool {
	return f.ID != other && slices.ContainsFunc(n.joinedWith(f), func(o feature) bool { return o.ID == other })
}

// A joint is a place where the cuts of two runs, by number, open into one another
// above the level of its saddle [m]. It is joined where water stands above that.
type joint struct {
	a, b     int
	atA, atB float64
	place    orb.Point
	saddle   float64
	joined   bool
}

// A system is the numbers of the runs that are joined, and of the drains that they
// touch.
type system struct {
	runs, drains []int
}

// layJoints looks for all places where runs open into one another.
func (b *builder) layJoints() {
	for k := range b.runs {
		b.runs[k].bound = b.runs[k].line.Bound()
	}
	for k := range b.runs {
		for i := range k {
			b.joinCrossed(i, k)
		}
	}
	for i := range b.runs {
		l := &b.runs[i]
		for k := range b.runs {
			if i == k || l.ring {
				continue
			}
			last := &l.segs[len(l.segs)-1]
			b.joinEnd(i, k, &l.segs[0], 0)
			b.joinEnd(i, k, last, last.length)
		}
	}
	for i := range b.islands {
		l := &b.islands[i]
		for k := 1; k < len(l.by) && l.form == moat; k++ {
			b.joinRound(l, l.by[0], l.by[k])
		}
	}
}

// addJoint adds a joint, but for one that is there already between the two runs.
func (b *builder) addJoint(j joint) {
	near := (b.runs[j.a].feature.Width() + b.runs[j.b].feature.Width()) / 2
	for _, old := range b.joints {
		same := old.a == j.a && old.b == j.b || old.a == j.b && old.b == j.a
		if same && planar.Distance(old.place, j.place) <= near {
			return
		}
	}
	b.joints = append(b.joints, j)
}

// joinCrossed joins two runs where their lines cross.
func (b *builder) joinCrossed(i, k int) {
	for s, t := range pairs(b.runs[i].segs, b.runs[k].segs) {
		if along, on, ok := s.meet(t); ok {
			b.addJoint(joint{a: i, b: k, atA: s.start + along, atB: t.start + on, place: s.place(along), saddle: max(s.bed(along), t.bed(on))})
		}
	}
}

// joinEnd joins an end of run i, which lies along its segment s, to run k where the
// cut round it opens into that of k.
func (b *builder) joinEnd(i, k int, s *segment, along float64) {
	end, of := s.place(along), &b.runs[k]
	if !of.bound.Pad(farthest).Contains(end) {
		return
	}
	near := b.nearestRun(end, []int{k})
	t, on := segmentAt(of.segs, near.chainage)
	saddle, place := b.saddle(&b.runs[i], s, along, of, t, on)
	if ground := grid.Sample(b.ground, place); saddle < ground || near.off <= (bedOn(&b.runs[i], s, along)+bedOn(of, t, on))/2 {
		b.addJoint(joint{a: i, b: k, atA: s.start + along, atB: near.chainage, place: end, saddle: saddle})
	}
}

// bedOn returns the bed's width some way along a segment of a run [m].
func bedOn(l *laid, s *segment, along float64) float64 {
	section := l.sectionOn(s, along)
	return section.Bed
}

// saddle returns the level above which water passes from the end of l to the
// nearest place of run of [m], and where on the way between their lines it lies.
func (b *builder) saddle(l *laid, s *segment, along float64, of *laid, t *segment, on float64) (float64, orb.Point) {
	from, to := s.place(along), t.place(on)
	far := planar.Distance(from, to)
	left, _ := t.side(from, on)
	// Towards the other run this one's surface rises, and that one's falls.
	mine := func(out float64) float64 {
		a, _ := l.floor(s, hit{along: along, off: out, left: 1})
		b, _ := l.floor(s, hit{along: along, off: out, left: -1})
		return (a + b) / 2
	}
	its := func(out float64) float64 {
		z, _ := of.floor(t, hit{along: on, off: far - out, left: left})
		return z
	}
	low, high := 0.0, far
	for range halvings * 2 {
		if middle := (low + high) / 2; mine(middle) < its(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	share := 0.0
	if far > 0 {
		share = low / far
	}
	place := orb.Point{from[0] + (to[0]-from[0])*share, from[1] + (to[1]-from[1])*share}
	return max(min(mine(low), its(low)), s.bed(along), t.bed(on)), place
}

// joinRound joins two runs that come to one island's moat.
func (b *builder) joinRound(island *laid, i, k int) {
	at := func(run int) nearby {
		best := nearby{off: math.Inf(1)}
		for _, s := range island.segs {
			if near := b.nearestRun(s.a, []int{run}); near.off < best.off {
				best = near
			}
		}
		return best
	}
	a, c := at(i), at(k)
	s, along := segmentAt(b.runs[i].segs, a.chainage)
	b.addJoint(joint{a: i, b: k, atA: a.chainage, atB: c.chainage, place: s.place(along), saddle: max(a.bed, c.bed)})
}

// inOther reports whether a place at the top of a run's bank lies in the cut of one
// that opens into it, and so is no bank.
func (b *builder) inOther(run int, t top) bool {
	for _, j := range b.joints {
		other := j.b
		if other == run {
			other = j.a
		} else if j.a != run {
			continue
		}
		l := &b.runs[other]
		if near := (b.runs[run].feature.Width() + l.feature.Width()); planar.Distance(j.place, t.at) > near+t.off {
			continue
		}
		near := b.nearestRun(t.at, []int{other})
		s, along := segmentAt(l.segs, near.chainage)
		left, _ := s.side(t.at, along)
		if z, _ := l.floor(s, hit{along: along, off: near.off, left: left}); near.off <= bedOn(l, s, along)/2 || z < t.ground {
			return true
		}
	}
	return false
}

// laySystems gathers the runs that are joined, with the drains that they touch.
func (b *builder) laySystems() {
	of := make([]int, len(b.runs))
	for i := range of {
		of[i] = i
	}
	for _, j := range b.joints {
		if from, to := max(of[j.a], of[j.b]), min(of[j.a], of[j.b]); j.joined {
			for i := range of {
				if of[i] == from {
					of[i] = to
				}
			}
		}
	}
	for first := range of {
		var s system
		for i := range of {
			if of[i] == first {
				s.runs = append(s.runs, i)
				s.drains = append(s.drains, b.touched(i)...)
			}
		}
		if len(s.runs) > 0 {
			slices.Sort(s.drains)
			s.drains = slices.Compact(s.drains)
			b.systems = append(b.systems, s)
		}
	}
}

// touched lists the drains that a run ties in to or crosses, by their place in the
// network's list of lines.
func (b *builder) touched(run int) []int {
	l := &b.runs[run]
	var ids []plan.ID
	for _, end := range []orb.Point{l.line[0], l.line[len(l.line)-1]} {
		if t, ok := b.tie(l.feature, end); ok && !l.ring {
			ids = append(ids, t.id)
		}
	}
	for i := range b.drains {
		for s, t := range pairs(l.segs, b.drains[i].segs) {
			if _, _, ok := s.meet(t); ok {
				ids = append(ids, b.drains[i].feature.ID)
				break
			}
		}
	}
	var all []int
	for i := range b.drains {
		if slices.Contains(ids, b.drains[i].feature.ID) {
			all = append(all, len(b.runs)+i)
		}
	}
	return all
}
