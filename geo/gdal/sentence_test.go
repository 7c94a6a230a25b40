package gdal

import (
	"context"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"
)

// inEPSG is a drawing of one point that names a reference system by its code.
func inEPSG(code, point string) string {
	return `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::` + code +
		`"}},"features":[` + feature(`{"type":"Point","coordinates":`+point+`}`) + "]}"
}

func TestADrawingInASystemThatIsNotKnownIsRefusedWithAdvice(t *testing.T) {
	_, _, err := ReadDrawn(context.Background(), put(t, "a.geojson", inEPSG("99999", "[523440,4811080]")), DrawnOptions{To: utm10(t)})
	if err == nil || !strings.HasPrefix(err.Error(), "a.geojson: it names a reference system that is not known") || !strings.Contains(err.Error(), "save it again") {
		t.Errorf("error %v", err)
	}
	if d, _ := drawn(t, put(t, "a.geojson", inEPSG("32610", "[523440,4811080]")), utm10(t)); len(d) != 1 {
		t.Errorf("%d features of a known system", len(d))
	}
}

func TestARasterInASystemThatIsNotKnownTellsSo(t *testing.T) {
	path := tiff{kind: gdal.Float32, w: 2, h: 2, t: upright, crs: "EPSG:32610", cells: slope(2, 2)}.write(t)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	// The key of the projected system, 3072, which holds one code (from memory of OGC 19-008r4).
	const key, other = "\x00\x0c\x00\x00\x01\x00\x62\x7f", "\x00\x0c\x00\x00\x01\x00\x18\x79" // 32610, 31000
	if strings.Count(string(whole), key) != 1 {
		t.Fatal("the test file does not name its system where it should")
	}
	r := read(t, put(t, "a.tif", strings.Replace(string(whole), key, other, 1)))
	if !noted(r.Notes, `"WGS 84 / UTM zone 10N", has no place on the earth that is known`) || r.Grid.DX != 2 {
		t.Errorf("notes %q, cells of %g m in %v", r.Notes, r.Grid.DX, r.CRS)
	}
}

func TestPointsAreWrittenWithoutExponents(t *testing.T) {
	for want, p := range map[string]orb.Point{
		"523440.25, 4811080": {523440.25, 4811080},
		"0.00000001, -0.1":   {1e-8, -0.1},
		"NaN, +Inf":          {math.NaN(), math.Inf(1)},
		"1" + strings.Repeat("0", 59) + "…, 2000000000": {1e300, 2e9},
	} {
		if got := coordinates(p); got != want {
			t.Errorf("%v is written %q, want %q", [2]float64(p), got, want)
		}
	}
	for want, v := range map[string]float64{"0.4722": 0.47218, "1.829": 1.8288, "494": 494.01, "111320": 111319.9, "0.00001234": 0.000012341} {
		if got := fourDigits(v); got != want {
			t.Errorf("%v m is written %q, want %q", v, got, want)
		}
	}
	_, _, err := ReadDrawn(context.Background(), put(t, "a.geojson", collection(feature(`{"type":"Point","coordinates":[523440,4811080]}`))), DrawnOptions{To: utm10(t)})
	if err == nil || !strings.Contains(err.Error(), "523440, 4811080 is no longitude and latitude") {
		t.Errorf("error %v", err)
	}
}

// What the library says names its functions and source files, which helps nobody
// who has a damaged file.
func TestNoErrorRepeatsTheLibrary(t *testing.T) {
	whole, err := os.ReadFile(tiff{kind: gdal.Float32, w: 300, h: 300, t: upright, crs: "EPSG:32610", cells: slope(300, 300)}.write(t))
	if err != nil {
		t.Fatal(err)
	}
	library := regexp.MustCompile(`(?i)\b(tiff\w+:|proj_\w+|gdal\w*|ogr\w*|sqlite3_\w+)|\.cpp|\.c:|\(`)
	folder := t.TempDir()
	for _, size := range []int{8, 100, 200, 400, len(whole) / 2, len(whole) - 1} {
		path := filepath.Join(folder, "cut"+strconv.Itoa(size)+".tif")
		if err := os.WriteFile(path, whole[:size], 0o644); err != nil {
			t.Fatal(err)
		}
		r, err := ReadRaster(context.Background(), path)
		told := ""
		if err != nil {
			told = err.Error()
		} else {
			told = strings.Join(r.Notes, " ")
		}
		if told == "" || library.MatchString(told) {
			t.Errorf("cut to %d bytes it says %q", size, told)
		}
	}
	if err := do(func() error { gdal.CreateSpatialReference("").FromEPSG(99999999); return nil }); !errors.Is(err, errFault) {
		t.Errorf("a failure that no call returned is %v", err)
	}
}

func TestAnASCIIGridWhoseFirstCellIsWrittenNaNIsToldApart(t *testing.T) {
	const header = "ncols 2\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n"
	for name, c := range map[string]struct{ text, want string }{
		"in the header and the first cell": {header + "NODATA_value nan\nnan -1\n1 2\n", "written nan"},
		"in capitals":                      {strings.ToUpper(header + "NODATA_value nan\nnan nan\n1 2\n"), "written nan"},
		"in the first cell only":           {header + "nan -1\n1 2\n", "written nan"},
		"as a number":                      {header + "NODATA_value -9999\n-9999 -1\n1 2\n", ""},
	} {
		_, err := ReadRaster(context.Background(), put(t, "a.asc", c.text))
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: error %v, want %q", name, err, c.want)
		}
	}
}

// A degree of longitude is as long as the cosine of its latitude, but for the
// flattening: cos 45° / cos 46° is 1.018, cos 45° / cos 44° 0.983.
func TestATallGroundInDegreesTellsHowFarItsEdgesAreOff(t *testing.T) {
	tall := tiff{kind: gdal.Float32, w: 4, h: 20, t: [6]float64{9, 0.1, 0, 46, 0, -0.1}, crs: "EPSG:4326", cells: slope(4, 20)}
	path := tall.write(t)
	const want = "its middle latitude, 45.00 degrees; at its north edge they come out 1.8 % too large, at its south edge 1.7 % too small."
	if notes := read(t, path).Notes; !noted(notes, want) {
		t.Errorf("notes %q, want %q", notes, want)
	}
	_, _, notes, err := readGround(context.Background(), path, GroundOptions{Cell: 5000})
	if err != nil || noted(notes, "middle latitude") {
		t.Errorf("a ground that is brought to metres has notes %q, %v", notes, err)
	}
	tall.t = [6]float64{9, 0.1, 0, 44, 0, 0.1}
	if notes := read(t, tall.write(t)).Notes; !noted(notes, want) {
		t.Errorf("with rows from the south, notes %q, want %q", notes, want)
	}
	tall.t = [6]float64{9, 0.001, 0, 45, 0, -0.001}
	if notes := read(t, tall.write(t)).Notes; noted(notes, "middle latitude") {
		t.Errorf("a low ground has notes %q", notes)
	}
}

func TestASystemWithoutANameIsNotCalledUnknown(t *testing.T) {
	wkt := `PROJCS["unknown",GEOGCS["unknown",DATUM["unknown",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],` +
		`PROJECTION["Mercator_2SP"],PARAMETER["standard_parallel_1",33],PARAMETER["central_meridian",7],UNIT["metre",1]]`
	r := read(t, tiff{kind: gdal.Float32, w: 2, h: 2, t: [6]float64{0, 2, 0, 6000000, 0, -2}, crs: wkt, cells: slope(2, 2)}.write(t))
	if !noted(r.Notes, "Lengths in a reference system without a name are not those on the ground") {
		t.Errorf("it is %v, notes %q", r.CRS, r.Notes)
	}
}

func TestWhatCannotBeWrittenIsToldWithAdvice(t *testing.T) {
	folder := t.TempDir()
	file := put(t, "file", "x")
	for _, c := range []struct {
		path string
		err  error
		want string
	}{
		{filepath.Join(folder, "none", "a.gpkg"), fs.ErrNotExist, "there is no folder " + filepath.Join(folder, "none") + "; make it"},
		{filepath.Join(file, "a.gpkg"), syscall.ENOTDIR, file + " is a file, not a folder"},
		{filepath.Join(folder, "a.gpkg"), fs.ErrPermission, "is closed to you; choose one"},
		{filepath.Join(folder, "a.gpkg"), &fs.PathError{Op: "write", Path: ".a.123.gpkg", Err: syscall.ENOSPC}, "the disk is full"},
		{filepath.Join(folder, "a.gpkg"), &fs.PathError{Op: "write", Path: ".a.123.gpkg", Err: errors.New("odd")}, "cannot be written: odd"},
	} {
		got := Unwritable(c.path, c.err).Error()
		if !strings.HasPrefix(got, c.path+" cannot be written: ") || !strings.Contains(got, c.want) || strings.Contains(got, "123") {
			t.Errorf("%v is told as %q, want %q", c.err, got, c.want)
		}
	}
	s := plot(t)
	if err := SaveSite(filepath.Join(folder, "none", "a.gpkg"), s); err == nil || strings.Contains(err.Error(), ".a.gpkg.") || !strings.Contains(err.Error(), "there is no folder") {
		t.Errorf("error %v", err)
	}
}

func TestAnEmptyNameIsToldApartFromAMissingFile(t *testing.T) {
	_, err := ReadRaster(context.Background(), "")
	_, _, err2 := ReadDrawn(context.Background(), "", DrawnOptions{})
	for _, err := range []error{err, err2} {
		if err == nil || !strings.Contains(err.Error(), "name of the file is empty") {
			t.Errorf("error %v", err)
		}
	}
}
