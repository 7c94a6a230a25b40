package propose

import (
	"math"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A trial is a course and what it comes to by its stations.
type trial struct {
	knots orb.LineString
	// contact [m²], volume [m³], width of the bed, length, level of the water [m].
	contact, volume, width, length, level float64
	// faults are how far each limit is passed.
	faults [limits]float64
}

// A limit is one that a course has to keep.
type limit uint8

const (
	tight        limit = iota // a bend is tighter than the least radius
	near                      // the banks lie in a setback
	crowded                   // neighbouring bends leave no strip between them
	low                       // a bank is lower than the water and its freeboard
	deep                      // the cut is too deep
	costly                    // the narrowest bed takes more digging than there is
	astray                    // it lies on ground that is not known
	across                    // it crosses a service line again, or along it
	alreadyFound              // it runs as a course of an earlier round does
	limits                    // how many there are
)

// weights make the faults alike: a centimetre of bank or of cut counts as much as
// some of a setback.
var weights = [limits]float64{tight: 1, near: 2, crowded: 2, low: 20, deep: 10, costly: 100, astray: 5, across: 2, alreadyFound: 20}

// fault is how far from keeping every limit a trial is; nought where it keeps all.
func (t *trial) fault() float64 {
	sum := 0.0
	for i, f := range t.faults {
		sum += weights[i] * f
	}
	return sum
}

// Margins that a trial keeps from the limits, so that what is cut into the cells keeps
// them too [m].
const (
	slackMargin = 0.10
	bankMargin  = 0.02
	bendMargin  = 1.01 // a share of the radius
)

// A station is a place on a line with the ground about it.
type station struct {
	at     orb.Point
	ux, uy float64
	// along is its chainage, share the length that it stands for [m].
	along, share float64
	// ground is the height on the line [m], rise how the ground goes on to the left
	// and to the right [m/m].
	ground float64
	rise   [2]float64
	bed    float64
	// half is the width to the top of the wider bank [m].
	half float64
}

// deep is how deep the cut on the line is [m].
func (s *station) deep() float64 { return s.ground - s.bed }

// A tester measures trials, one after another, in memory of its own.
type tester struct {
	*world
	stations []station
	bends    []bend
	strip    []bank
	firsts   []int
}

// apartMost is how far apart stations are at most [m].
const apartMost = 0.5

// try measures the course through knots.
func (m *tester) try(knots orb.LineString) trial {
	t, _ := m.tryAbove(knots, func(*trial) bool { return true })
	return t
}

// tryAbove measures a course, and gives it up as soon as its faults so far are so many
// that good says no. The limits that take longest to look at come last.
func (m *tester) tryAbove(knots orb.LineString, good func(*trial) bool) (t trial, ok bool) {
	line := plan.Curve(knots)
	t = trial{knots: knots, level: m.ends.water}
	m.setOut(line)
	t.length = m.lineLength()
	m.setBeds(t.length)
	m.slopes(&t)
	m.setWidth(&t)
	m.setHalves(t.width)
	m.tightness(&t)
	m.banks(&t)
	m.wet(&t)
	for _, look := range []func(*trial){m.setbacks, m.differ, m.strips} {
		if !good(&t) {
			return t, false
		}
		look(&t)
	}
	return t, good(&t)
}

// differ holds a course apart from those found before.
func (m *tester) differ(t *trial) {
	for i := range m.others {
		mean := 0.0
		for k := range m.stations {
			mean += m.stations[k].share / t.length * m.others[i].at(m.stations[k].at)
		}
		t.faults[alreadyFound] += max(0, apartFrom*unlike-mean)
	}
}

// apartFrom is how far apart courses are kept, as a multiple of what tells them apart.
const apartFrom = 1.3

// A bend is the circle through three points of a line on end: its radius and the length
// that it stands for [m], and the station before its middle.
type bend struct {
	radius, share float64
	station       int
}

// tightness holds the bends against the least radius, which is never less than the
// width to the top of the banks: within, they would meet.
func (m *tester) tightness(t *trial) {
	for _, b := range m.bends {
		least := bendMargin * m.leastRadius(b.station)
		if b.radius < least {
			t.faults[tight] += (least/max(b.radius, least/50) - 1) * max(b.share, 0.05)
		}
	}
}

// leastRadius is the least radius that a bend can have beyond a station [m].
func (m *tester) leastRadius(i int) float64 {
	return max(m.radius, m.stations[i].half, m.stations[min(len(m.stations)-1, i+1)].half)
}

// circle is the radius of the circle through three points [m].
func circle(a, b, c orb.Point) float64 {
	ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], c[0]-b[0], c[1]-b[1]
	wx, wy := c[0]-a[0], c[1]-a[1]
	cross := math.Abs(ux*vy - uy*vx)
	sides := math.Sqrt((ux*ux + uy*uy) * (vx*vx + vy*vy) * (wx*wx + wy*wy))
	if ux*vx+uy*vy < 0 && cross < 1e-9*sides || sides == 0 {
		return 0 // it turns right back
	}
	if cross == 0 {
		return math.Inf(1)
	}
	return sides / (2 * cross)
}

// setOut sets out stations along a line, at its points and between them.
func (m *tester) setOut(line orb.LineString) {
	m.stations, m.bends = m.stations[:0], m.bends[:0]
	along := 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := math.Sqrt(square(a, b))
		if length == 0 {
			continue
		}
		n := math.Ceil(length / apartMost)
		ux, uy, step := (b[0]-a[0])/length, (b[1]-a[1])/length, length/n
		for k := 0.0; k < n; k++ {
			off := (k + 0.5) * step
			m.stations = append(m.stations, station{
				at: orb.Point{a[0] + off*ux, a[1] + off*uy}, ux: ux, uy: uy, along: along + off, share: step,
			})
		}
		along += length
		if i+1 < len(line) && len(m.stations) > 0 {
			c := line[i+1]
			m.bends = append(m.bends, bend{circle(a, b, c), (length + math.Sqrt(square(b, c))) / 2, len(m.stations) - 1})
		}
	}
	if len(m.stations) == 0 {
		m.stations = append(m.stations, station{at: line[0], ux: 1})
	}
}

// lineLength is the length of the line that the stations stand for [m].
func (m *tester) lineLength() float64 {
	last := &m.stations[len(m.stations)-1]
	return last.along + last.share/2
}

// setBeds gives the stations their ground and their bed.
func (m *tester) setBeds(length float64) {
	start, fall := m.ends.profile(&m.q, length)
	for i := range m.stations {
		s := &m.stations[i]
		s.ground = grid.Sample(m.site.Ground, s.at)
		s.bed = start - fall*s.along
	}
}

// slopes reads how the ground goes on about where the banks will end, for a bed as
// wide as the volume makes it on level ground.
func (m *tester) slopes(t *trial) {
	mean, known := 0.0, 0.0
	for i := range m.stations {
		s := &m.stations[i]
		if !math.IsNaN(s.ground) {
			mean, known = mean+s.share*max(0, s.deep()), known+s.share
		}
	}
	mean /= max(known, 1e-9)
	side := (m.q.Left + m.q.Right) / 2
	bed := m.clamp(m.dig/max(1e-9, t.length*max(mean, 0.01)) - side*mean)
	for i := range m.stations {
		s := &m.stations[i]
		if math.IsNaN(s.ground) {
			t.faults[astray] += s.share
			s.ground = s.bed
			continue
		}
		for k, slope := range [2]float64{m.q.Left, m.q.Right} {
			off := bed/2 + max(0.1, slope*s.deep())
			sign := float64(1 - 2*k)
			z := grid.Sample(m.site.Ground, orb.Point{s.at[0] - sign*off*s.uy, s.at[1] + sign*off*s.ux})
			if math.IsNaN(z) {
				t.faults[astray] += s.share
				z = s.ground
			}
			s.rise[k] = (z - s.ground) / off
		}
	}
}

func (m *tester) clamp(bed float64) float64 { return max(m.q.Narrowest, min(m.q.Widest, bed)) }

// wet adds up the contact area.
func (m *tester) wet(t *trial) {
	perimeter := m.perimeter(t.width)
	for i := range m.stations {
		s := &m.stations[i]
		y := t.level - s.bed
		// Where the ground is as low as the bed nothing is dug, and the soil is another's.
		share := min(1, s.deep()/leastCut)
		if y <= leastDepth || share <= 0 {
			continue
		}
		t.contact += share * s.share * perimeter(y)
	}
	for _, s := range []*station{&m.stations[0], &m.stations[len(m.stations)-1]} {
		if y := t.level - s.bed; y > leastDepth && s.deep() > leastCut {
			t.contact += m.cap(t.width/2, y)
		}
	}
}

// perimeter returns what a section with a bed so wide touches at a depth: a sum, where
// its sides are straight.
func (m *tester) perimeter(bed float64) func(y float64) float64 {
	section := m.q.section(bed)
	if m.q.Form == channel.Rounded {
		return section.WettedPerimeter
	}
	slant := math.Hypot(1, m.q.Left) + math.Hypot(1, m.q.Right)
	return func(y float64) float64 { return bed + y*slant }
}

// leastCut is how deep a cut makes soil the channel's own, leastDepth how deep water
// counts [m].
const (
	leastCut   = 0.05
	leastDepth = 0.005
)

// cap is the soil under water round an end [m²]: half a disc and half a cone.
func (m *tester) cap(half, y float64) float64 {
	side := (m.q.Left + m.q.Right) / 2
	return math.Pi / 2 * (half*half + (2*half+side*y)*y*math.Hypot(1, side))
}
