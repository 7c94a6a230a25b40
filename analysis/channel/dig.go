package channel

import (
	"context"
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// AverageEnd returns the volume between two sections some way apart by the rule of
// the average end area.
func AverageEnd(apart, first, last float64) float64 { return apart * (first + last) / 2 }

// Prismoidal returns the same by the prismoidal rule, which the section half way
// between takes part in. It is exact where areas vary as a square or a cube does.
func Prismoidal(apart, first, middle, last float64) float64 {
	return apart * (first + 4*middle + last) / 6
}

// Earth is earth in place, dug out and filled in: heights [m], areas of a section
// [m²] or volumes [m³].
type Earth struct{ Cut, Fill float64 }

func (e *Earth) add(o Earth) { e.Cut, e.Fill = e.Cut+o.Cut, e.Fill+o.Fill }

// A Dig is the earth between two sections of a channel or of a moat on it.
type Dig struct {
	// ID is the channel's, Chainage how far along it the middle lies [m].
	ID       plan.ID
	Chainage float64
	// AverageEnd and Prismoidal are its volumes by the two rules [m³].
	AverageEnd, Prismoidal Earth
}

// digSpacing is how far apart sections are taken at the most, if no one says [m].
const digSpacing = 0.5

// Digs measures the earth of every channel between sections no further apart than
// spacing [m], nought being the usual 0.5 m. Like the transects of Measure they
// share the ground out: each place is moved by one stretch of one line. Between two
// sections each bit of earth counts with how far they lie apart there, so that a
// section's area goes the way of its centroid, by Pappus. Sills are left out.
func (n *Network) Digs(ctx context.Context, spacing float64) ([]Dig, error) {
	if !(spacing > 0) {
		spacing = digSpacing
	}
	d := digger{Network: n, spacing: spacing}
	for i := range n.reaches {
		r := &n.reaches[i]
		for k := r.first; k < r.end && r.form != drain; k++ {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			d.beside(i, k)
			d.bend(i, k)
		}
		if r.form == run && !r.ring {
			d.caps(i)
		}
	}
	return d.digs, nil
}

// A digger gathers the earth between sections.
type digger struct {
	*Network
	spacing float64
	digs    []Dig
}

// beside takes the sections of one segment, on either side.
func (d *digger) beside(i, k int) {
	r, s := &d.reaches[i], &d.segs[k]
	count := math.Ceil(s.length / d.spacing)
	width := s.length / count
	for _, side := range []float64{1, -1} {
		section := func(along float64) Earth {
			q := ray{reach: i, seg: k, other: d.next(r, k, along), along: along, from: s.place(along), base: width}
			return d.strip(q.across(s, side))
		}
		first := section(0)
		for j := 0.0; j < count; j++ {
			last := section((j + 1) * width)
			d.put(i, k, (j+0.5)*width, [3]Earth{first, section((j + 0.5) * width), last})
			first = last
		}
	}
}

// next returns the segment beside which a section of segment k lies, which at its
// ends may be the one before or after it.
func (n *Network) next(r *reach, k int, along float64) int {
	s := &n.segs[k]
	switch {
	case along <= 0 && k > r.first:
		return k - 1
	case along <= 0 && r.ring:
		return r.end - 1
	case along >= s.length-shortest && k+1 < r.end:
		return k + 1
	case along >= s.length-shortest && r.ring:
		return r.first
	}
	return k
}

// bend takes the sections of the fan on the outer side of the bend at the end of a
// segment.
func (d *digger) bend(i, k int) {
	s := &d.segs[k]
	if s.turnB == 0 {
		return
	}
	// The outer side of a left turn is the right, a quarter turn clockwise.
	quarter, left := -math.Pi/2, false
	if s.turnB < 0 {
		quarter, left = math.Pi/2, true
	}
	q := ray{reach: i, seg: k, other: d.next(&d.reaches[i], k, s.length), along: s.length, from: s.b, left: left}
	d.fan(q, math.Atan2(s.uy, s.ux)+quarter, 2*math.Atan(s.turnB))
}

// caps takes the sections of the half rounds at the two ends of a run.
func (d *digger) caps(i int) {
	r := &d.reaches[i]
	s, t := &d.segs[r.first], &d.segs[r.end-1]
	d.fan(ray{reach: i, seg: r.first, other: r.first, from: s.a, left: true}, math.Atan2(s.uy, s.ux)+math.Pi/2, math.Pi)
	d.fan(ray{reach: i, seg: r.end - 1, other: r.end - 1, along: t.length, from: t.b, left: true}, math.Atan2(t.uy, t.ux)-math.Pi/2, math.Pi)
}

// fan takes sections about a point, a spacing apart a metre out.
func (d *digger) fan(q ray, start, sweep float64) {
	count := max(1, math.Ceil(math.Abs(sweep)/d.spacing))
	q.spread, q.limit = math.Abs(sweep)/count, math.Inf(1)
	section := func(share float64) Earth {
		sin, cos := math.Sincos(start + share*sweep/count)
		q.dx, q.dy = cos, sin
		return d.strip(q)
	}
	first := section(0)
	for j := 0.0; j < count; j++ {
		last := section(j + 1)
		d.put(q.reach, q.seg, q.along, [3]Earth{first, section(j + 0.5), last})
		first = last
	}
}

// put adds the earth of a strip that starts, is half way and ends with three
// sections, each of which is an area times how wide the strip is there [m³].
func (d *digger) put(i, k int, along float64, at [3]Earth) {
	if at == [3]Earth{} {
		return
	}
	f, s := &d.lines[d.segs[k].line], &d.segs[k]
	dig := Dig{ID: f.ID, Chainage: s.start + along}
	if i != f.reach {
		dig.Chainage = d.chainage(f.reach, s.place(along))
	}
	dig.AverageEnd = Earth{AverageEnd(1, at[0].Cut, at[2].Cut), AverageEnd(1, at[0].Fill, at[2].Fill)}
	dig.Prismoidal = Earth{Prismoidal(1, at[0].Cut, at[1].Cut, at[2].Cut), Prismoidal(1, at[0].Fill, at[1].Fill, at[2].Fill)}
	d.digs = append(d.digs, dig)
}

// chainage returns how far along a reach's line a place lies [m].
func (n *Network) chainage(i int, p orb.Point) float64 {
	r := &n.reaches[i]
	chainage, least := 0.0, math.Inf(1)
	for k := r.first; k < r.end; k++ {
		if along, square := n.segs[k].near(p); square < least {
			chainage, least = n.segs[k].start+along, square
		}
	}
	return chainage
}
