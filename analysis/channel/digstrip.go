package channel

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// moved returns what the design moves at p, and whose it is: the reach and segment
// that rule the cut, or that raise the fill.
func (n *Network) moved(p orb.Point) (e Earth, reach, seg int) {
	r := n.at(p, designed)
	ground := grid.Sample(n.ground, p)
	switch z := r.shape(ground); {
	case z < ground:
		return Earth{Cut: ground - z}, r.reach, r.seg
	case z > ground:
		reach, seg = n.raising(p, &r)
		return Earth{Fill: z - ground}, reach, seg
	}
	return Earth{}, r.reach, r.seg
}

// raising returns the reach and the segment whose fill is the highest at p, where a
// rule has fill: an island's or that of a raised bank.
func (n *Network) raising(p orb.Point, r *rule) (reach, seg int) {
	if r.kept {
		return r.reach, r.seg
	}
	reach, seg = r.reach, r.seg
	high := math.Inf(-1)
	list := n.index.at(p)
	for i := 0; i < len(n.reaches) && len(list) > 0; i++ {
		by := &n.reaches[i]
		if int(list[0]) >= by.end || by.form == drain {
			continue
		}
		var h hit
		h, list = n.nearest(p, list, by.end)
		if fill := by.heap(&n.segs[h.seg], h, r); fill > high {
			reach, seg, high = i, h.seg, fill
		}
	}
	return reach, seg
}

// heap returns the level up to which a reach raises the ground at a hit where a rule
// has fill [m]: as an island where the rule's fill is that of one, else as a bank.
func (r *reach) heap(s *segment, h hit, by *rule) float64 {
	none := math.Inf(-1)
	switch {
	case by.fill >= min(by.berm, by.z):
		if r.island() && !math.IsNaN(r.top) {
			return r.top - h.off/max(r.side, steepest)
		}
		return none
	case r.form == moat:
		if _, own := r.moatFloor(s, h); own || r.berm.width == 0 {
			return none
		}
		return r.raised(s, h)
	case r.form == run && math.IsInf(by.moat, 1):
		return r.raised(s, h)
	}
	return none
}

// A sounding is the earth moved at some distance out along a ray, as far as it is
// the ray's own; lost as in a probe.
type sounding struct {
	out float64
	Earth
	lost bool
}

func (n *Network) sound(q *ray, out float64) sounding {
	e, reach, seg := n.moved(orb.Point{q.from[0] + out*q.dx, q.from[1] + out*q.dy})
	s := sounding{out: out, Earth: e}
	if mine := reach == q.reach && (seg == q.seg || seg == q.other); !mine {
		s.Earth, s.lost = Earth{}, reach == q.reach
	}
	return s
}

// Earth is looked at every digStep out along a ray [m], and between, wherever it is
// not straight to digFilm [m], in halves up to digHalvings times.
const (
	digStep     = 0.15
	digFilm     = 0.0002
	digHalvings = 8
)

// strip returns the earth along a ray, each bit times how wide the ray's strip is
// there [m³].
func (n *Network) strip(q ray) Earth {
	r := &n.reaches[q.reach]
	start := 0.0
	if r.island() {
		start = onset
	}
	look := func(out float64) sounding { return n.sound(&q, out) }
	width := func(out float64) float64 { return q.base + q.spread*out }
	t := tally{look: look, width: width}
	last, far := look(start), min(r.influence, q.limit)
	for last.out < far && !last.lost {
		here := look(min(last.out+digStep, far))
		t.between(last, here, digHalvings)
		last = here
	}
	return t.Earth
}

// A tally adds up earth along a line out over the ground.
type tally struct {
	look  func(out float64) sounding
	width func(out float64) float64
	Earth
}

// between adds the earth between two soundings.
func (t *tally) between(a, b sounding, halvings int) {
	if a.Earth == (Earth{}) && b.Earth == (Earth{}) {
		return // what is dug between two such is narrower than digStep
	}
	m := t.look((a.out + b.out) / 2)
	bent := max(math.Abs(m.Cut-(a.Cut+b.Cut)/2), math.Abs(m.Fill-(a.Fill+b.Fill)/2)) > digFilm
	if bent && halvings > 0 {
		t.between(a, m, halvings-1)
		t.between(m, b, halvings-1)
		return
	}
	t.piece(a, m)
	t.piece(m, b)
}

// piece adds the earth of a stretch along which heights and width vary evenly.
func (t *tally) piece(a, b sounding) {
	run, wa, wb := b.out-a.out, t.width(a.out), t.width(b.out)
	sum := func(a, b float64) float64 { return run * (2*a*wa + 2*b*wb + a*wb + b*wa) / 6 }
	t.add(Earth{sum(a.Cut, b.Cut), sum(a.Fill, b.Fill)})
}

// DigAcross returns the areas of cut and fill [m²] of a section square to a channel
// at a chainage [m], as a straight line across shows them: both arms of an island,
// but no other channel, and not where the channel winds back.
func (n *Network) DigAcross(id plan.ID, chainage float64) (Earth, error) {
	for _, f := range n.lines {
		if f.ID == id {
			return n.across(&f, chainage), nil
		}
	}
	return Earth{}, notLaid(id)
}

func (n *Network) across(f *feature, chainage float64) Earth {
	r := &n.reaches[f.reach]
	s, along := segmentAt(n.segs[r.first:r.end], chainage)
	from, line := s.place(along), n.segs[r.first].line
	var sum Earth
	for _, side := range []float64{1, -1} {
		look := func(out float64) sounding {
			p := orb.Point{from[0] - side*s.uy*out, from[1] + side*s.ux*out}
			e, reach, seg := n.moved(p)
			if seg < 0 || n.segs[seg].line != line || reach == f.reach && n.back(seg, s.start+along, out) {
				e = Earth{}
			}
			return sounding{out: out, Earth: e}
		}
		t := tally{look: look, width: func(float64) float64 { return 1 }}
		far := n.designedTo(s, from, -side*sectionStep) + sectionStep
		for last := look(0); last.out < far; {
			here := look(min(last.out+digStep, far))
			t.between(last, here, digHalvings)
			last = here
		}
		sum.add(t.Earth)
	}
	return sum
}

// back reports whether a segment that rules some way out [m] across a chainage [m]
// is one further along its line than that, where the line has wound back.
func (n *Network) back(seg int, chainage, out float64) bool {
	s := &n.segs[seg]
	return s.start > chainage+out+shortest || s.start+s.length < chainage-out-shortest
}
