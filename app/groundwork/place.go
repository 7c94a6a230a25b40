package groundwork

import (
	"fmt"
	"math"

	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// Placed gives a daily record the site's place where it has none of its own: the
// latitude of the ground's middle and the mean of its heights, taken for metres above
// the sea. Where the site's reference system is not known, neither is the latitude.
func Placed(s *plan.Site, r weather.Record) (weather.Record, error) {
	if math.IsNaN(r.Elevation) {
		r.Elevation = meanHeight(s.Ground)
	}
	if !math.IsNaN(r.Latitude) || !s.CRS.Known() || s.Ground.Len() == 0 {
		return r, nil
	}
	move, release, err := gdal.NewTransform(s.CRS, crs.LonLat())
	if err != nil {
		return r, err
	}
	defer release()
	at, err := move(s.Ground.Bound().Center())
	if err != nil {
		return r, fmt.Errorf("the latitude of the site is not known: %w", err)
	}
	r.Latitude = at[1]
	return r, nil
}

// meanHeight is that of the cells with one [m]; NaN for none, and where no place on
// earth lies so.
func meanHeight(g grid.Ground) float64 {
	sum, n := 0.0, 0
	for _, z := range g.V {
		if z == z {
			sum += float64(z)
			n++
		}
	}
	mean := sum / float64(n)
	if mean < weather.Lowest || mean > weather.Highest {
		return math.NaN()
	}
	return mean
}
