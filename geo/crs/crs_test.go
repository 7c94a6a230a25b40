package crs

import (
	"errors"
	"testing"
)

func TestUTMZones(t *testing.T) {
	// Zones are 6 degrees wide, numbered from 180 W eastward; EPSG codes 326zz
	// north and 327zz south (EPSG Dataset, Guidance Note 7-2, from memory).
	for _, c := range []struct {
		lon, lat float64
		want     int
	}{
		{-180, 0, 32601}, {-123, 47, 32610}, {0, 51, 32631}, {-0.001, 51, 32630}, {179.9, -40, 32760}, {180, 10, 32660},
	} {
		if got, err := UTM(c.lon, c.lat); err != nil || got != c.want {
			t.Errorf("zone of %v, %v is %d (%v), want %d", c.lon, c.lat, got, err, c.want)
		}
	}
	for _, c := range [][2]float64{{0, 85}, {0, -81}, {181, 0}} {
		if _, err := UTM(c[0], c[1]); err == nil {
			t.Errorf("%v has a zone", c)
		}
	}
}

func TestOnlyMetricSystemsMeasureMetres(t *testing.T) {
	if err := (CRS{Code: 32631, Metre: 1}).RequireMetres(); err != nil {
		t.Error(err)
	}
	for _, c := range []CRS{LonLat(), {Code: 2994, Metre: 0.3048}, {}} {
		if err := c.RequireMetres(); !errors.Is(err, ErrNotMetric) {
			t.Errorf("%v: %v, want ErrNotMetric", c, err)
		}
	}
}

func TestSystemsAreComparedByCodeThenByDefinition(t *testing.T) {
	if !(CRS{Code: 4326, Name: "a"}).Same(LonLat()) {
		t.Error("one code, two systems")
	}
	if (CRS{}).Same(CRS{}) {
		t.Error("two unknown systems are taken for one")
	}
	if !(CRS{WKT: "LOCAL"}).Same(CRS{WKT: "LOCAL"}) {
		t.Error("one definition, two systems")
	}
}

func TestSystemsAreNamedForPeople(t *testing.T) {
	for want, c := range map[string]CRS{
		"no reference system": {}, "EPSG:2193": {Code: 2193}, "WGS 84 (EPSG:4326)": LonLat(), "Local grid": {Name: "Local grid", WKT: "x"},
	} {
		if got := c.String(); got != want {
			t.Errorf("named %q, want %q", got, want)
		}
	}
}
