package soil

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"runnel/geo"
)

// What is believed of how much the conductivity of a soil differs from place to place
// before any test: a coefficient of variation of 1, within the 0.5 to 4 that
// [WarrickNielsen1980] list for fields (from memory), and lognormal as they found it.
// That it counts as much as four tests is a choice of our own.
const (
	believedVariance = math.Ln2 // of the logarithm: ln(1 + CV²)
	believedTests    = 4
)

// Spread returns the conductivity of a soil that was tested in some places [mm/h]: the
// geometric mean as likely, and the 90 % range of it, by Student's t on the logarithms.
// The variance is that of the tests and the one believed before them, pooled, so
// that two tests which happen to agree are not believed too far. A single test has a range
// of about a sixth to six times what it found.
func Spread(found []float64) geo.Range {
	if len(found) == 0 {
		return unknown
	}
	n := float64(len(found))
	mean, squares := 0.0, 0.0
	for _, k := range found {
		mean += math.Log(k) / n
	}
	for _, k := range found {
		squares += (math.Log(k) - mean) * (math.Log(k) - mean)
	}
	freedom := believedTests + n - 1
	variance := (believedTests*believedVariance + squares) / freedom
	t := distuv.StudentsT{Sigma: 1, Nu: freedom}.Quantile(0.95)
	half := t * math.Sqrt(variance/n)
	return geo.Range{Low: math.Exp(mean - half), Likely: math.Exp(mean), High: math.Exp(mean + half)}
}
