package gdal

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/geo/crs"
)

func TestLookupFindsWhatPeopleType(t *testing.T) {
	wkt, err := wktIn("EPSG:2193")
	if err != nil {
		t.Fatal(err)
	}
	cases := []struct {
		text    string
		code    int
		metre   float64
		degrees bool
	}{
		{"EPSG:2193", 2193, 1, false},
		{" epsg:32610 ", 32610, 1, false},
		{"32626", 32626, 1, false},
		{"EPSG:4326", 4326, 0, true},
		{"EPSG:2994", 2994, 0.3048, false},        // international foot, by the EPSG registry
		{"EPSG:2926", 2926, 1200.0 / 3937, false}, // US survey foot, by the EPSG registry
		{"EPSG:5972", 25832, 1, false},            // a compound system: its horizontal part
		{wkt, 2193, 1, false},
	}
	for _, c := range cases {
		got, err := systemNamed(c.text)
		if err != nil {
			t.Errorf("%s: %v", clip(c.text), err)
			continue
		}
		if got.Code != c.code || math.Abs(got.Metre-c.metre) > 1e-12 || got.Degrees != c.degrees || got.Name == "" {
			t.Errorf("%s is %+v, want code %d, %g m, degrees %v", clip(c.text), got, c.code, c.metre, c.degrees)
		}
	}
}

// systemNamed is lookup by itself.
func systemNamed(text string) (found crs.CRS, err error) {
	err = do(func() (err error) {
		found, err = lookup(text)
		return err
	})
	return found, err
}

func wktIn(text string) (wkt string, err error) {
	c, err := systemNamed(text)
	if err != nil {
		return "", err
	}
	err = do(func() (err error) {
		wkt, err = wktOf(c)
		return err
	})
	return wkt, err
}

func TestLookupRefusesTheRest(t *testing.T) {
	for _, text := range []string{
		"", "EPSG:99999999", "EPSG:", "-1", "utm", "EPSG:5703", "EPSG:4978", "PROJCS[", "[]",
		"http://example.org/a.wkt", "/etc/hostname", "ESRI::x.prj", "+proj=utm +zone=10", "99999999999999999999",
	} {
		got, err := systemNamed(text)
		if err == nil {
			t.Errorf("%q is taken for %v", text, got)
		} else if !strings.Contains(err.Error(), "such as") && !strings.Contains(err.Error(), "look up") {
			t.Errorf("%q: the error does not say what to do: %v", text, err)
		}
	}
}

// A central meridian keeps its longitude: zone 10 has 123 degrees west in its
// middle, at 500 000 m east. The latitude is that of the meridian's arc of
// 5 200 000 m / 0.9996, which is 46.95 degrees (Snyder 1987, equation 3-26).
func TestTransformPutsAKnownPointWhereItIs(t *testing.T) {
	move, done, err := NewTransform(utm10(t), crs.LonLat())
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	got, err := move(orb.Point{500000, 5200000})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got[0]+123) > 1e-9 || math.Abs(got[1]-46.95) > 0.01 {
		t.Fatalf("got %v, want longitude -123, latitude about 46.95", got)
	}
	arc := meridianArc(got[1] * math.Pi / 180)
	if want := 5200000 / 0.9996; math.Abs(arc-want) > 0.001 {
		t.Errorf("the meridian's arc to latitude %.9f is %.4f m, want %.4f", got[1], arc, want)
	}
}

// meridianArc is Snyder 1987, equation 3-21, on WGS 84.
func meridianArc(φ float64) float64 {
	const a, f = 6378137.0, 1 / 298.257223563
	e2 := float64(f * (2 - f))
	e4, e6 := e2*e2, e2*e2*e2
	return a * ((1-e2/4-3*e4/64-5*e6/256)*φ - (3*e2/8+3*e4/32+45*e6/1024)*math.Sin(2*φ) +
		(15*e4/256+45*e6/1024)*math.Sin(4*φ) - (35*e6/3072)*math.Sin(6*φ))
}

func TestTransformThereAndBackIsStill(t *testing.T) {
	there, done, err := NewTransform(utm10(t), crs.LonLat())
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	back, done2, err := NewTransform(crs.LonLat(), utm10(t))
	if err != nil {
		t.Fatal(err)
	}
	defer done2()
	rapid.Check(t, func(r *rapid.T) {
		p := orb.Point{rapid.Float64Range(3e5, 7e5).Draw(r, "east"), rapid.Float64Range(1e5, 9e6).Draw(r, "north")}
		q, err := there(p)
		if err != nil {
			r.Fatal(err)
		}
		got, err := back(q)
		if err != nil {
			r.Fatal(err)
		}
		if math.Hypot(got[0]-p[0], got[1]-p[1]) > 1e-4 {
			r.Fatalf("%v came back as %v", p, got)
		}
	})
}

func TestTransformRefusesPointsWithNoPlace(t *testing.T) {
	move, done, err := NewTransform(crs.LonLat(), utm10(t))
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	for _, p := range []orb.Point{{math.NaN(), 1}, {0, math.Inf(1)}, {-123, 900}, {581308, 4500000}} {
		if got, err := move(p); err == nil {
			t.Errorf("%v went to %v", p, got)
		}
	}
	if got, err := move(orb.Point{-123, 46.95}); err != nil || math.Abs(got[0]-500000) > 1e-3 {
		t.Errorf("after the failures a good point goes to %v, %v", got, err)
	}
	if _, _, err := NewTransform(crs.CRS{}, utm10(t)); err == nil {
		t.Error("an unknown system is transformed from")
	}
}

func TestTransformBetweenOneSystemMovesNothing(t *testing.T) {
	move, done, err := NewTransform(utm10(t), utm10(t))
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	p := orb.Point{123456.789012345, 1.0 / 3}
	if got, err := move(p); err != nil || got != p {
		t.Errorf("got %v, %v, want %v", got, err, p)
	}
}

// Vincenty's test line: a degree of latitude and of longitude at 45 degrees on
// WGS 84 are 111 131.7 m and 78 846.8 m (from memory of NIMA TR8350.2 tables).
func TestEllipsoidMeasuresADegree(t *testing.T) {
	const f = 1 / 298.257223563
	e := ellipsoid{a: 6378137, e2: f * (2 - f), radian: math.Pi / 180}
	if got := e.distance(orb.Point{0, 44.5}, orb.Point{0, 45.5}); math.Abs(got-111131.7) > 1 {
		t.Errorf("a degree of latitude is %.1f m, want 111131.7", got)
	}
	if got := e.distance(orb.Point{0, 45}, orb.Point{1, 45}); math.Abs(got-78846.8) > 1 {
		t.Errorf("a degree of longitude is %.1f m, want 78846.8", got)
	}
}
