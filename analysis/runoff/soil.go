package runoff

import "runnel/geo/grid"

// BeforeSoaking returns what comes up in each cell [m for each m of rain] before
// any soaks in, and which cells take water in. It is for where the soil's own rate
// counts what soaks: Weight counts that already, by the coefficients of covers. So
// all the rain on open ground comes up, and that on roofs and paving as in Weight.
func (s *Surface) BeforeSoaking() (weight []float64, open []bool) {
	weight, open = make([]float64, len(s.Weight)), make([]bool, len(s.Weight))
	for c, z := range s.Ground.V {
		if !grid.IsNoData(z) {
			weight[c], open[c] = 1, true
		}
	}
	for _, source := range s.Sources {
		own := source.Coefficient
		if len(source.Outlet) > 0 {
			own = 0
		}
		for _, c := range source.Cells {
			weight[c], open[c] = own, false
		}
	}
	for _, source := range s.Sources {
		for i, c := range source.Outlet {
			weight[c] += source.Area * source.Coefficient * source.Share[i] / s.Ground.CellArea()
		}
	}
	return weight, open
}
