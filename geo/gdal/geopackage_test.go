package gdal

import (
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/plan"
)

// query returns the first column of a statement's rows.
func query(t testing.TB, path, sql string) []string {
	t.Helper()
	var values []string
	err := do(func() error {
		set, err := openForUpdate(path)
		if err != nil {
			return err
		}
		defer set.Close()
		result := set.ExecuteSQL(sql, gdal.Geometry{}, "")
		if handle(result) == nil {
			return nil
		}
		defer set.ReleaseResultSet(result)
		return eachFeature(result, func(f gdal.Feature) error {
			values = append(values, f.FieldAsString(0))
			return nil
		})
	})
	if err != nil {
		t.Fatalf("%s: %v", sql, err)
	}
	return values
}

func one(t testing.TB, path, sql string) string {
	t.Helper()
	if values := query(t, path, sql); len(values) > 0 {
		return values[0]
	}
	return ""
}

// The tables and numbers are those of OGC 12-128r17 and 17-066r1.
func TestSiteFileIsAGeoPackage(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	for range 2 {
		if err := SaveSite(path, plot(t)); err != nil {
			t.Fatal(err)
		}
	}
	head, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(head[:16]) != "SQLite format 3\x00" || string(head[68:72]) != "GPKG" {
		t.Errorf("the header is %q with application id %q", head[:16], head[68:72])
	}
	if version := binary.BigEndian.Uint32(head[60:64]); version < 10200 || version >= 10500 {
		t.Errorf("the version is %d", version)
	}
	kinds := strconv.Itoa(len(plan.Specs())) // a layer each
	for sql, want := range map[string]string{
		"PRAGMA integrity_check": "ok",
		"SELECT count(*) FROM gpkg_contents WHERE data_type = 'features'":                                                       kinds,
		"SELECT count(*) FROM gpkg_geometry_columns WHERE srs_id = 32610 AND z = 0 AND m = 0":                                   kinds,
		"SELECT group_concat(table_name) FROM (SELECT table_name FROM gpkg_contents WHERE data_type = 'attributes' ORDER BY 1)": "schemes,settings",
		"SELECT data_type FROM gpkg_contents WHERE table_name = 'ground'":                                                       "2d-gridded-coverage",
		"SELECT count(*) FROM gpkg_tile_matrix_set WHERE table_name = 'ground' AND srs_id = 32610":                              "1",
		"SELECT count(*) FROM gpkg_tile_matrix WHERE table_name = 'ground'":                                                     "1",
		"SELECT datatype || uom FROM gpkg_2d_gridded_coverage_ancillary WHERE tile_matrix_set_name = 'ground'":                  "floatm",
		"SELECT count(*) FROM gpkg_2d_gridded_tile_ancillary WHERE tpudt_name = 'ground'":                                       "1",
		"SELECT organization || organization_coordsys_id FROM gpkg_spatial_ref_sys WHERE srs_id = 32610":                        "EPSG32610",
		"SELECT count(*) FROM gpkg_spatial_ref_sys WHERE srs_id IN (-1, 0, 4326)":                                               "3",
		"SELECT description FROM gpkg_data_columns WHERE table_name = 'channel' AND column_name = 'bed_width'":                  "unit: m",
		"SELECT description FROM gpkg_data_columns WHERE table_name = 'channel' AND column_name = 'side_left'":                  "unit: H:V",
		"SELECT title FROM gpkg_data_columns WHERE table_name = 'well' AND column_name = 'draw'":                                "Draw in the dry months",
		"SELECT count(*) FROM gpkg_extensions WHERE extension_name = 'gpkg_schema'":                                             "1",
		"SELECT count(*) FROM gpkg_extensions WHERE extension_name = 'gpkg_rtree_index'":                                        kinds,
		"SELECT typeof(bed_width) || typeof(side_left) || scheme || scheme_id FROM channel WHERE fid = 9":                       "realnullWide loop7",
		"SELECT name || ':' || id FROM (SELECT name, fid AS id FROM schemes ORDER BY place LIMIT 1)":                            "Wide loop:7",
		"SELECT hex(substr(geom, 1, 3)) FROM well":                                                                              "475000",
	} {
		if got := one(t, path, sql); got != want {
			t.Errorf("%s gives %q, want %q", sql, got, want)
		}
	}
	if broken := query(t, path, "PRAGMA foreign_key_check"); len(broken) != 0 {
		t.Errorf("foreign keys are broken: %v", broken)
	}
	r := read(t, path)
	cellsAre(t, r.Grid.V, plot(t).Ground.V...)
}

func TestSiteWithoutReferenceSystemIsInPlainCoordinates(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	s.CRS = crs.CRS{Metre: 1}
	for range 2 {
		if err := SaveSite(path, s); err != nil {
			t.Fatal(err)
		}
	}
	// OGC 12-128r17 table 3: -1 is the undefined Cartesian system.
	if got := query(t, path, "SELECT DISTINCT srs_id FROM gpkg_contents WHERE data_type <> 'attributes'"); len(got) != 1 || got[0] != "-1" {
		t.Errorf("the systems are %v, want -1 alone", got)
	}
}

func TestSavingKeepsWhatOthersPutInTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	err := do(func() error {
		set, err := openForUpdate(path)
		if err != nil {
			return err
		}
		defer set.Close()
		sr, err := reference(s.CRS)
		if err != nil {
			return err
		}
		defer sr.Destroy()
		layer := set.CreateLayer("survey", sr, gdal.GT_Point, nil)
		err = replaceRows(layer, []row{{id: 1, shape: orb.Point{500001, 5200001}}})
		return errors.Join(err,
			execute(set, "CREATE TABLE notes (text TEXT)"),
			execute(set, "INSERT INTO notes VALUES ('ask the neighbour')"),
			execute(set, "ALTER TABLE well ADD COLUMN colour TEXT"),
			execute(set, "UPDATE well SET colour = 'green'"),
			execute(set, "INSERT INTO settings (key, value) VALUES ('theirs', '5')"),
			execute(set, "INSERT INTO channel (name, scheme, geom) SELECT 'Their arm', 'straight', geom FROM channel"))
	})
	if err != nil {
		t.Fatal(err)
	}
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	theirs := got.Plan.Features[len(got.Plan.Features)-1]
	if theirs.Name != "Their arm" || theirs.Scheme != 2 || theirs.Line() == nil {
		t.Errorf("the channel that another program drew is %+v", theirs)
	}
	for range 2 {
		if err := SaveSite(path, got); err != nil {
			t.Fatal(err)
		}
	}
	for sql, want := range map[string]string{
		"SELECT count(*) FROM survey":                                     "1",
		"SELECT text FROM notes":                                          "ask the neighbour",
		"SELECT colour FROM well":                                         "green",
		"SELECT value FROM settings WHERE key = 'theirs'":                 "5",
		"SELECT count(*) FROM settings WHERE key = 'format'":              "1",
		"SELECT data_type FROM gpkg_contents WHERE table_name = 'survey'": "features",
		"PRAGMA integrity_check":                                          "ok",
	} {
		if got := one(t, path, sql); got != want {
			t.Errorf("%s gives %q, want %q", sql, got, want)
		}
	}
	again, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	sameSite(t, again, got)
}

func TestNumbersThatAnotherProgramGaveTwiceAreMended(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	query(t, path, "INSERT INTO tree (fid, name) VALUES (9, 'Alder')")
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	last := got.Plan.Features[len(got.Plan.Features)-1]
	if last.Name != "Alder" || last.ID != 41 || got.Plan.Last != 41 {
		t.Errorf("the tree is %+v and the last number %d, want 41", last, got.Plan.Last)
	}
	if err := SaveSite(path, got); err != nil {
		t.Error(err)
	}
}

func TestSaveSiteLeavesFilesOfOthersAlone(t *testing.T) {
	free := vector(t, "GPKG", "others.gpkg", "EPSG:32610", "POINT (1 2)")
	if err := SaveSite(free, plot(t)); err != nil {
		t.Fatal(err)
	}
	if one(t, free, "SELECT count(*) FROM things") != "1" {
		t.Error("the layer of others is gone")
	}
	clash := vector(t, "GPKG", "others.gpkg", "EPSG:32610", "POINT (1 2)")
	query(t, clash, "CREATE TABLE roof (area REAL)")
	text := put(t, "letter.gpkg", "Dear neighbour")
	folder := filepath.Join(t.TempDir(), "folder.gpkg")
	os.Mkdir(folder, 0o755)
	busy := filepath.Join(t.TempDir(), "busy.gpkg")
	if err := SaveSite(busy, plot(t)); err != nil {
		t.Fatal(err)
	}
	os.WriteFile(busy+"-wal", []byte("pages"), 0o644)
	for path, want := range map[string]string{
		clash:                 "has a table called roof",
		text:                  "not a GeoPackage",
		folder:                "is a folder",
		busy:                  "open in another program",
		"site.txt":            "end its name in .gpkg",
		"/none/folder/a.gpkg": "cannot be written",
	} {
		before, _ := os.ReadFile(path)
		if err := SaveSite(path, plot(t)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v, want one with %q", path, err, want)
		}
		if after, _ := os.ReadFile(path); string(after) != string(before) {
			t.Errorf("%s has changed", path)
		}
	}
}

// File dialogs make an empty file of the name before they hand it over.
func TestSaveSiteFillsAnEmptyFile(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "vsites") // a folder's name may start as a virtual path does
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "new.gpkg")
	if err := os.WriteFile(path, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	want := plot(t)
	if err := SaveSite(path, want); err != nil {
		t.Fatal(err)
	}
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	sameSite(t, got, want)
}

func TestAFileFromBeforeMoreWasAskedOpensWithTheUsualSettings(t *testing.T) {
	path := filepath.Join(t.TempDir(), "older.gpkg")
	want := plot(t)
	if err := SaveSite(path, want); err != nil {
		t.Fatal(err)
	}
	query(t, path, "DELETE FROM settings WHERE key NOT IN ('format', 'name', 'soil', 'run_days_low', 'run_days_likely', 'run_days_high', "+
		"'last_number', 'crs_code', 'crs_name', 'crs_wkt', 'crs_metre', 'crs_degrees') AND key NOT LIKE 'ground!_%' ESCAPE '!'")
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	soil, days := want.Setting.Soil, want.Setting.RunDays
	want.Setting = plan.UsualSetting()
	want.Setting.Soil, want.Setting.RunDays = soil, days
	sameSite(t, got, want)
}

func TestOpenSiteRefusesInPlainWords(t *testing.T) {
	saved := filepath.Join(t.TempDir(), "verge.gpkg")
	if err := SaveSite(saved, plot(t)); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(saved)
	if err != nil {
		t.Fatal(err)
	}
	damaged := func(sql string) string {
		path := put(t, "damaged.gpkg", string(whole))
		query(t, path, sql)
		return path
	}
	for name, c := range map[string]struct{ path, want string }{
		"no file":              {filepath.Join(t.TempDir(), "none.gpkg"), "no such file"},
		"a letter":             {put(t, "letter.gpkg", "Dear neighbour"), "not a site file"},
		"another GeoPackage":   {vector(t, "GPKG", "others.gpkg", "EPSG:32610", "POINT (1 2)"), "but not a site"},
		"a raster":             {filepath.Join("..", "..", "testdata", "verge.asc"), "not a site file"},
		"a file cut short":     {put(t, "short.gpkg", string(whole[:len(whole)/2])), "damaged"},
		"half a header":        {put(t, "half.gpkg", string(whole[:1000])), "not a site file"},
		"no ground":            {damaged("DELETE FROM gpkg_contents WHERE table_name = 'ground'"), "ground is missing"},
		"a setting of letters": {damaged("UPDATE settings SET value = 'many' WHERE key = 'run_days_low'"), "run_days_low"},
		"a storm of letters":   {damaged("UPDATE settings SET value = 'much' WHERE key = 'storm_mm'"), "storm_mm"},
		"rain that falls up":   {damaged("UPDATE settings SET value = '-5' WHERE key = 'storm_mm'"), `its setting storm_mm is "-5"`},
		"a year of no number":  {damaged("UPDATE settings SET value = 'NaN' WHERE key = 'year_rain_mm'"), "year_rain_mm"},
		"an error without end": {damaged("UPDATE settings SET value = 'Inf' WHERE key = 'survey_error'"), "survey_error"},
		"less than no yield":   {damaged("UPDATE settings SET value = '-0.1' WHERE key = 'aquifer_yield'"), `its setting aquifer_yield is "-0.1"`},
		"a limit of letters":   {damaged("UPDATE settings SET value = 'far' WHERE key = 'limit_well'"), `its setting limit_well is "far"`},
		"a cost of no number":  {damaged("UPDATE settings SET value = 'NaN' WHERE key = 'cost_cut'"), "cost_cut"},
		"a frame of letters":   {damaged("UPDATE settings SET value = 'x' WHERE key = 'ground_dx'"), "ground_dx"},
	} {
		if _, err := OpenSite(c.path); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", name, err, c.want)
		}
	}
}
