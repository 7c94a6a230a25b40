// Package crs describes coordinate reference systems: what a file or a person
// says they are, and whether lengths may be measured in them. It does no
// transformation; geo/gdal asks PROJ for that.
package crs

import (
	"errors"
	"fmt"
	"math"
)

// ErrNotMetric marks a reference system whose coordinates are not metres.
var ErrNotMetric = errors.New("coordinates are not in metres")

// A CRS is a coordinate reference system, with east before north and
// longitude before latitude whatever its authority says.
// The zero CRS is unknown.
type CRS struct {
	// Code is the EPSG code; 0 where there is none.
	Code int
	// Name is what people call it.
	Name string
	// WKT is the full definition; empty where Code says all.
	WKT string
	// Metre is the length of the coordinate unit [m]; 0 for degrees and unknown.
	Metre float64
	// Degrees is set when coordinates are longitude and latitude.
	Degrees bool
}

// LonLat is WGS 84 longitude and latitude, the system of GeoJSON (RFC 7946).
func LonLat() CRS { return CRS{Code: 4326, Name: "WGS 84", Degrees: true} }

// Known reports whether anything is known of c.
func (c CRS) Known() bool { return c.Code != 0 || c.WKT != "" }

// Same reports whether c and d are one system, by code where both have one.
func (c CRS) Same(d CRS) bool {
	if c.Code != 0 && d.Code != 0 {
		return c.Code == d.Code
	}
	return c.Known() && c.WKT == d.WKT
}

// String names the system for a person.
func (c CRS) String() string {
	switch {
	case !c.Known():
		return "no reference system"
	case c.Code == 0:
		return c.Name
	case c.Name == "":
		return fmt.Sprintf("EPSG:%d", c.Code)
	}
	return fmt.Sprintf("%s (EPSG:%d)", c.Name, c.Code)
}

// RequireMetres reports a system in which lengths cannot be measured in metres.
func (c CRS) RequireMetres() error {
	if c.Metre == 1 {
		return nil
	}
	return fmt.Errorf("%v: %w; choose a metric system such as the local UTM zone", c, ErrNotMetric)
}

// UTM returns the EPSG code of the Universal Transverse Mercator zone of WGS 84
// that holds a position in degrees: 32601 to 32660 north of the equator, 32701
// to 32760 south of it. The widened zones of Norway and Svalbard are left out.
func UTM(lon, lat float64) (code int, err error) {
	if !(lon >= -180 && lon <= 180) || !(lat >= -80 && lat <= 84) {
		return 0, fmt.Errorf("longitude %g, latitude %g lies outside the UTM zones; name a metric system", lon, lat)
	}
	zone := min(int(math.Floor((lon+180)/6))+1, 60)
	if lat < 0 {
		return 32700 + zone, nil
	}
	return 32600 + zone, nil
}
