package accuracy

import "runnel/geo/survey"

// common are the errors of rasters by the size of their cell, as is common: laser
// surveys of a metre's cell and less are held to an RMSE of 0.10 m on open ground
// (the second level of quality of the United States' base specification of laser
// surveys); cells of 2 m are of thinner laser or of photogrammetry; of 5 m and 10 m of
// photogrammetry, radar from aircraft, or contours, national models of 10 m being off
// by some 1.5 m; and open models of the whole world by 2 m to 5 m at 30 m. All from
// memory of their publishers' figures, and more under trees and on slopes.
var common = []struct{ cell, error float64 }{
	{1, 0.10}, {2, 0.15}, {5, 0.5}, {10, 1.5}, {30, 3}, {90, 5},
}

// OfRaster returns the accuracy of a raster of heights by the size of its own cell
// [m]; an error that a person gave [m] goes before what is common. Errors reach over
// three cells: neighbouring cells share the points they were made from.
func OfRaster(cell, given float64) survey.Quality {
	q := survey.Quality{Error: common[len(common)-1].error, Reach: 3 * cell}
	for i := len(common) - 1; i >= 0 && cell <= common[i].cell; i-- {
		q.Error = common[i].error
	}
	if given > 0 {
		q.Error = given
	}
	return q
}
