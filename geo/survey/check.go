package survey

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Check reports a survey that cannot be: a position that is not finite, or a
// reference to a source or a code that is not there. What to do is the caller's to say.
func (s Survey) Check() error {
	for i, l := range s.Lines {
		if err := s.checkLine(l); err != nil {
			return fmt.Errorf("measured line %d %w", i+1, err)
		}
	}
	for i, p := range s.Spots {
		if err := s.checkSpot(p); err != nil {
			return fmt.Errorf("measured point %d %w", i+1, err)
		}
	}
	for i, p := range s.Patches {
		if p.Why > Trees {
			return fmt.Errorf("part %d of the ground that was worked out does not say why", i+1)
		}
		for _, ring := range p.Outline {
			if !finite(ring...) {
				return fmt.Errorf("part %d of the ground that was worked out has no place", i+1)
			}
		}
	}
	return nil
}

func (s Survey) checkLine(l Line) error {
	switch {
	case !finite(l.At...):
		return fmt.Errorf("has no place")
	case len(l.Z) > 1 && len(l.Z) != len(l.At):
		return fmt.Errorf("has %d heights for %d points", len(l.Z), len(l.At))
	case l.Source < 0 || l.Source >= len(s.Sources):
		return fmt.Errorf("is of no known file")
	case l.Use > Edge:
		return fmt.Errorf("has no known use")
	}
	return nil
}

func (s Survey) checkSpot(p Spot) error {
	switch {
	case !finite(p.At):
		return fmt.Errorf("has no place")
	case p.Source < 0 || int(p.Source) >= len(s.Sources):
		return fmt.Errorf("is of no known file")
	case p.Code < -1 || int(p.Code) >= len(s.Sources[p.Source].Codes):
		return fmt.Errorf("has a code that its file does not list")
	}
	return nil
}

func finite(points ...orb.Point) bool {
	for _, p := range points {
		if math.IsNaN(p[0]-p[0]) || math.IsNaN(p[1]-p[1]) {
			return false
		}
	}
	return true
}

// Is reports whether two surveys share all of their values, so that they are one;
// two of the same content that were made apart are not.
func (s Survey) Is(t Survey) bool {
	return same(s.Sources, t.Sources) && same(s.Lines, t.Lines) && same(s.Spots, t.Spots) &&
		same(s.Patches, t.Patches) && s.Quality == t.Quality
}

func same[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}
