package channel

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func (b *builder) layIslands() {
	for _, f := range b.drawn[plan.Island] {
		outline := outward(f.Area()[0])
		l := laid{feature: f, line: outline}
		l.reach = reach{ring: true, arm: f.Num("arm_width"), side: f.Num("side"), top: f.Num("top")}
		l.form, l.by = b.stand(f.Area()[0])
		if len(l.by) == 0 {
			b.problem(f, fmt.Errorf("%s lies outside every channel of its scheme; move it onto a channel's line or draw a channel round it", f.Title()))
			continue
		}
		l.segs = lay(outline, every(outline, outlineStep))
		b.setOutline(&l)
		b.islands = append(b.islands, l)
	}
}

// stand says how an island stands in the water, and by which runs: in a moat
// where a run crosses it; kept where runs go round it; in a moat again where it
// only reaches into the width that a run is dug to. No runs: in none.
func (b *builder) stand(ring orb.Ring) (form, []int) {
	if by := b.crossing(ring); len(by) > 0 {
		return moat, by
	}
	if by := b.around(ring[0]); len(by) > 0 {
		return kept, by
	}
	return moat, b.touching(orb.LineString(ring))
}

// setOutline gives an outline its levels: the crest from the ground and the top,
// the bed from the nearest of the channels that it stands by.
func (b *builder) setOutline(l *laid) {
	for i := range l.segs {
		s := &l.segs[i]
		here, there := b.nearestRun(s.a, l.by), b.nearestRun(s.b, l.by)
		s.bedA, s.bedB = here.bed, there.bed
		s.crestA, s.crestB = ifSet(b.crest(s.a, l.top), here.bed), ifSet(b.crest(s.b, l.top), there.bed)
		s.line = here.run
		if i == 0 {
			section := b.runs[here.run].sectionAt(here.chainage)
			l.outer = (section.Left + section.Right) / 2
			l.berm = b.runs[here.run].berm
		}
	}
}

// floodIslands brings the water of the nearest channel to every outline.
func (b *builder) floodIslands() {
	for i := range b.islands {
		l := &b.islands[i]
		for k := range l.segs {
			s := &l.segs[k]
			here := b.nearestRun(s.a, l.by)
			s.brim, s.pool = here.brim, here.pool
			s.hold(here.level)
		}
	}
}

func (b *builder) crest(p orb.Point, top float64) float64 {
	ground := grid.Sample(b.ground, p)
	if math.IsNaN(ground) || top > ground {
		return top
	}
	return ground
}

// nearby is a place of a run: the run's number and the pool's, the chainage, how far
// away it is, and the levels of bed, water and brim there [m].
type nearby struct {
	run, pool        int
	chainage, off    float64
	bed, level, brim float64
}

func (b *builder) nearestRun(p orb.Point, of []int) nearby {
	best, least := nearby{off: math.Inf(1)}, math.Inf(1)
	for _, i := range of {
		for k := range b.runs[i].segs {
			s := &b.runs[i].segs[k]
			if along, square := s.near(p); square < least {
				best, least = nearby{i, s.pool, s.start + along, 0, s.bed(along), s.level(along), s.brim}, square
			}
		}
	}
	best.off = math.Sqrt(least)
	return best
}

// crossing lists the runs whose line crosses an outline or ends inside it.
func (b *builder) crossing(ring orb.Ring) []int {
	var runs []int
	for i := range b.runs {
		line := b.runs[i].line
		if planar.RingContains(ring, line[0]) || meets(line, orb.LineString(ring)) {
			runs = append(runs, i)
		}
	}
	return runs
}

// around lists the rings of channel that p lies in; where there is none, the
// first two channels that p lies between, one of which leaves the other and
// comes back to it, or both of which start and end together.
func (b *builder) around(p orb.Point) []int {
	var runs []int
	for i := range b.runs {
		if b.runs[i].ring && planar.RingContains(orb.Ring(b.runs[i].line), p) {
			runs = append(runs, i)
		}
	}
	for i := 0; i < len(b.runs) && len(runs) == 0; i++ {
		for k := range b.runs {
			if i != k && planar.RingContains(b.loop(i, k), p) {
				return []int{i, k}
			}
		}
	}
	return runs
}

// loop returns the ring that run i makes with a part of run k, where both its
// ends lie in the bed of k; else nothing.
func (b *builder) loop(i, k int) orb.Ring {
	line, other := b.runs[i].line, &b.runs[k]
	start, end := b.nearestRun(line[0], []int{k}), b.nearestRun(line[len(line)-1], []int{k})
	reach := (b.runs[i].section.Bed + other.section.Bed) / 2
	if b.runs[i].ring || other.ring || start.off > reach || end.off > reach {
		return nil
	}
	var back orb.LineString
	for _, s := range other.segs {
		if s.start > min(start.chainage, end.chainage) && s.start < max(start.chainage, end.chainage) {
			back = append(back, s.a)
		}
	}
	if end.chainage > start.chainage {
		back.Reverse()
	}
	ring := append(orb.Ring(line.Clone()), back...)
	return append(ring, ring[0])
}

// touching lists the runs that are dug at some place of an outline.
func (b *builder) touching(outline orb.LineString) []int {
	var runs []int
	for i := range b.runs {
		for _, s := range lay(outline, every(outline, outlineStep)) {
			here := b.nearestRun(s.a, []int{i})
			if here.off <= b.halfWidth(&b.runs[i], here.chainage) {
				runs = append(runs, i)
				break
			}
		}
	}
	return runs
}

// halfWidth returns how far from its line a run is dug, on its wider side [m].
func (b *builder) halfWidth(l *laid, chainage float64) float64 {
	s := &l.segs[0]
	for i := range l.segs {
		if l.segs[i].start <= chainage {
			s = &l.segs[i]
		}
	}
	along := min(s.length, chainage-s.start)
	return max(b.bankTop(&l.reach, s, along, 1).off, b.bankTop(&l.reach, s, along, -1).off)
}

// meets reports whether two lines cross or touch.
func meets(line, other orb.LineString) bool {
	for i := 1; i < len(line); i++ {
		if len(crossings(line[i-1], line[i], other)) > 0 {
			return true
		}
	}
	return false
}

// crossings returns where, from 0 at a to 1 at b, a segment crosses a line.
func crossings(a, b orb.Point, line orb.LineString) []float64 {
	var at []float64
	dx, dy := b[0]-a[0], b[1]-a[1]
	for i := 1; i < len(line); i++ {
		ex, ey := line[i][0]-line[i-1][0], line[i][1]-line[i-1][1]
		cross := dx*ey - dy*ex
		if cross == 0 {
			continue
		}
		fx, fy := line[i-1][0]-a[0], line[i-1][1]-a[1]
		t, u := (fx*ey-fy*ex)/cross, (fx*dy-fy*dx)/cross
		if t >= 0 && t <= 1 && u >= 0 && u <= 1 {
			at = append(at, t)
		}
	}
	return at
}
