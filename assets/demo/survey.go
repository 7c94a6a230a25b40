package demo

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/survey"
)

// A Shot is one height as a person with a level or a receiver would have measured it
// on the site: its place in the site's reference system, its height [m], and the code
// that was typed for it.
type Shot struct {
	Number int
	At     orb.Point
	Z      float64
	Code   string
}

// The codes of shots. Those of one line follow one another along it.
const (
	GroundCode = "GROUND"
	KerbCode   = "KERB" // along the edge of the lane
	BedCode    = "BED"  // along the bed of the drain
	EdgeCode   = "EDGE" // round what was measured
)

const (
	shotSpacing = 4.5  // between shots on open ground [m]
	shotNoise   = 0.01 // how far off a shot's height may be at most [m]
	shotDatum   = "an invented level"
	// mistaken is the place among the shots of the one whose staff was misread, and
	// misread by how much [m].
	mistaken, misread = 131, 1.0
)

// Mistaken is the number of the shot that is planted a metre too high, for people to
// find.
const Mistaken = mistaken + 1

// Shots returns a small survey of the site by points: open ground in rows that are
// not quite straight, and the lines along which the ground bends.
func Shots() []Shot {
	var s shots
	for v := 2.0; v < rows*cell-1; v += shotSpacing {
		for u := 2.0; u < columns*cell-1; u += shotSpacing {
			i, j := int64(u*16), int64(v*16)
			s.take(orb.Point{u + 0.9*lattice(i, j, 21), v + 0.9*lattice(i, j, 22)}, GroundCode)
		}
	}
	s.follow(onSite(beside(laneLine, laneHalf)), 4, KerbCode)
	s.follow(onSite(drainLine), 3, BedCode)
	b := site.Pad(-0.5)
	first := len(s)
	s.follow(orb.LineString(b.ToRing()), 6, EdgeCode)
	s[len(s)-1].Z = s[first].Z // it ends on the shot that it began with
	s[mistaken].Z = millimetre(s[mistaken].Z + misread)
	return s
}

type shots []Shot

// take measures one place, given in metres from the site's corner.
func (s *shots) take(p orb.Point, code string) {
	off := shotNoise * lattice(int64(len(*s)), int64(code[0]), 23)
	*s = append(*s, Shot{Number: len(*s) + 1, At: at(p), Z: millimetre(height(p[0], p[1]) + off), Code: code})
}

// follow measures along a line, a place about every so many metres and both ends.
func (s *shots) follow(line orb.LineString, every float64, code string) {
	walked, next := 0.0, 0.0
	for i, p := range line {
		if i > 0 {
			walked += planar.Distance(line[i-1], p)
		}
		long := i > 0 && planar.Distance(line[i-1], p) > every
		if long { // a long straight side is measured on the way too
			s.between(line[i-1], p, every, code)
		}
		if walked >= next || long || i == len(line)-1 {
			s.take(p, code)
			next = walked + every
		}
	}
}

// between measures places on a straight side, its ends left out.
func (s *shots) between(a, b orb.Point, every float64, code string) {
	n := int(planar.Distance(a, b)/every) + 1
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		s.take(orb.Point{mix(a[0], b[0], t), mix(a[1], b[1], t)}, code)
	}
}

// record says what the site's ground rests on: it is invented, and taken to be as
// good as a careful survey by drone.
func record() survey.Survey {
	const off, reach = 0.02, 5
	return survey.Survey{
		Sources: []survey.Source{{
			Name: "Invented ground", Form: survey.Raster, System: system.String(), Unit: "m", Datum: shotDatum,
			Count: columns * rows, Cell: cell, Error: off,
		}},
		Quality: survey.Quality{Error: off, Reach: reach},
	}
}
