package gdal

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"
)

// What a damaged raster gives is a whole grid or one sentence.
func FuzzReadRaster(f *testing.F) {
	for _, options := range [][]string{nil, {"TILED=YES", "COMPRESS=DEFLATE", "PREDICTOR=3"}, {"COMPRESS=LZW"}} {
		path := tiff{kind: gdal.Float32, w: 20, h: 20, t: upright, crs: "EPSG:32610", cells: slope(20, 20), options: options}.write(f)
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte("ncols 2\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3 4\n"))
	path := filepath.Join(f.TempDir(), "ground.tif")
	f.Fuzz(func(t *testing.T, text []byte) {
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
		r, err := ReadRaster(context.Background(), path)
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Fatalf("the error is more than one line: %q", err)
			}
			return
		}
		if len(r.Grid.V) != r.Grid.Len() || r.Grid.Check() != nil {
			t.Fatalf("%d cells on %+v", len(r.Grid.V), r.Grid.Frame)
		}
	})
}

// What a damaged drawing gives is single shapes, notes or one sentence.
func FuzzReadDrawn(f *testing.F) {
	f.Add([]byte(collection(feature(`{"type":"MultiPolygon","coordinates":[[[[1,2],[3,2],[3,4],[1,2]]]]}`), feature(`{"type":"Point","coordinates":[1,2,3]}`))))
	f.Add([]byte("0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n0\n10\n1\n20\n2\n11\n3\n21\n4\n0\nENDSEC\n0\nEOF\n"))
	f.Add([]byte(`<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><Point><coordinates>1,2</coordinates></Point></Placemark></kml>`))
	path := filepath.Join(f.TempDir(), "drawing.json")
	to := utm10(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
		drawn, _, err := ReadDrawn(context.Background(), path, DrawnOptions{To: to})
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Fatalf("the error is more than one line: %q", err)
		}
		for _, d := range drawn {
			switch d.Geometry.GeoJSONType() {
			case "Point", "LineString", "Polygon":
			default:
				t.Fatalf("a %s is drawn", d.Geometry.GeoJSONType())
			}
		}
	})
}
