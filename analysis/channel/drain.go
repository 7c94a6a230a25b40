package channel

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func (b *builder) layDrains() {
	for _, f := range b.drawn[plan.Drain] {
		l := laid{feature: f, line: f.Line()}
		l.reach = reach{form: drain, section: sectionOf(f), ring: closed(f.Line())}
		depth := b.drainDepth(f)
		l.water = l.section.Bed/2 + depth*max(l.section.Left, l.section.Right, steepest)
		l.edge = l.section.Bed/2 + f.Num("depth")*max(l.section.Left, l.section.Right)
		l.profile = b.drainBed(l.line, l.edge)
		if len(l.profile) == 0 {
			b.problem(f, fmt.Errorf("%s lies outside the ground; move it onto the ground", f.Title()))
			continue
		}
		sills := b.sillsAcross(l.line)
		cuts := l.profile.chainages()
		for _, c := range sills {
			cuts = append(cuts, c.at)
		}
		l.segs = lay(l.line, cuts)
		l.setBed()
		for i := range l.segs {
			s := &l.segs[i]
			s.levelA, s.levelB = s.bedA+depth, s.bedB+depth
			s.held = math.Inf(-1)
		}
		for _, c := range sills {
			b.dam(&l, c)
		}
		l.level = l.profile[0].Level + depth
		b.drains = append(b.drains, l)
	}
}

// drainDepth returns how deep a drain's water is [m], no deeper than the drain.
func (b *builder) drainDepth(f plan.Feature) float64 {
	water, depth := f.Num("water_depth"), f.Num("depth")
	if water > depth {
		b.problem(f, fmt.Errorf("%s would run over its banks: its water is %.2f m deep, and it is itself only %.2f m deep; lower the water's depth, or give the drain the depth that it has. It is measured full to the brim", f.Title(), water, depth))
	}
	return min(water, depth)
}

// A drain's bed is read every drainStep metres and evened over smoothing
// stations on either side.
const (
	drainStep = 1.0
	smoothing = 3
)

// DrainBed returns the levels of a drain's bed [m] as the ground shows it, along
// its line; none where it lies outside the ground. The feature must be sound.
func DrainBed(ground grid.Ground, f plan.Feature) Profile {
	b := builder{Network: Network{ground: ground}}
	s := sectionOf(f)
	return b.drainBed(f.Line(), s.Bed/2+f.Num("depth")*max(s.Left, s.Right))
}

// drainBed reads a drain's bed from the ground: the lowest within half its top
// width, evened along the line. It is empty where there is no ground.
func (b *builder) drainBed(line orb.LineString, half float64) Profile {
	var raw Profile
	for _, s := range lay(line, every(line, drainStep)) {
		for _, along := range []float64{0, s.length} {
			if along > 0 && s.turnB != 0 {
				continue
			}
			if z := b.lowestAcross(&s, along, half); !math.IsInf(z, 1) {
				raw = append(raw, Station{s.start + along, z})
			}
		}
	}
	return raw.even(smoothing)
}

func (b *builder) lowestAcross(s *segment, along, half float64) float64 {
	low, from := math.Inf(1), s.place(along)
	step := min(b.ground.DX, b.ground.DY) / 2
	n := int(min(half/step, 200)) + 1
	for i := -n; i <= n; i++ {
		off := half * float64(i) / float64(n)
		z := grid.Sample(b.ground, orb.Point{from[0] - s.uy*off, from[1] + s.ux*off})
		if z < low {
			low = z
		}
	}
	return low
}

// even returns the profile with each level the mean of those up to n stations
// on either side, as many on the one as on the other, and doubles left out.
func (p Profile) even(n int) Profile {
	var once, even Profile
	for _, s := range p {
		if len(once) == 0 || s.Chainage-once[len(once)-1].Chainage > shortest {
			once = append(once, s)
		}
	}
	for i, s := range once {
		k := min(n, i, len(once)-1-i)
		sum := 0.0
		for _, near := range once[i-k : i+k+1] {
			sum += near.Level
		}
		even = append(even, Station{s.Chainage, sum / float64(2*k+1)})
	}
	return even
}

// A tie is where a channel's end meets a drain: its bed and its water [m], the
// water that a sill holds there when the drain stops, -Inf where none does, and
// the drain's title and number, and where on its line it is.
type tie struct {
	bed, level, held float64
	drain            string
	id               plan.ID
	at               orb.Point
}

// tie returns the drain that the end p of a channel ties in to: the nearest whose
// cut the channel's meets, or whose line is within tieReach.
func (b *builder) tie(f plan.Feature, p orb.Point) (tie, bool) {
	reach := tieReach
	for i := range b.drains {
		reach = max(reach, (f.Width()+b.drains[i].feature.Width())/2)
	}
	return b.drainWithin(p, reach)
}

// drainWithin returns the drain that is nearest to p, no further than far [m].
func (b *builder) drainWithin(p orb.Point, far float64) (tie, bool) {
	best, least := tie{level: math.Inf(1)}, far*far
	found := false
	for i := range b.drains {
		for k := range b.drains[i].segs {
			s := &b.drains[i].segs[k]
			if along, square := s.near(p); square <= least {
				best, least, found = b.drains[i].tieAt(s, along), square, true
			}
		}
	}
	return best, found
}

func (l *laid) tieAt(s *segment, along float64) tie {
	return tie{s.bed(along), s.level(along), s.held, l.feature.Title(), l.feature.ID, s.place(along)}
}

// A boundary is an area of the site and the rectangle of all that counts as in it.
type boundary struct {
	area orb.Polygon
	near orb.Bound
}

// boundarySlack is how far outside the boundary a drain that runs along it still
// counts as the site's [m].
const boundarySlack = 5.0

// onSite reports whether a place of a drain counts: where the ground is known,
// inside a boundary or along it; where no boundary is drawn, on all the ground.
func (n *Network) onSite(p orb.Point) bool {
	if math.IsNaN(grid.Sample(n.ground, p)) {
		return false
	}
	for _, b := range n.bounds {
		if b.near.Contains(p) && plan.Distance(b.area, p) <= boundarySlack {
			return true
		}
	}
	return len(n.bounds) == 0
}
