package propose

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/channel"
	"runnel/geo/grid"
)

// A spine is the shortest way as places to either side of which a line may bend.
type spine struct {
	at     orb.LineString
	ux, uy []float64
	// length is that of the way [m], room how far there is free ground to the left and
	// to the right of each place [m].
	length float64
	room   [2][]float64
}

// spineStep is how far apart the places of a spine are [m], mostRoom how far to a side
// is looked, in steps of roomStep [m].
const (
	spineStep = 0.5
	mostRoom  = 40.0
	roomStep  = 0.25
)

func (w *world) spine() spine {
	var s spine
	s.length = planar.Length(w.route)
	n := int(max(4, math.Ceil(s.length/spineStep)))
	for i := 0; i <= n; i++ {
		s.at = append(s.at, alongLine(w.route, s.length*float64(i)/float64(n)))
	}
	// The direction is that over a bend's length, so that normals do not fan out.
	span := max(1, int(2*w.turn()/(s.length/float64(n))))
	for i := range s.at {
		a, b := s.at[max(0, i-span)], s.at[min(n, i+span)]
		d := max(1e-9, planar.Distance(a, b))
		s.ux, s.uy = append(s.ux, (b[0]-a[0])/d), append(s.uy, (b[1]-a[1])/d)
	}
	for k := range s.room {
		for i := range s.at {
			s.room[k] = append(s.room[k], w.room(&s, i, float64(1-2*k)))
		}
	}
	return s
}

// room goes out from a place of a spine, to the left for sign 1, as long as a line
// could run there.
func (w *world) room(s *spine, i int, sign float64) float64 {
	along := s.length * float64(i) / float64(len(s.at)-1)
	for off := roomStep; ; off += roomStep {
		p := orb.Point{s.at[i][0] - sign*off*s.uy[i], s.at[i][1] + sign*off*s.ux[i]}
		if off > mostRoom || !w.open(p, along, s.length-along) {
			return off - roomStep
		}
	}
}

// open reports whether a line could run at p.
func (w *world) open(p orb.Point, along, back float64) bool {
	ground, half := grid.Sample(w.site.Ground, p), w.halfAt(p)
	low := w.ends.water + channel.Freeboard
	return w.free.at(p) >= half && (len(w.near) == 0 || w.by.at(p) >= w.needed(along, back, half)) &&
		!(ground < low) && ground-w.ends.bed <= w.q.Deepest
}

// alongLine returns the place at a distance along a line [m].
func alongLine(line orb.LineString, along float64) orb.Point {
	for i := 1; i < len(line); i++ {
		d := planar.Distance(line[i-1], line[i])
		if along <= d && d > 0 {
			t := along / d
			return orb.Point{line[i-1][0] + t*(line[i][0]-line[i-1][0]), line[i-1][1] + t*(line[i][1]-line[i-1][1])}
		}
		along -= d
	}
	return line[len(line)-1]
}

// place returns the place beside a share of the spine, a way to its left [m], or to its
// right where that is negative, but no further than there is room.
func (s *spine) place(share, off float64) orb.Point {
	last := len(s.at) - 1
	f := max(0, min(1, share)) * float64(last)
	i := min(int(f), last-1)
	t := f - float64(i)
	mix := func(a, b float64) float64 { return a + t*(b-a) }
	if off >= 0 {
		off = min(off, mix(s.room[0][i], s.room[0][i+1]))
	} else {
		off = max(off, -mix(s.room[1][i], s.room[1][i+1]))
	}
	a, b := s.at[i], s.at[i+1]
	return orb.Point{mix(a[0], b[0]) - off*mix(s.uy[i], s.uy[i+1]), mix(a[1], b[1]) + off*mix(s.ux[i], s.ux[i+1])}
}

// A family makes knots that swing about a spine in so many half waves, as far as an
// amplitude [m] and the room allow, to the left first for sign 1.
type family func(s *spine, halves int, amplitude, sign float64) orb.LineString

// waves swing as a sine does.
func waves(s *spine, halves int, amplitude, sign float64) orb.LineString {
	const perHalf = 4
	n := halves * perHalf
	knots := orb.LineString{s.at[0]}
	for j := 1; j < n; j++ {
		swing := sign * math.Sin(math.Pi*float64(j)/perHalf)
		knots = append(knots, s.place(float64(j)/float64(n), swing*amplitude))
	}
	return append(knots, s.at[len(s.at)-1])
}

// folds are half circles joined by legs square to the spine: the closest fill of a band.
func folds(s *spine, halves int, amplitude, sign float64) orb.LineString {
	wide := 1 / float64(halves)
	radius := wide * s.length / 2
	leg := max(0, amplitude-radius)
	knots := orb.LineString{s.at[0]}
	for j := range halves {
		steps := math.Ceil(leg / (legStep * radius))
		for k := 0.0; k < steps; k++ {
			knots = append(knots, s.place(wide*float64(j), sign*leg*k/steps))
		}
		for k := range 5 {
			sin, cos := math.Sincos(math.Pi * (1 - float64(k)/4))
			knots = append(knots, s.place(wide*(float64(j)+0.5+cos/2), sign*(leg+min(amplitude, radius)*sin)))
		}
		for k := steps - 1; k > 0; k-- {
			knots = append(knots, s.place(wide*float64(j+1), sign*leg*k/steps))
		}
		sign = -sign
	}
	return slices.CompactFunc(append(knots, s.at[len(s.at)-1]), func(a, b orb.Point) bool { return planar.Distance(a, b) < closest })
}

// legStep is how far apart the knots of a leg are, in radii of its bend: further, and the
// curve bulges.
const legStep = 1.5

// closest is how near two knots of a start are at least [m].
const closest = 0.05

// straightish returns knots along the spine itself, so far apart [m].
func (s *spine) straightish(apart float64) orb.LineString {
	n := int(max(2, math.Round(s.length/apart)))
	var knots orb.LineString
	for j := 0; j <= n; j++ {
		knots = append(knots, s.at[(len(s.at)-1)*j/n])
	}
	return knots
}

// mostHalves bounds the half waves of a start.
const mostHalves = 80

// starts returns the best meander of each wavelength, best first; the way itself is one.
func (m *tester) starts(ctx context.Context) ([]trial, error) {
	s := m.spine()
	found := []trial{m.try(s.straightish(4 * m.turn()))}
	most := int(min(mostHalves, s.length/(2*m.turn())))
	for halves := 1; halves <= most; halves++ {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		found = append(found, m.swing(&s, halves))
	}
	slices.SortStableFunc(found, func(a, b trial) int {
		return cmp.Compare(m.score(&b, startPrice), m.score(&a, startPrice))
	})
	return found, nil
}

// amplitudes are how far starts swing [m]: from half a bend's radius up, and as far as a
// tenth and half of the spine have room.
func (m *tester) amplitudes(s *spine) []float64 {
	rooms := slices.Concat(s.room[0], s.room[1])
	slices.Sort(rooms)
	all := []float64{rooms[len(rooms)/10], rooms[len(rooms)/2]}
	for a := m.turn() / 2; a <= mostRoom; a *= 1.25 {
		all = append(all, a)
	}
	return all
}

// swing returns the best start of so many half waves.
func (m *tester) swing(s *spine, halves int) trial {
	var best trial
	for _, of := range []family{waves, folds} {
		for _, sign := range []float64{1, -1} {
			for _, a := range m.amplitudes(s) {
				t := m.try(of(s, halves, a, sign))
				if best.knots == nil || m.score(&t, startPrice) > m.score(&best, startPrice) {
					best = t
				}
			}
		}
	}
	return best
}
