package channel

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// An overlap is a stretch of a channel along which the tops of its banks lie in the
// cut of another reach, or in that of another stretch of its own.
type overlap struct {
	reach    int
	from, to float64
	at       orb.Point
	// there is how far along the other line the cut is, step how far apart the two
	// beds lie in height at most [m].
	there, step float64
}

// Overlapping is the error of a channel whose cut overlaps its own or another's, whose
// number is Other.
type Overlapping struct {
	error
	Other plan.ID
}

// overlapFilm is how far below the ground a cut must lie for that [m].
const overlapFilm = 0.01

// overlaps says where the cuts of a channel overlap each other or those of one that
// is drawn later, so that no ground is left between them, but for where they open
// into one another. A line that crosses itself lies near to itself there, which is said.
func (n *Network) overlaps(f *feature, crossed bool) {
	said := places{what: "lies too near to itself or to another"}
	for _, o := range n.overlapsOf(f) {
		switch other := n.lineOf(o.reach); {
		case o.reach == f.reach && (crossed || o.there < o.from):
		case o.reach == f.reach && o.step > oneBed:
			n.withhold(f)
			said.add(o.at, Overlapping{fmt.Errorf("%s lies too near to itself: the cuts %.1f m and %.1f m along it overlap, and their beds lie %.2f m apart in height; move the two stretches apart, or make it narrower. Its water is not measured", f.Title(), o.from, o.there, o.step), f.ID})
		case o.reach == f.reach:
			said.add(o.at, Overlapping{fmt.Errorf("%s lies too near to itself: the cuts %.1f m and %.1f m along it overlap, and no ground is left between them; move the two stretches apart, or make it narrower", f.Title(), o.from, o.there), f.ID})
		case o.reach > f.reach && n.meetings(f, other, o) != 1:
			said.add(o.at, Overlapping{fmt.Errorf("%s and %s lie too near to each other: their cuts overlap from %.1f to %.1f m along %[1]s, and no ground is left between them; move them apart, or make them narrower", f.Title(), other.Title(), o.from, o.to), other.ID})
		}
	}
	n.tell(f.Feature, said)
}

// lookStep is how far apart along a channel overlaps are looked for [m].
func (n *Network) lookStep(f *feature) float64 {
	return max(outlineStep/2, n.reaches[f.reach].influence/4)
}

// overlapsOf looks from the tops of a channel's banks; and from its line for those of
// the same width, whose banks end where its own do.
func (n *Network) overlapsOf(f *feature) []overlap {
	l := lookout{Network: n, of: f, heading: n.headings(&n.reaches[f.reach])}
	beside := l.along(func(s *segment, i int, along float64) (tops []top) {
		for _, side := range []float64{1, -1} {
			out := n.outlook(&n.reaches[f.reach], s, along, side, towards(side))
			if t, below := out.march(); l.cutsAbout(i, t.at, below.at) {
				tops = append(tops, out.closer(t, below))
			}
		}
		return tops
	})
	inside := l.along(func(s *segment, i int, along float64) []top {
		p := s.place(along)
		if !l.cutsAbout(i, p, p) {
			return nil
		}
		return []top{{at: p, ground: grid.Sample(n.ground, p)}}
	})
	known := func(o overlap) bool {
		return slices.ContainsFunc(beside, func(b overlap) bool { return b.reach == o.reach })
	}
	return append(beside, slices.DeleteFunc(inside, known)...)
}

// A lookout looks for overlaps from along a channel, with its headings.
type lookout struct {
	*Network
	of      *feature
	heading []float64
}

// along looks from places along the channel, and gathers what is found.
func (l *lookout) along(from func(s *segment, i int, along float64) []top) []overlap {
	r := &l.reaches[l.of.reach]
	var found []overlap
	step := l.lookStep(l.of)
	next := 0.0
	for i := r.first; i < r.end; i++ {
		for s := &l.segs[i]; next < s.start+s.length; next += step {
			for _, t := range from(s, i, next-s.start) {
				l.inCuts(t, func(reach int, h hit) {
					by := &l.segs[h.seg]
					if reach == l.of.reach && l.between(r, l.heading, i, h.seg) < turnedBack {
						return // its own bank, or one round a bend
					}
					apart := math.Abs(by.bed(h.along) - s.bed(next-s.start))
					found = extend(found, overlap{reach, next, next, t.at, by.start + h.along, apart}, 2*step)
				})
			}
		}
	}
	return found
}

// cutsAbout reports whether the cut of another run, or of another stretch of the channel
// than that about a segment, may be listed somewhere between two places that are no
// further apart than the index's squares are wide.
func (l *lookout) cutsAbout(seg int, a, b orb.Point) bool {
	r := &l.reaches[l.of.reach]
	for _, p := range [4]orb.Point{a, b, {a[0], b[1]}, {b[0], a[1]}} {
		i := 0
		for _, k := range l.index.at(p) {
			for int(k) >= l.reaches[i].end {
				i++
			}
			other := &l.reaches[i]
			if other.form == run && (other != r || l.between(r, l.heading, seg, int(k)) >= turnedBack) {
				return true
			}
		}
	}
	return false
}

// rim returns the top of a bank, closely.
func (n *Network) rim(r *reach, s *segment, along, side float64) top {
	l := n.outlook(r, s, along, side, towards(side))
	return l.first()
}

// extend adds an overlap to a list, or to one of it that it goes on.
func extend(list []overlap, o overlap, gap float64) []overlap {
	for i := range list {
		if list[i].reach == o.reach && o.from-list[i].to <= gap {
			list[i].to, list[i].step = o.to, max(list[i].step, o.step)
			return list
		}
	}
	return append(list, o)
}

// turnedBack is how far a line turns at least between two stretches that lie side by
// side [rad]: of those that turn less, the cuts meet at the bend between them only.
const turnedBack = 175 * math.Pi / 180

// between returns how far a reach turns from one segment to another [rad]; a ring
// the way round on which it turns less.
func (n *Network) between(r *reach, heading []float64, i, k int) float64 {
	turn := heading[k-r.first] - heading[i-r.first]
	if !r.ring {
		return math.Abs(turn)
	}
	whole := heading[len(heading)-1] + turnOf(n.segs[r.first].turnA)
	return min(math.Abs(turn), math.Abs(whole-turn), math.Abs(whole+turn))
}

// headings returns how far each segment of a reach is turned from its first [rad].
func (n *Network) headings(r *reach) []float64 {
	all := make([]float64, r.end-r.first)
	for i := 1; i < len(all); i++ {
		all[i] = all[i-1] + turnOf(n.segs[r.first+i].turnA)
	}
	return all
}

// inCuts calls visit with the runs whose cut the top of a bank lies in, but where an
// island's moat rules.
func (n *Network) inCuts(t top, visit func(reach int, h hit)) {
	list := n.index.at(t.at)
	for i := 0; len(list) > 0; i++ {
		r := &n.reaches[i]
		if int(list[0]) >= r.end {
			continue
		}
		var h hit
		h, list = n.nearest(t.at, list, r.end)
		switch {
		case r.form == drain:
			return
		case r.form == moat:
			if _, own := r.moatFloor(&n.segs[h.seg], h); own || inside(h) {
				return
			}
		case r.form == run:
			if z, ok := r.floor(&n.segs[h.seg], h); ok && z < t.ground-overlapFilm {
				visit(i, h)
			}
		}
	}
}

// meetings counts the joints between two channels along an overlap of the one.
func (n *Network) meetings(f, other *feature, o overlap) int {
	spare := 2 * n.lookStep(f)
	count := 0
	for _, j := range n.joints {
		at := j.atA
		switch {
		case n.lines[j.a].ID == f.ID && n.lines[j.b].ID == other.ID:
		case n.lines[j.b].ID == f.ID && n.lines[j.a].ID == other.ID:
			at = j.atB
		default:
			continue
		}
		if at >= o.from-spare && at <= o.to+spare {
			count++
		}
	}
	return count
}

// keptInCut says which islands in a ring stand in the cut of the channel round
// them, where their bank would be a wall.
func (n *Network) keptInCut(i int) {
	r := &n.reaches[i]
	worst, at := overlapFilm, orb.Point{}
	var by *feature
	for k := r.first; k < r.end && r.form == kept; k++ {
		s := &n.segs[k]
		ground := grid.Sample(n.ground, s.a)
		n.inCuts(top{at: s.a, ground: ground}, func(reach int, h hit) {
			z, _ := n.reaches[reach].floor(&n.segs[h.seg], h)
			if high := ground - z; high > worst {
				worst, at, by = high, s.a, n.lineOf(reach)
			}
		})
	}
	if by == nil {
		return
	}
	f := n.islands[i]
	n.wrong(f, at, fmt.Errorf("%s stands in the cut of %s: its bank would be a wall, %.2f m high at most; make the island smaller, or lead the channel round it further out", f.Title(), by.Title(), worst))
}

// lineOf returns the channel or drain that a reach is.
func (n *Network) lineOf(reach int) *feature {
	for i := range n.lines {
		if n.lines[i].reach == reach {
			return &n.lines[i]
		}
	}
	return nil
}
