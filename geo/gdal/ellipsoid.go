package gdal

import (
	"errors"
	"math"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"
)

var errNoGeodetic = errors.New("the system rests on no longitude and latitude")

// An ellipsoid is the figure of the earth that a reference system rests on.
type ellipsoid struct {
	a  float64 // half the long axis [m]
	e2 float64 // first eccentricity, squared
	// radian is the size of the system's angle [rad].
	radian float64
}

func ellipsoidOf(sr gdal.SpatialReference) (ellipsoid, error) {
	a, err := sr.SemiMajorAxis()
	if err != nil || !(a > 0) {
		return ellipsoid{}, errNoGeodetic
	}
	e := ellipsoid{a: a, radian: math.Pi / 180}
	if inverse, err := sr.InverseFlattening(); err == nil && inverse > 1 {
		f := 1 / inverse
		e.e2 = f * (2 - f)
	}
	if sr.IsGeographic() {
		e.radian = angularUnit(sr)
	}
	return e, nil
}

// distance returns the length [m] between two near positions, by the radii of
// curvature in the meridian, M, and across it, N, at the latitude between them
// (Snyder 1987, USGS Professional Paper 1395, equations 4-18 and 4-20). Over a
// kilometre it is within a millimetre of the geodesic.
func (e ellipsoid) distance(p, q orb.Point) float64 {
	var (
		φ  = (p[1] + q[1]) / 2 * e.radian
		dλ = (q[0] - p[0]) * e.radian
		dφ = (q[1] - p[1]) * e.radian
		s  = 1 - e.e2*math.Sin(φ)*math.Sin(φ)
		N  = e.a / math.Sqrt(s)
		M  = e.a * (1 - e.e2) / (s * math.Sqrt(s))
	)
	return math.Hypot(N*math.Cos(φ)*dλ, M*dφ)
}
