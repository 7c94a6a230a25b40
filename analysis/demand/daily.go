package demand

// Coefficients of [Allen1998] table 12: open water less than 2 m deep, or in a climate
// neither dry nor damp; and cool-season grass in the middle of its growth.
const (
	waterCoefficient = 1.05
	grassCoefficient = 0.95
)

// OpenWater is what evaporates from water by day [mm], of the reference.
func OpenWater(et []float64) []float64 { return times(et, waterCoefficient) }

// RootsDaily is what plants would take by day of soil that water has stood on [mm]: that
// of grass, whatever grows there.
func RootsDaily(et []float64) []float64 { return times(et, grassCoefficient) }

func times(et []float64, by float64) []float64 {
	all := make([]float64, len(et))
	for i, v := range et {
		all[i] = by * v
	}
	return all
}
