package groundwork

import (
	"math"
	"testing"

	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// On the central meridian of a UTM zone the northing is 0.9996 of the meridian's arc;
// that from the equator to 45° is 4,984,944.378 m on WGS 84 (from memory: Snyder 1987,
// USGS Professional Paper 1395, equation 3-21 for the ellipsoid's axes).
func TestARecordIsGivenTheSitesPlace(t *testing.T) {
	g := grid.Parse("100 104", "102 .")
	g.Frame = grid.Square(2, 2, 499_999, 0.9996*4_984_944.378+1, 1)
	s := plan.Site{CRS: crs.CRS{Code: 32633, Metre: 1}, Ground: g}
	unplaced := weather.Record{Latitude: math.NaN(), Elevation: math.NaN()}
	r, err := Placed(&s, unplaced)
	if err != nil || math.Abs(r.Latitude-45) > 1e-6 || r.Elevation != 102 {
		t.Errorf("%v: latitude %v, elevation %v", err, r.Latitude, r.Elevation)
	}
	r, err = Placed(&s, weather.Record{Latitude: -12, Elevation: 7})
	if err != nil || r.Latitude != -12 || r.Elevation != 7 {
		t.Errorf("%v: what a person said is changed: %v, %v", err, r.Latitude, r.Elevation)
	}
	s.CRS = crs.CRS{Metre: 1}
	if r, err = Placed(&s, unplaced); err != nil || !math.IsNaN(r.Latitude) || r.Elevation != 102 {
		t.Errorf("%v: without a system the latitude is %v", err, r.Latitude)
	}
	if r, err = Placed(&plan.Site{}, unplaced); err != nil || !math.IsNaN(r.Elevation) {
		t.Errorf("%v: without a ground the elevation is %v", err, r.Elevation)
	}
}
