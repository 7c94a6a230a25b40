package view

import (
	"math"
	"sort"

	"github.com/paulmach/orb"
)

// A track is a line on the screen that letters are set along.
type track struct {
	points []orb.Point
	// at holds how far along the line each point is [px].
	at []float64
}

func newTrack(line []orb.Point) track {
	t := track{points: line, at: make([]float64, len(line))}
	for i := 1; i < len(line); i++ {
		t.at[i] = t.at[i-1] + apart(line[i-1], line[i])
	}
	return t
}

func (t track) length() float64 {
	if len(t.at) == 0 {
		return 0
	}
	return t.at[len(t.at)-1]
}

// point returns the place a distance along the track.
func (t track) point(s float64) orb.Point {
	i := sort.SearchFloat64s(t.at, s)
	switch {
	case i <= 0:
		return t.points[0]
	case i >= len(t.points):
		return t.points[len(t.points)-1]
	}
	span := t.at[i] - t.at[i-1]
	if span == 0 {
		return t.points[i]
	}
	return along(t.points[i-1], t.points[i], (s-t.at[i-1])/span)
}

// part returns the line from one distance to another.
func (t track) part(from, to float64) []orb.Point {
	line := []orb.Point{t.point(from)}
	for i, s := range t.at {
		if s > from && s < to {
			line = append(line, t.points[i])
		}
	}
	return append(line, t.point(to))
}

// The sharpest turns, from one letter to the next and in a whole word, at which
// letters along a line are still easy to read [radians].
const (
	sharpestLetter = 0.45
	sharpestWord   = 1.5
)

// closest is how near letters may come to each other on the inside of a bend, and
// loosest how far apart on its outside, as shares of their usual distance.
const (
	closest = 0.8
	loosest = 1.25
)

// bend sets letters along the track, centred on the distance s and rise pixels
// off it, reading left to right. It reports false where the track is too short
// or turns too sharply.
func (t track) bend(line letters, s, rise float64) ([]pose, bool) {
	start := s - line.width/2
	if start < 0 || start+line.width > t.length() {
		return nil, false
	}
	a, b := t.point(start), t.point(start+line.width)
	way := 1.0
	if b[0] < a[0] {
		way, start = -1, start+line.width
	}
	poses := make([]pose, 0, len(line.glyphs))
	var first, last float64
	for i, g := range line.glyphs {
		from, to := t.point(start+way*g.x), t.point(start+way*(g.x+g.advance))
		mid := t.point(start + way*(g.x+g.advance/2))
		angle := math.Atan2(to[1]-from[1], to[0]-from[0])
		if i > 0 && (turned(angle, last) > sharpestLetter || turned(angle, first) > sharpestWord) {
			return nil, false
		}
		if i == 0 {
			first = angle
		}
		last = angle
		sin, cos := math.Sincos(angle)
		p := pose{at: mid, sin: sin, cos: cos}
		p.at = p.place(-g.advance/2, -rise)
		if i > 0 {
			usual := g.x - line.glyphs[i-1].x
			if d := apart(p.at, poses[i-1].at); d < closest*usual || d > loosest*usual {
				return nil, false
			}
		}
		poses = append(poses, p)
	}
	return poses, true
}

func turned(a, b float64) float64 { return math.Abs(math.Remainder(a-b, 2*math.Pi)) }

// smooth rounds the corners of a line by cutting each at a quarter and three
// quarters of its sides, as often as asked (Chaikin 1974). The ends stay.
func smooth(line []orb.Point, times int) []orb.Point {
	for range times {
		if len(line) < 3 {
			return line
		}
		round := make([]orb.Point, 0, 2*len(line))
		round = append(round, line[0])
		for i := 1; i < len(line); i++ {
			a, b := line[i-1], line[i]
			if i > 1 {
				round = append(round, along(a, b, 0.25))
			}
			if i < len(line)-1 {
				round = append(round, along(a, b, 0.75))
			}
		}
		line = append(round, line[len(line)-1])
	}
	return line
}

// smoothRing rounds the corners of a closed ring; its last point repeats the first.
func smoothRing(ring []orb.Point, times int) []orb.Point {
	for range times {
		if len(ring) < 4 {
			return ring
		}
		round := make([]orb.Point, 0, 2*len(ring))
		for i := 1; i < len(ring); i++ {
			round = append(round, along(ring[i-1], ring[i], 0.25), along(ring[i-1], ring[i], 0.75))
		}
		ring = append(round, round[0])
	}
	return ring
}
