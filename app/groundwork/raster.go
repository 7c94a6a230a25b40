package groundwork

import (
	"runnel/analysis/accuracy"
	"runnel/geo/survey"
)

// OfRasters returns what a ground of elevation rasters rests on. How good it is goes by
// the coarsest of them.
func OfRasters(sources []survey.Source) survey.Survey {
	s := survey.Survey{Sources: sources}
	cell, given := 0.0, 0.0
	for _, f := range sources {
		cell, given = max(cell, f.Cell), max(given, f.Error)
	}
	if cell > 0 {
		s.Quality = accuracy.OfRaster(cell, given)
	}
	return s
}
