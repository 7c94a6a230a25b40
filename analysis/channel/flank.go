package channel

import (
	"math"
	"slices"
)

// A stretch is a part of a line along which the section goes over evenly from one
// to another.
type stretch struct {
	from, to Section
	// start is its chainage [m].
	start, length float64
	alike         bool
	// corners are how far from the line the sections bend whose heights go over [m],
	// going up: those to the left, to the right, and both.
	corners [3][]float64
}

// newStretch returns the stretch between two sections set along a line.
func newStretch(a, b placed) *stretch {
	t := stretch{from: a.Section, to: b.Section, start: a.at, length: b.at - a.at, alike: a.alike(&b.Section)}
	if t.alike {
		return &t
	}
	for side := range t.corners {
		list := []float64{0}
		for _, p := range slices.Concat(t.from.corners(), t.to.corners()) {
			if p.Off < 0 && side != 1 || p.Off > 0 && side != 0 {
				list = append(list, math.Abs(p.Off))
			}
		}
		slices.Sort(list)
		t.corners[side] = slices.Compact(list)
	}
	return &t
}

// share returns how much of a stretch lies before a chainage, from 0 to 1.
func (t *stretch) share(chainage float64) float64 {
	return max(0, min(1, (chainage-t.start)/t.length))
}

// A flank is the section toward one side of a line, at one place along it.
type flank struct {
	// half is what holds where over is nil.
	half
	// over is the stretch whose sections' heights go over one into the other, share
	// how far they have.
	over  *stretch
	share float64
	// toward is 0 to the left and 1 to the right; round an end it goes evenly with
	// the angle from the one to the other.
	toward float64
}

// towards returns the side that a flank is on for side 1, the left, or -1.
func towards(side float64) float64 { return (1 - side) / 2 }

func (r *reach) flank(s *segment, along, toward float64) flank {
	if s.over == nil {
		return flank{half: r.section.half(toward), toward: toward}
	}
	share := s.over.share(s.start + along)
	if !s.over.alike {
		return flank{over: s.over, share: share, toward: toward}
	}
	a, b := s.over.from.half(toward), s.over.to.half(toward)
	return flank{half: half{a.bed + (b.bed-a.bed)*share, a.side + (b.side-a.side)*share, a.form}, toward: toward}
}

// half returns the half of a section that is not surveyed toward a side.
func (s *Section) half(toward float64) half {
	return half{s.Bed / 2, s.Left + (s.Right-s.Left)*toward, s.Form}
}

// height returns the height above the bed on the line [m] at a distance off [m].
func (f *flank) height(off float64) float64 {
	if f.over == nil {
		return f.half.height(off)
	}
	a, b := f.over.from.toward(off, f.toward), f.over.to.toward(off, f.toward)
	return a + (b-a)*f.share
}

// toward returns the height [m] at a distance from the line [m] toward a side.
func (s *Section) toward(off, toward float64) float64 {
	switch {
	case len(s.Line) == 0:
		return s.half(toward).height(off)
	case toward <= 0:
		return s.surveyedHeight(-off)
	case toward >= 1:
		return s.surveyedHeight(off)
	}
	left, right := s.surveyedHeight(-off), s.surveyedHeight(off)
	return left + (right-left)*toward
}

// slope returns that of the bank beyond the outermost corner [H:V].
func (f *flank) slope() float64 {
	if f.over == nil {
		return max(f.side, steepest)
	}
	a, b := f.over.from.rise(f.toward), f.over.to.rise(f.toward)
	return 1 / (a + (b-a)*f.share)
}

// rise returns how steep the bank toward a side is in the end [V:H].
func (s *Section) rise(toward float64) float64 {
	if len(s.Line) == 0 {
		return 1 / max(s.half(toward).side, steepest)
	}
	left, right := 1/max(s.Left, steepest), 1/max(s.Right, steepest)
	return left + (right-left)*toward
}

// corner returns how far off the line the bank begins to be straight [m].
func (f *flank) corner() float64 {
	if f.over == nil {
		return f.bed
	}
	corners := f.corners()
	return corners[len(corners)-1]
}

// corners lists the distances from the line at which a section of heights that go
// over bends [m].
func (f *flank) corners() []float64 {
	switch {
	case f.toward <= 0:
		return f.over.corners[0]
	case f.toward >= 1:
		return f.over.corners[1]
	}
	return f.over.corners[2]
}

// out returns how far off the line the bank reaches a height [m], where it does so
// last; of a height below all of it the outermost corner of its bed or the line.
func (f *flank) out(y float64) float64 {
	if f.over == nil {
		return f.half.out(y)
	}
	corners := f.corners()
	last := len(corners) - 1
	high := f.height(corners[last])
	if y >= high {
		return corners[last] + (y-high)*f.slope()
	}
	for i := last; i > 0; i-- {
		low := f.height(corners[i-1])
		if low <= y {
			return corners[i-1] + (corners[i]-corners[i-1])*(y-low)/(high-low)
		}
		high = low
	}
	return 0
}

func (h half) out(y float64) float64 {
	edge := 0.0
	if h.form == Rounded {
		if edge = h.edge(); y < edge {
			return math.Sqrt(2 * max(0, y) * h.bed * max(h.side, steepest))
		}
	}
	return h.bed + max(0, y-edge)*max(h.side, steepest)
}

// kinks adds the distances from the line, going up, between which the flank is
// straight or nearly so, as far as the edge of water of some depth [m].
func (f *flank) kinks(list []float64, depth float64) []float64 {
	switch edge := f.out(depth); {
	case f.over != nil:
		return append(append(list, f.corners()...), edge)
	case f.form == Rounded:
		wet := min(f.bed, edge)
		for i := 1.0; i <= chords; i++ {
			list = append(list, wet*i/chords)
		}
		return append(list, edge)
	default:
		return append(list, f.bed, edge)
	}
}

// lowest returns how far off the line the flank is lowest [m], where it lies below
// the bed on the line; else nought.
func (f *flank) lowest() float64 {
	off, low := 0.0, 0.0
	if f.over == nil {
		return 0
	}
	for _, c := range f.corners() {
		if z := f.height(c); z < low {
			off, low = c, z
		}
	}
	return off
}

// troughs lists the points of a surveyed section that are lower than those beside
// them; of some that are level the last.
func (s Section) troughs() []Point {
	var low []Point
	falls := true
	for i, p := range s.Line {
		if i > 0 && p.Height != s.Line[i-1].Height {
			falls = p.Height < s.Line[i-1].Height
		}
		if falls && (i+1 == len(s.Line) || s.Line[i+1].Height > p.Height) {
			low = append(low, p)
		}
	}
	return low
}

// lows returns the levels of the lowest places of the section at a segment's ends
// [m]: the bed's on the line, but of a surveyed section that is lower beside it.
func (s *segment) lows() (a, b float64) {
	if s.over == nil || s.over.alike {
		return s.bedA, s.bedB
	}
	return s.bedA + s.over.dip(s.start), s.bedB + s.over.dip(s.start+s.length)
}

// dip returns how high the lowest place of the section lies above the bed on the line
// at a chainage [m], less than nought where it is lower.
func (t *stretch) dip(chainage float64) float64 {
	dip := 0.0
	for _, toward := range []float64{0, 1} {
		f := flank{over: t, share: t.share(chainage), toward: toward}
		dip = min(dip, f.height(f.lowest()))
	}
	return dip
}
