package gdal

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/survey"
)

// knoll is three level rings in UTM zone 10N, one above the other.
func knoll() []survey.Line {
	var lines []survey.Line
	for i, radius := range []float64{40, 25, 10} {
		ring := orb.LineString{}
		for k := range 25 {
			sin, cos := math.Sincos(float64(k%24) / 24 * 2 * math.Pi)
			ring = append(ring, orb.Point{500100 + radius*cos, 5200100 + radius*sin})
		}
		lines = append(lines, survey.Line{At: ring, Z: []float64{100.5 + 0.5*float64(i)}})
	}
	return lines
}

func knollGeoJSON(t testing.TB) string {
	t.Helper()
	var features []string
	for i, l := range knoll() {
		at, err := json.Marshal(l.At)
		if err != nil {
			t.Fatal(err)
		}
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"no":%d,"elev":%g},"geometry":{"type":"LineString","coordinates":%s}}`, i, l.Level(), at))
	}
	return put(t, "knoll.geojson", `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::32610"}},"features":[`+strings.Join(features, ",")+"]}")
}

// as writes the knoll in a format of the library's, and returns the file's path.
func as(t testing.TB, format, name string, options ...string) string {
	t.Helper()
	from, path := knollGeoJSON(t), filepath.Join(t.TempDir(), name)
	err := do(func() error {
		source, err := gdal.OpenEx(from, gdal.OFVector, []string{"GeoJSON"}, nil, nil)
		if err != nil {
			return err
		}
		defer source.Close()
		driver, err := gdal.GetDriverByName(format)
		if err != nil {
			return err
		}
		set := driver.Create(path, 0, 0, 0, gdal.Unknown, nil)
		if handle(set) == nil {
			return errors.New("the test file cannot be made")
		}
		defer set.Close()
		set.CopyLayer(source.LayerByIndex(0), "knoll", options)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// knollDXF is the knoll as polylines with heights, beside a text and a block.
func knollDXF(t testing.TB) string {
	t.Helper()
	var b strings.Builder
	pair := func(code int, value any) { fmt.Fprintf(&b, "%d\n%v\n", code, value) }
	pair(0, "SECTION")
	pair(2, "HEADER")
	pair(0, "ENDSEC")
	pair(0, "SECTION")
	pair(2, "BLOCKS")
	for _, name := range []string{"TREE"} {
		pair(0, "BLOCK")
		pair(8, "0")
		pair(2, name)
		pair(70, 0)
		for _, code := range []int{10, 20, 30} {
			pair(code, 0)
		}
		pair(0, "LINE")
		pair(8, "0")
		for code, v := range map[int]float64{10: 0, 20: 0, 30: 0, 11: 5, 21: 5, 31: 0} {
			pair(code, v)
		}
		pair(0, "ENDBLK")
	}
	pair(0, "ENDSEC")
	pair(0, "SECTION")
	pair(2, "ENTITIES")
	for _, l := range knoll() {
		pair(0, "LWPOLYLINE")
		pair(8, "CONTOURS")
		pair(100, "AcDbEntity")
		pair(100, "AcDbPolyline")
		pair(90, len(l.At))
		pair(70, 0)
		pair(38, l.Level())
		for _, p := range l.At {
			pair(10, fmt.Sprintf("%.9f", p[0]))
			pair(20, fmt.Sprintf("%.9f", p[1]))
		}
	}
	pair(0, "LINE")
	pair(8, "FENCE")
	for code, v := range map[int]float64{10: 500000, 20: 5200000, 30: 0, 11: 500200, 21: 5200000, 31: 0} {
		pair(code, v)
	}
	for range 3 {
		pair(0, "TEXT")
		pair(8, "LABELS")
		pair(100, "AcDbEntity")
		pair(100, "AcDbText")
		pair(10, 500100)
		pair(20, 5200100)
		pair(40, 2)
		pair(1, "101.5")
	}
	for range 2 {
		pair(0, "INSERT")
		pair(8, "TREES")
		pair(100, "AcDbEntity")
		pair(100, "AcDbBlockReference")
		pair(2, "TREE")
		pair(10, 500100)
		pair(20, 5200100)
	}
	pair(0, "ENDSEC")
	pair(0, "EOF")
	return put(t, "knoll.dxf", b.String())
}

// knollKML is the knoll in degrees, its heights as third coordinates.
func knollKML(t testing.TB) string {
	t.Helper()
	move, done, err := NewTransformAll(utm10(t), crs.LonLat())
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><name>knoll</name>`)
	for _, l := range knoll() {
		if err := move(l.At); err != nil {
			t.Fatal(err)
		}
		b.WriteString("<Placemark><LineString><altitudeMode>absolute</altitudeMode><coordinates>")
		for _, p := range l.At {
			fmt.Fprintf(&b, "%.11f,%.11f,%g ", p[0], p[1], l.Level())
		}
		b.WriteString("</coordinates></LineString></Placemark>")
	}
	b.WriteString("</Document></kml>")
	return put(t, "knoll.kml", b.String())
}
