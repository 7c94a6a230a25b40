package surface

import (
	"errors"
	"fmt"
	"math"

	"runnel/geo/grid"
	"runnel/geo/survey"
)

const (
	// finest and coarsest bound the cell that is chosen [m].
	finest, coarsest = 0.1, 50
	// mostChosen is how many cells a chosen cell leads to at most.
	mostChosen = 1_500_000
)

// FrameFor returns a square-celled frame round what was measured, its edges at whole
// multiples of the cell [m]. A cell of 0 is chosen: a sixth of how far apart lines lie,
// so that contours that run close together still have cells between them, or half of how
// far apart points do, as 1, 2 or 5 times a power of ten.
func FrameFor(s survey.Survey, cell float64) (grid.Frame, error) {
	b := s.Bound()
	switch {
	case b.IsEmpty():
		return grid.Frame{}, errors.New("the survey holds no lines and no points; give contours or points that have heights")
	case cell < 0 || math.IsNaN(cell) || math.IsInf(cell, 0):
		return grid.Frame{}, fmt.Errorf("the cell is %g m; give a size above 0, or 0 to have one chosen", cell)
	case cell == 0:
		cell = cellFor(s)
	}
	west, north := math.Floor(b.Min[0]/cell+1e-6), math.Ceil(b.Max[1]/cell-1e-6)
	w := max(math.Ceil(b.Max[0]/cell-1e-6)-west, 1)
	h := max(north-math.Floor(b.Min[1]/cell+1e-6), 1)
	if w*h > grid.MaxCells {
		return grid.Frame{}, fmt.Errorf("the ground would have %.0f by %.0f cells of %g m, more than the %d million that fit in memory; choose a larger cell or a smaller part",
			w, h, cell, grid.MaxCells/1_000_000)
	}
	f := grid.Square(int(w), int(h), west*cell, north*cell, cell)
	return f, f.Check()
}

// cellFor returns the cell that suits a survey.
func cellFor(s survey.Survey) float64 {
	b := s.Bound()
	wide, high := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	area := wide * high
	length, points := 0.0, 0.0
	for _, l := range s.Lines {
		if l.Out || l.Use == survey.Edge {
			continue
		}
		for i := 1; i < len(l.At); i++ {
			length += math.Hypot(l.At[i][0]-l.At[i-1][0], l.At[i][1]-l.At[i-1][1])
		}
	}
	for _, q := range s.Spots {
		if !q.Out {
			points++
		}
	}
	if !(area > 0) {
		return 1
	}
	cell := min(max(rounded(1/(6*length/area+2*math.Sqrt(points/area))), finest), coarsest)
	for area/(cell*cell) > mostChosen {
		cell = rounded(cell * 2.5)
	}
	return cell
}

// rounded returns the largest 1, 2 or 5 times a power of ten that is not above v.
func rounded(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(v)+1e-9))
	for _, k := range [2]float64{5, 2} {
		if k*ten <= v*(1+1e-9) {
			return k * ten
		}
	}
	return ten
}
