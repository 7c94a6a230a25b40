package groundwork

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/accuracy"
	"runnel/geo/survey"
)

// widest is how wide a survey may be, and remotest how far from the origin of its
// system its places may lie [m]: no plot is so large, and no projected system so wide.
const (
	widest   = 200e3
	remotest = 1e8
)

// absurd reports whether no plot of ground can have such a box.
func absurd(b orb.Bound) bool {
	for _, v := range []float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]} {
		if !(math.Abs(v) <= remotest) {
			return !b.IsEmpty()
		}
	}
	return b.Max[0]-b.Min[0] > widest || b.Max[1]-b.Min[1] > widest
}

// used returns a survey without what is left out.
func used(s survey.Survey) survey.Survey {
	s.Lines, s.Spots = slices.Clone(s.Lines), slices.Clone(s.Spots)
	s.Lines = slices.DeleteFunc(s.Lines, func(l survey.Line) bool { return l.Out })
	s.Spots = slices.DeleteFunc(s.Spots, func(p survey.Spot) bool { return p.Out })
	return s
}

// spread says why a ground cannot be made of what is used of a survey, by where it
// lies: too far apart, or on one line.
func spread(s survey.Survey, faults []accuracy.Fault) error {
	if s = used(s); !s.Measured() {
		return errors.New("all that was measured is left out; keep some of it to make a ground of")
	}
	if !heights(s) {
		return errors.New("no height is known of what was measured; say which field or column holds them, or type them in")
	}
	if absurd(s.Bound()) {
		return remote(s, faults)
	}
	if inLine(s) {
		return errors.New("all that was measured lies on one straight line, or is fewer than three points; a ground needs three points that are not in line")
	}
	return nil
}

// heights reports whether any height of a survey is known.
func heights(s survey.Survey) bool {
	return slices.ContainsFunc(s.Lines, func(l survey.Line) bool { return l.Use != survey.Edge && l.Known() }) ||
		slices.ContainsFunc(s.Spots, func(p survey.Spot) bool { return !math.IsNaN(p.Z) })
}

// remote names what lies far off the rest.
func remote(s survey.Survey, faults []accuracy.Fault) error {
	for _, f := range faults {
		if f.Sort == accuracy.Astray && len(f.Sources) == 1 {
			return fmt.Errorf("%s lies too far from the other files for one ground; give it the coordinate system that it is in, or leave the file out", s.Sources[f.Sources[0]].Name)
		}
	}
	middle := centre(s)
	most, err := -1.0, error(nil)
	further := func(p orb.Point) bool {
		d := math.Hypot(p[0]-middle[0], p[1]-middle[1])
		if math.IsNaN(d) {
			d = math.Inf(1)
		}
		if d <= most {
			return false
		}
		most = d
		return true
	}
	for _, l := range s.Lines {
		if slices.ContainsFunc(l.At, further) {
			err = fmt.Errorf("line %d of %s lies far off all else that was measured; correct its coordinates, or leave it out", l.Number, s.Sources[l.Source].Name)
		}
	}
	for _, p := range s.Spots {
		if further(p.At) {
			err = fmt.Errorf("row %d of %s lies far off all else that was measured; correct its coordinates, or leave it out", p.Row, s.Sources[p.Source].Name)
		}
	}
	return err
}

// Unchecked reports whether nothing of a survey could be held out, so that how far its
// ground is off is not known. A ground over a raster has the error of that.
func Unchecked(s survey.Survey) bool {
	raster := func(f survey.Source) bool { return f.Form == survey.Raster }
	return s.Quality.HeldOut == 0 && !slices.ContainsFunc(s.Sources, raster)
}

// places lists where all was measured.
func places(s survey.Survey) (at []orb.Point) {
	for _, l := range s.Lines {
		at = append(at, l.At...)
	}
	for _, p := range s.Spots {
		at = append(at, p.At)
	}
	return at
}

// centre returns the middle east and the middle north of all that was measured.
func centre(s survey.Survey) orb.Point {
	var x, y []float64
	for _, p := range places(s) {
		x, y = append(x, p[0]), append(y, p[1])
	}
	slices.Sort(x)
	slices.Sort(y)
	return orb.Point{x[len(x)/2], y[len(y)/2]}
}

// straight is how far off a line all may lie and still be in it, as a share of its
// length.
const straight = 1e-6

// inLine reports whether all heights lie on one straight line.
func inLine(s survey.Survey) bool {
	s.Lines = slices.DeleteFunc(s.Lines, func(l survey.Line) bool { return l.Use == survey.Edge || !l.Known() })
	at := places(s)
	if len(at) == 0 {
		return true
	}
	first, end, long := at[0], at[0], 0.0
	for _, p := range at {
		if d := math.Hypot(p[0]-first[0], p[1]-first[1]); d > long {
			end, long = p, d
		}
	}
	return !slices.ContainsFunc(at, func(p orb.Point) bool {
		across := (end[0]-first[0])*(p[1]-first[1]) - (end[1]-first[1])*(p[0]-first[0])
		return math.Abs(across) > straight*long*long
	})
}
