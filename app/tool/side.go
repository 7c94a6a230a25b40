package tool

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
)

// A Side leads from the last point put down to the pointer.
type Side struct {
	From, To orb.Point
	// Radius is set where it is the radius of a circle.
	Radius bool
	// Grade is the rise of the ground over the side's length [m/m]; NaN where the
	// ground is not known.
	Grade float64
}

func newSide(g grid.Ground, from, to orb.Point) *Side {
	s := &Side{From: from, To: to, Grade: math.NaN()}
	if run := s.Length(); run > 0 {
		s.Grade = (grid.Sample(g, to) - grid.Sample(g, from)) / run
	}
	return s
}

// Length returns the side's length [m].
func (s Side) Length() float64 { return planar.Distance(s.From, s.To) }

// Bearing returns where the side leads, in degrees clockwise from grid north, from
// 0 to below 360.
func (s Side) Bearing() float64 {
	b := math.Atan2(s.To[0]-s.From[0], s.To[1]-s.From[1]) * 180 / math.Pi
	return math.Mod(b+360, 360)
}

// At returns the end of a side of a length [m] and a bearing from the same point.
func (s Side) At(length, bearing float64) orb.Point {
	sin, cos := math.Sincos(bearing * math.Pi / 180)
	return orb.Point{s.From[0] + length*sin, s.From[1] + length*cos}
}

// A Fall is how the ground falls along a line.
type Fall struct {
	// Drop is how much lower its end is than its start [m].
	Drop float64
	// Mean is the drop over the line's length [m/m], and Steepest the greatest
	// rise or fall over a stretch of it, by its size [m/m].
	Mean, Steepest float64
	// Stretch is how long such a stretch is [m].
	Stretch float64
}

// mostStretches is how many stretches a line is parted into at most.
const mostStretches = 4000

// NewFall measures the fall of a ground along a line, in stretches of two cells
// and 1 m at least; ok is false where the line leaves the ground.
func NewFall(g grid.Ground, line orb.LineString) (f Fall, ok bool) {
	length := planar.Length(line)
	if length == 0 || g.Len() == 0 {
		return f, false
	}
	n := int(max(1, min(mostStretches, length/max(1, 2*g.DX))))
	f.Stretch = length / float64(n)
	first, before := math.NaN(), math.NaN()
	for i, p := range evenly(line, f.Stretch, n) {
		z := grid.Sample(g, p)
		if math.IsNaN(z) {
			return f, false
		}
		if i == 0 {
			first = z
		} else {
			f.Steepest = max(f.Steepest, math.Abs(z-before)/f.Stretch)
		}
		before = z
	}
	f.Drop = first - before
	f.Mean = f.Drop / length
	return f, true
}

// evenly returns n+1 places along a line, so far apart [m], from its start.
func evenly(line orb.LineString, apart float64, n int) []orb.Point {
	places := []orb.Point{line[0]}
	walked := 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		d := planar.Distance(a, b)
		for len(places) < n && float64(len(places))*apart <= walked+d && d > 0 {
			t := (float64(len(places))*apart - walked) / d
			places = append(places, orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])})
		}
		walked += d
	}
	return append(places, line[len(line)-1])
}
