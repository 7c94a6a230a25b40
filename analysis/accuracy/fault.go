package accuracy

import (
	"cmp"
	"context"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// A Sort is what sort of fault a measurement has.
type Sort uint8

// The sorts of faults, those of a whole file first.
const (
	// AllAlike: all heights of a file are the same.
	AllAlike Sort = iota
	// OddUnit: a file's heights are so many times those of another beside it.
	OddUnit
	// Shifted: a file's heights lie steadily above or below those of another.
	Shifted
	// Astray: a file or a point lies far from all others.
	Astray
	// NoHeight: a line or a point whose height is not known.
	NoHeight
	// OddHeight: a contour out of step with those around it.
	OddHeight
	// Crossing: two lines cross at different heights.
	Crossing
	// Repeated: a line or a point that is there twice, alike.
	Repeated
	// Duplicate: two heights for one place.
	Duplicate
	// Blunder: a point far off the surface of its neighbours.
	Blunder
	// Against: a point that cannot lie where it does among the contours.
	Against
)

func (s Sort) String() string {
	return [...]string{
		"heights all alike", "another unit", "shifted heights", "far away", "no height", "odd height",
		"crossing lines", "measured twice", "two heights for one place", "off its neighbours", "against the contours",
	}[s]
}

// A Fault is something wrong with a survey.
type Fault struct {
	Sort Sort
	// At is where it is.
	At orb.Point
	// Sources, Lines and Spots are the places in the survey of what LeftOut leaves
	// out for this fault; Beside are lines that are named with it and stay.
	Sources, Lines, Spots, Beside []int
	// Off is by how much heights are off or differ [m]; 0 where that says nothing.
	Off float64
	// Says is one sentence with what is wrong and what to do.
	Says string
	// Leave is set where leaving it out is what is proposed.
	Leave bool
}

// Faults returns what is wrong with the measurements of a survey that are not left
// out, the gravest sorts first.
func Faults(ctx context.Context, s survey.Survey) ([]Fault, error) {
	k := &check{Survey: s, ctx: ctx, odd: map[int]bool{}, off: map[int]bool{}}
	for _, look := range []func() error{k.far, k.files, k.lines, k.crossings, k.spots, k.against} {
		if err := look(); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(k.faults, func(a, b Fault) int { return cmp.Compare(a.Sort, b.Sort) })
	return k.faults, ctx.Err()
}

// LeftOut returns the survey with Out set on what the faults name.
func LeftOut(s survey.Survey, faults []Fault) survey.Survey {
	lines, spots := slices.Clone(s.Lines), slices.Clone(s.Spots)
	sources := make([]bool, len(s.Sources))
	for _, f := range faults {
		for _, i := range f.Lines {
			lines[i].Out = true
		}
		for _, i := range f.Spots {
			spots[i].Out = true
		}
		for _, i := range f.Sources {
			sources[i] = true
		}
	}
	gone := func(source int) bool { return source >= 0 && source < len(sources) && sources[source] }
	for i := range lines {
		lines[i].Out = lines[i].Out || gone(lines[i].Source)
	}
	for i := range spots {
		spots[i].Out = spots[i].Out || gone(int(spots[i].Source))
	}
	s.Lines, s.Spots = lines, spots
	return s
}
