// Package survey holds what was measured of a ground before it is a ground:
// contour lines, spot heights, breaklines, the edge of what was surveyed, and the
// record of the files that they came from.
//
// Positions are in the site's own metric system, east then north [m], and heights
// are metres above the datum that the source names. NaN is a height that is not
// known. A Survey's values are never changed in place: a change makes new slices, so
// that copies of a site share them.
package survey

import (
	"math"

	"github.com/paulmach/orb"
)

// A Survey is what a site's ground rests on. The zero Survey says nothing of it.
type Survey struct {
	Sources []Source
	Lines   []Line
	Spots   []Spot
	// Patches are parts of the ground where nothing was measured and heights were
	// worked out from around them.
	Patches []Patch
	Quality Quality
}

// A Form is what sort of measurements a source gave.
type Form uint8

// The forms.
const (
	Raster Form = iota
	Contours
	Points
)

func (f Form) String() string { return [...]string{"raster", "contours", "points"}[f] }

// A Source is one file of measurements. Lines, spots and patches refer to it by its
// place in Survey.Sources.
type Source struct {
	// Name is that of the file, without its folder.
	Name string
	Form Form
	// System names the reference system of the file's coordinates, and Unit and
	// Datum the unit of its heights, "m", "ft" or "us-ft", and what they are above;
	// empty is not known.
	System, Unit, Datum string
	// Count is how many lines, points or cells were taken.
	Count int
	// Cell is the size of a raster's own cell on the ground [m]; 0 for others.
	Cell float64
	// Error is the standard deviation of the source's heights as a person gave it
	// [m]; 0 is not given.
	Error float64
	// Codes are the point codes that occur, in the order of their first; Spot.Code
	// is a place in it.
	Codes []string
}

// A Use is what a line is to the ground.
type Use uint8

// The uses. The ground bends sharply along a break; a kerb is a break that is also
// drawn on the plan. Nothing is known beyond an edge.
const (
	Contour Use = iota
	Break
	Kerb
	Edge
)

func (u Use) String() string {
	return [...]string{"contour", "breakline", "kerb", "edge of the survey"}[u]
}

// A Line is one measured line.
type Line struct {
	At orb.LineString
	// Z are the heights [m]: one for all of a level line, else one for each point.
	// An edge may have none.
	Z []float64
	// Source is the place in Survey.Sources, and Number counts the lines of its
	// file from 1.
	Source, Number int
	Use            Use
	// Out is set where the line is left out of the ground, as a person agreed to.
	Out bool
}

// Level returns the height of a line that has one for all of its points, and NaN
// for others.
func (l Line) Level() float64 {
	if len(l.Z) == 1 {
		return l.Z[0]
	}
	return math.NaN()
}

// Height returns the height of point i; NaN where it is not known.
func (l Line) Height(i int) float64 {
	switch {
	case len(l.Z) == 1:
		return l.Z[0]
	case i < len(l.Z):
		return l.Z[i]
	}
	return math.NaN()
}

// Known reports whether all of a line's heights are known.
func (l Line) Known() bool {
	if len(l.Z) != 1 && len(l.Z) != len(l.At) {
		return false
	}
	for _, z := range l.Z {
		if math.IsNaN(z) {
			return false
		}
	}
	return len(l.Z) > 0
}

// A Spot is one measured height.
type Spot struct {
	At orb.Point
	// Z is its height [m].
	Z float64
	// Row counts the rows or points of its file from 1.
	Row int32
	// Source is the place in Survey.Sources and Code one in Source.Codes, -1 for none.
	Source, Code int16
	// Out is set where the spot is left out of the ground, as a person agreed to.
	Out bool
}

// A Why says for what reason heights of a patch were worked out.
type Why uint8

// A void had no data; under a building or trees a surface model shows their tops.
const (
	Void Why = iota
	Building
	Trees
)

func (w Why) String() string { return [...]string{"void", "building", "trees"}[w] }

// A Patch is a part of the ground whose heights were worked out from around it.
type Patch struct {
	Outline orb.Polygon
	Why     Why
}

// Quality is how well a ground is known, as it was found when it was made. The zero
// Quality was not looked into.
type Quality struct {
	// Tension is what the surface was made with, from 0, the smoothest, to 1.
	Tension float64
	// HeldOut is how many measurements were kept back in turn and compared with the
	// surface of the others; 0 where none were. RMSE, Bias and Worst are of those
	// differences, surface less measured [m].
	HeldOut           int
	RMSE, Bias, Worst float64
	// Error is the standard deviation of the ground's heights that is reckoned with
	// [m], and Reach how far such an error reaches before it changes [m].
	Error, Reach float64
}

// Empty reports whether nothing is known of what the ground rests on.
func (s Survey) Empty() bool { return len(s.Sources) == 0 && len(s.Patches) == 0 }

// Measured reports whether the survey holds lines or spots, from which the ground
// can be made anew.
func (s Survey) Measured() bool { return len(s.Lines) > 0 || len(s.Spots) > 0 }

// LeftOut counts the lines and spots that are left out.
func (s Survey) LeftOut() (n int) {
	for _, l := range s.Lines {
		if l.Out {
			n++
		}
	}
	for _, p := range s.Spots {
		if p.Out {
			n++
		}
	}
	return n
}

// Bound returns the rectangle around the lines and spots; it is empty, as orb says
// it, where there are none.
func (s Survey) Bound() orb.Bound {
	b := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, l := range s.Lines {
		for _, p := range l.At {
			b = b.Extend(p)
		}
	}
	for _, p := range s.Spots {
		b = b.Extend(p.At)
	}
	return b
}

// Joined returns one survey of both; the second's references to sources move up.
func (s Survey) Joined(t Survey) Survey {
	shift := len(s.Sources)
	joined := Survey{
		Sources: append(append([]Source(nil), s.Sources...), t.Sources...),
		Lines:   append(append([]Line(nil), s.Lines...), t.Lines...),
		Spots:   append(append([]Spot(nil), s.Spots...), t.Spots...),
		Patches: append(append([]Patch(nil), s.Patches...), t.Patches...),
		Quality: s.Quality,
	}
	for i := len(s.Lines); i < len(joined.Lines); i++ {
		joined.Lines[i].Source += shift
	}
	for i := len(s.Spots); i < len(joined.Spots); i++ {
		joined.Spots[i].Source += int16(shift)
	}
	return joined
}
