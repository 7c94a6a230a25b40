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
		l.reach = reach{form: moat, ring: true, arm: f.Num("arm_width"), side: f.Num("side"), top: f.Num("top")}
		crossing := b.crossing(f.Area()[0])
		if len(crossing) == 0 {
			l.form = kept
			crossing = b.around(outline[0])
		}
		if len(crossing) == 0 {
			b.problem(f, fmt.Errorf("%s lies outside every channel of its scheme; move it onto a channel's line or draw a channel round it", f.Title()))
			continue
		}
		l.segs = lay(outline, every(outline, outlineStep))
		b.setOutline(&l, crossing)
		b.islands = append(b.islands, l)
	}
}

// setOutline gives an outline its levels: the crest from the ground and the top,
// bed and water from the nearest of the channels that cross it.
func (b *builder) setOutline(l *laid, crossing []int) {
	for i := range l.segs {
		s := &l.segs[i]
		here, there := b.nearestRun(s.a, crossing), b.nearestRun(s.b, crossing)
		s.bedA, s.bedB = here.bed, there.bed
		s.crestA, s.crestB = ifSet(b.crest(s.a, l.top), here.bed), ifSet(b.crest(s.b, l.top), there.bed)
		s.hold(here.level)
		s.line = here.run
		if i == 0 {
			section := b.runs[here.run].section
			l.outer = (section.Left + section.Right) / 2
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

// nearby is a place of a run: its bed, its water and the run's number.
type nearby struct {
	run        int
	bed, level float64
}

func (b *builder) nearestRun(p orb.Point, of []int) nearby {
	best, least := nearby{}, math.Inf(1)
	for _, i := range of {
		for k := range b.runs[i].segs {
			s := &b.runs[i].segs[k]
			if along, square := s.near(p); square < least {
				best, least = nearby{i, s.bed(along), s.level(along)}, square
			}
		}
	}
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

// around lists the rings of channel that p lies in.
func (b *builder) around(p orb.Point) []int {
	var runs []int
	for i := range b.runs {
		if b.runs[i].ring && planar.RingContains(orb.Ring(b.runs[i].line), p) {
			runs = append(runs, i)
		}
	}
	return runs
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
