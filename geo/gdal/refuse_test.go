package gdal

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"
)

func TestReadRasterRefusesWithOneSentence(t *testing.T) {
	folder := t.TempDir()
	put := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	good, err := os.ReadFile(tiff{kind: gdal.Float32, w: 300, h: 300, t: upright, crs: "EPSG:32610", cells: slope(300, 300)}.write(t))
	if err != nil {
		t.Fatal(err)
	}
	cases := map[string]struct{ path, want string }{
		"no file":                    {filepath.Join(folder, "none.tif"), "no such file"},
		"an empty file":              {put("empty.tif", ""), "is empty"},
		"a folder":                   {folder, "is a folder"},
		"text named as a raster":     {put("text.tif", "not a raster at all\n"), "damaged, or of a format"},
		"a network address":          {"https://example.org/dtm.tif", "not a file on this computer"},
		"a virtual path":             {"/vsimem/a.tif", "not a file on this computer"},
		"inline text":                {`{"type":"Point","coordinates":[1,2]}`, "not a file on this computer"},
		"inline XML":                 {"<VRTDataset/>", "not a file on this computer"},
		"a description of others":    {put("other.vrt", `<VRTDataset rasterXSize="1" rasterYSize="1"/>`), "damaged, or of a format"},
		"a packed file":              {put("N10.hgt.zip", "PK\x03\x04"), "unpack it"},
		"a file cut short":           {put("short.tif", string(good[:len(good)/2])), "cannot be read"},
		"a header of 40 000 million": {huge(t), "more than the 200 million"},
		"tiles that fill the memory": {tiff{kind: gdal.Float32, w: 2, h: 2, bands: 2, t: upright,
			options: []string{"SPARSE_OK=TRUE", "TILED=YES", "BLOCKXSIZE=8192", "BLOCKYSIZE=8192"}}.write(t), "save it again in smaller tiles"},
		"a hundred bands":         {tiff{kind: gdal.Float32, w: 2, h: 2, bands: 100, t: upright}.write(t), "it has 100 bands"},
		"no cell has data":        {tiff{kind: gdal.Float32, w: 2, h: 1, t: upright, nodata: []float64{1}, cells: []float64{1, 1}}.write(t), "no cell has a height"},
		"a photograph":            {tiff{kind: gdal.Byte, w: 2, h: 1, bands: 3, t: upright, crs: "EPSG:32610", options: []string{"PHOTOMETRIC=RGB"}}.write(t), "picture is not a ground"},
		"a plain image":           {tiff{kind: gdal.Byte, w: 2, h: 1, cells: []float64{1, 2}}.write(t), "picture is not a ground"},
		"complex numbers":         {tiff{kind: gdal.CFloat32, w: 2, h: 1, t: upright}.write(t), "complex"},
		"an ASCII grid cut short": {put("short.asc", "ncols 3\nnrows 3\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3\n4"), "cannot be read"},
		"bytes of no sense":       {put("noise.tif", "II*\x00\x07\x07\x07\x07\x07"), "damaged, or of a format"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			_, err := ReadRaster(context.Background(), c.path)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want one with %q", err, c.want)
			}
			if err != nil && strings.Contains(err.Error(), "\n") {
				t.Errorf("the error is more than one line: %v", err)
			}
		})
	}
}

func slope(w, h int) []float64 {
	cells := make([]float64, w*h)
	for i := range cells {
		cells[i] = float64(i%w) + math.Sqrt(float64(i))
	}
	return cells
}

// huge is a file of a few bytes whose header promises 200 000 by 200 000 cells.
func huge(t testing.TB) string {
	return tiff{kind: gdal.Float32, w: 200_000, h: 200_000, t: upright, crs: "EPSG:32610",
		options: []string{"SPARSE_OK=TRUE", "TILED=YES", "BLOCKXSIZE=8192", "BLOCKYSIZE=8192", "BIGTIFF=YES"}}.write(t)
}
