package channel

import (
	"math"
	"slices"
)

// steepest is the least side slope that is worked with [H:V]: a wall, leaning a
// millimetre in a metre, so that every bank has a foot and a top.
const steepest = 0.001

// A Form is the shape of a section that is not surveyed.
type Form uint8

// A Trapezoid has a flat bed between straight banks. Rounded is a bed in a parabola
// on either side of the line, as wide as the bed and as steep at its edge as the
// bank that it meets there. With banks of a slope m that edge lies b/4m above the middle
// of a bed of width b, so that steep banks make a slit of it; that is a Problem.
const (
	Trapezoid Form = iota
	Rounded
)

// A Section is a channel's shape across its line: a trapezoid, a rounded one, or a
// surveyed line. The zero Section holds no water. Where heights and depths are
// spoken of, they are above the bed on the line.
type Section struct {
	// Bed is the width of the bed [m].
	Bed float64
	// Left and Right are the slopes of the banks [H:V], seen down the line;
	// nought is a wall. They carry a surveyed line on beyond its ends.
	Left, Right float64
	Form        Form
	// Line is a surveyed section, from left to right, in place of bed and form. It
	// is not changed once set.
	Line []Point
}

// A Point is one of a surveyed section: how far from the channel's line [m],
// negative to the left, and how high above its bed [m].
type Point struct{ Off, Height float64 }

// A half is one half of a section that is not surveyed: half the bed's width [m]
// and the slope [H:V].
type half struct {
	bed, side float64
	form      Form
}

func (s *Section) halves() [2]half {
	return [2]half{{s.Bed / 2, s.Left, s.Form}, {s.Bed / 2, s.Right, s.Form}}
}

// edge is how high a rounded bed has risen at its edge [m].
func (h half) edge() float64 { return h.bed / (2 * max(h.side, steepest)) }

// height returns the height [m] at a distance from the line [m].
func (h half) height(off float64) float64 {
	switch {
	case h.form == Rounded && off < h.bed:
		return off * off / (2 * h.bed * max(h.side, steepest))
	case h.form == Rounded:
		return h.edge() + (off-h.bed)/max(h.side, steepest)
	case off <= h.bed:
		return 0
	}
	return (off - h.bed) / max(h.side, steepest)
}

// wet returns width, area and wetted length of the half at depth y > 0 [m, m², m].
// The length of a parabola's arc is that of [Chow1959] table 2-1, not rounded.
func (h half) wet(y float64) (width, area, length float64) {
	width = h.bed
	if h.form == Rounded && h.bed > 0 {
		rise := min(y, h.edge())
		width = math.Sqrt(2 * rise * h.bed * max(h.side, steepest))
		slope := width / (h.bed * max(h.side, steepest))
		area, length = width*rise*2/3, width/2*(math.Hypot(1, slope)+math.Asinh(slope)/slope)
		y -= rise
	} else {
		length = width
	}
	area += (width + h.side*y/2) * y
	return width + h.side*y, area, length + y*math.Hypot(1, h.side)
}

// Height returns the height above the bed on the line [m] at an offset from it
// [m], negative to the left.
func (s *Section) Height(off float64) float64 {
	if len(s.Line) > 0 {
		return s.surveyedHeight(off)
	}
	side := s.Right
	if off < 0 {
		off, side = -off, s.Left
	}
	return half{s.Bed / 2, side, s.Form}.height(off)
}

func (s *Section) surveyedHeight(off float64) float64 {
	first, last := s.Line[0], s.Line[len(s.Line)-1]
	switch {
	case off <= first.Off:
		return first.Height + (first.Off-off)/max(s.Left, steepest)
	case off >= last.Off:
		return last.Height + (off-last.Off)/max(s.Right, steepest)
	}
	i := 1
	for s.Line[i].Off < off {
		i++
	}
	a, b := s.Line[i-1], s.Line[i]
	return a.Height + (b.Height-a.Height)*(off-a.Off)/(b.Off-a.Off)
}

// wetted returns top width, area and wetted perimeter at depth y [m, m², m].
func (s *Section) wetted(y float64) (width, area, length float64) {
	switch {
	case len(s.Line) > 0:
		return s.wetSurveyed(y)
	case y <= 0:
		return 0, 0, 0
	}
	for _, h := range s.halves() {
		w, a, l := h.wet(y)
		width, area, length = width+w, area+a, length+l
	}
	return width, area, length
}

// wetSurveyed adds up the water below depth y over a surveyed line and over the
// banks that carry it on.
func (s *Section) wetSurveyed(y float64) (width, area, length float64) {
	add := func(a, b Point) {
		da, db := y-a.Height, y-b.Height
		if da <= 0 && db <= 0 {
			return
		}
		share := 1.0
		if da < 0 || db < 0 {
			share = max(da, db) / math.Abs(da-db)
		}
		da, db = max(0, da), max(0, db)
		run := share * (b.Off - a.Off)
		width, area, length = width+run, area+run*(da+db)/2, length+math.Hypot(run, db-da)
	}
	first, last := s.Line[0], s.Line[len(s.Line)-1]
	if rise := y - first.Height; rise > 0 {
		add(Point{first.Off - rise*max(s.Left, steepest), y}, first)
	}
	for i := 1; i < len(s.Line); i++ {
		add(s.Line[i-1], s.Line[i])
	}
	if rise := y - last.Height; rise > 0 {
		add(last, Point{last.Off + rise*max(s.Right, steepest), y})
	}
	return width, area, length
}

// Area returns the area of water [m²] at depth y [m] ([Chow1959] table 2-1).
func (s Section) Area(y float64) float64 {
	_, area, _ := s.wetted(y)
	return area
}

// WettedPerimeter returns the length of soil under water [m] at depth y [m].
func (s Section) WettedPerimeter(y float64) float64 {
	_, _, length := s.wetted(y)
	return length
}

// TopWidth returns the width of the water's surface [m] at depth y [m].
func (s Section) TopWidth(y float64) float64 {
	width, _, _ := s.wetted(y)
	return width
}

// HydraulicRadius returns area over wetted perimeter [m] at depth y [m]; nought
// where there is no water.
func (s Section) HydraulicRadius(y float64) float64 {
	_, area, length := s.wetted(y)
	if length == 0 {
		return 0
	}
	return area / length
}

// Between returns the section a share of the way, from 0 to 1, from s to t. Those
// of one form go over evenly in width and slopes; of others the heights at each
// offset do.
func (s Section) Between(t Section, share float64) Section {
	mix := func(a, b float64) float64 { return a + (b-a)*share }
	m := Section{Bed: mix(s.Bed, t.Bed), Left: mix(s.Left, t.Left), Right: mix(s.Right, t.Right), Form: s.Form}
	if s.alike(&t) {
		return m
	}
	// Where heights go over evenly, so do the rises of the banks.
	m.Left = 1 / mix(1/max(s.Left, steepest), 1/max(t.Left, steepest))
	m.Right = 1 / mix(1/max(s.Right, steepest), 1/max(t.Right, steepest))
	var offs []float64
	for _, x := range []*Section{&s, &t} {
		for _, p := range x.corners() {
			offs = append(offs, p.Off)
		}
	}
	slices.Sort(offs)
	for _, off := range slices.Compact(offs) {
		m.Line = append(m.Line, Point{off, mix(s.Height(off), t.Height(off))})
	}
	return m
}

// alike reports whether neither section is surveyed and both have one form.
func (s *Section) alike(t *Section) bool {
	return len(s.Line)+len(t.Line) == 0 && s.Form == t.Form
}

// chords is how many straight pieces stand for half a rounded bed.
const chords = 16

// corners lists the points between which a section is straight, or for a rounded
// one nearly so.
func (s *Section) corners() []Point {
	if len(s.Line) > 0 {
		return s.Line
	}
	pieces := 1
	if s.Form == Rounded {
		pieces = chords
	}
	var at []Point
	for i := -pieces; i <= pieces; i++ {
		off := s.Bed / 2 * float64(i) / float64(pieces)
		at = append(at, Point{off, s.Height(off)})
	}
	return at
}
