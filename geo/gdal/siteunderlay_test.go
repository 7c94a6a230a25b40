package gdal

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image/png"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/lukeroth/gdal"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// pngTile is the PNG of the test image.
func pngTile(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, quarters(w, h)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// laid is a site with two images: one of two tiles, and one whose second tile of
// four is clear.
func laid(t testing.TB) *plan.Site {
	s := plot(t)
	tile := pngTile(t, 8, 6)
	s.Underlays = []plan.Underlay{
		{ID: 38, Name: "Orchard; '26", Opacity: 0.7, Frame: grid.Frame{W: 16, H: 6, West: 500000.3, North: 5200000.1, DX: 0.1, DY: 0.2},
			Picture: &plan.Picture{TileW: 8, TileH: 6, Tiles: [][]byte{tile, tile}}},
		{ID: 21, Name: "old map", Hidden: true, Frame: grid.Square(16, 12, 499999, 5200003, 0.5),
			Picture: &plan.Picture{TileW: 8, TileH: 6, Tiles: [][]byte{tile, nil, tile, tile}}},
	}
	return s
}

func TestImagesComeBackByteForByte(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	want := laid(t)
	comesBack(t, path, want)
	for _, left := range [][]plan.Underlay{want.Underlays[1:], nil} {
		s := *want
		s.Underlays = left
		if err := SaveSite(path, &s); err != nil {
			t.Fatal(err)
		}
		got, err := OpenSite(path)
		if err != nil || len(got.Underlays) != len(left) || len(left) > 0 && !reflect.DeepEqual(got.Underlays, left) {
			t.Errorf("%d images come back, want %d; %v", len(got.Underlays), len(left), err)
		}
		if n := one(t, path, "SELECT count(*) FROM gpkg_contents WHERE data_type = 'tiles'"); n != fmt.Sprint(len(left)) {
			t.Errorf("the file has %s pyramids, want %d", n, len(left))
		}
	}
}

// The tables are those of OGC 12-128r17, 2.2; that another program sees the image
// is shown by GDAL's own reader of tile pyramids.
func TestAnImageIsATilePyramidForOthers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := laid(t)
	for _, s.Ground = range []grid.Ground{s.Ground, {}} {
		os.Remove(path)
		if err := SaveSite(path, s); err != nil {
			t.Fatal(err)
		}
		for sql, want := range map[string]string{
			"PRAGMA integrity_check": "ok",
			"SELECT data_type || srs_id FROM gpkg_contents WHERE table_name = 'underlay_38'":                                          "tiles32610",
			"SELECT matrix_width || ' ' || matrix_height || ' ' || tile_width FROM gpkg_tile_matrix WHERE table_name = 'underlay_21'": "2 2 8",
			"SELECT count(*) FROM underlay_21": "3",
		} {
			if got := one(t, path, sql); got != want {
				t.Errorf("%s gives %q, want %q", sql, got, want)
			}
		}
		if broken := query(t, path, "PRAGMA foreign_key_check"); len(broken) != 0 {
			t.Errorf("foreign keys are broken: %v", broken)
		}
		reds := make([]uint8, 16*12)
		alphas := make([]uint8, 16*12)
		err := do(func() error {
			set, err := gdal.OpenEx(path, gdal.OFRaster|gdal.OFReadOnly, []string{"GPKG"}, []string{"TABLE=underlay_21"}, nil)
			if err != nil {
				return err
			}
			defer set.Close()
			if t0 := set.GeoTransform(); t0 != [6]float64{499999, 0.5, 0, 5200003, 0, -0.5} || set.RasterXSize() != 16 || set.RasterYSize() != 12 {
				t.Errorf("it is %d by %d pixels at %v", set.RasterXSize(), set.RasterYSize(), t0)
			}
			if err := set.RasterBand(1).IO(gdal.Read, 0, 0, 16, 12, reds, 16, 12, 0, 0); err != nil {
				return err
			}
			return set.RasterBand(4).IO(gdal.Read, 0, 0, 16, 12, alphas, 16, 12, 0, 0)
		})
		if err != nil {
			t.Fatal(err)
		}
		if reds[0] != red.R || reds[4] != green.R || alphas[0] != 255 || alphas[12] != 0 {
			t.Errorf("red is %d and %d, opacity %d and %d", reds[0], reds[4], alphas[0], alphas[12])
		}
	}
}

func TestTheGroundOfASiteWithImagesIsReadAsBefore(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	if err := SaveSite(path, laid(t)); err != nil {
		t.Fatal(err)
	}
	cellsAre(t, read(t, path).Grid.V, plot(t).Ground.V...)
}

func TestTablesOfOthersWithLikeNamesStay(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	if err := SaveSite(path, plot(t)); err != nil {
		t.Fatal(err)
	}
	query(t, path, "CREATE TABLE underlay_38 (note TEXT)")
	query(t, path, "INSERT INTO underlay_38 VALUES ('theirs')")
	want := laid(t)
	for range 2 {
		if err := SaveSite(path, want); err != nil {
			t.Fatal(err)
		}
	}
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	sameSite(t, got, want)
	if one(t, path, "SELECT note FROM underlay_38") != "theirs" {
		t.Error("the table of others is gone")
	}
	// A row that names a table which is none of ours does not have it dropped.
	query(t, path, "UPDATE underlays SET tiles = 'roof' WHERE fid = 21")
	if err := SaveSite(path, want); err != nil {
		t.Fatal(err)
	}
	if got, err := OpenSite(path); err != nil || len(got.Plan.Features) != 4 || len(got.Underlays) != 2 {
		t.Errorf("the site is %+v, %v", got, err)
	}
	theirs := filepath.Join(t.TempDir(), "theirs.gpkg")
	if err := SaveSite(theirs, plot(t)); err != nil {
		t.Fatal(err)
	}
	query(t, theirs, "CREATE TABLE underlays (colour TEXT)")
	if err := SaveSite(theirs, plot(t)); err != nil {
		t.Errorf("a site without images beside a table of others: %v", err)
	}
	if err := SaveSite(theirs, want); err == nil || !strings.Contains(err.Error(), "another program's; choose another name") {
		t.Errorf("a site with images over a table of others: %v", err)
	}
}

func TestImagesThatCannotBeAreRefused(t *testing.T) {
	for sql, want := range map[string]string{
		"UPDATE underlays SET width = 100000, tile_width = 50000 WHERE fid = 21":                                                            "its size is not one",
		"UPDATE underlays SET width = -16 WHERE fid = 21":                                                                                   "its size is not one",
		"UPDATE underlays SET tile_width = 0 WHERE fid = 21":                                                                                "its size is not one",
		"UPDATE underlays SET tile_height = 5 WHERE fid = 21":                                                                               "its size is not one",
		"UPDATE underlays SET opacity = 3 WHERE fid = 21":                                                                                   "its size is not one",
		"UPDATE underlays SET dx = NULL WHERE fid = 21":                                                                                     "its size is not one",
		"UPDATE underlay_21 SET tile_data = zeroblob(2000000) WHERE id = 1":                                                                 "longer than its pixels can be",
		"INSERT INTO underlays (fid, name) WITH RECURSIVE n(i) AS (SELECT 100 UNION ALL SELECT i + 1 FROM n LIMIT 30) SELECT i, 'x' FROM n": "more than 16 images",
	} {
		path := filepath.Join(t.TempDir(), "verge.gpkg")
		if err := SaveSite(path, laid(t)); err != nil {
			t.Fatal(err)
		}
		query(t, path, sql)
		if _, err := OpenSite(path); err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "restore the file from a copy") {
			t.Errorf("%s: %v, want %q", sql, err, want)
		}
	}
}

// A table of tiles that another program has taken away costs its pixels and no more.
func TestAnImageWithoutItsTableIsBlank(t *testing.T) {
	for _, sql := range []string{
		"UPDATE underlays SET tiles = 'roof' WHERE fid = 21",
		"UPDATE underlays SET tiles = 'underlay_99' WHERE fid = 21",
		"DROP TABLE underlay_21",
	} {
		path := filepath.Join(t.TempDir(), "verge.gpkg")
		if err := SaveSite(path, laid(t)); err != nil {
			t.Fatal(err)
		}
		query(t, path, sql)
		s, err := OpenSite(path)
		if err != nil {
			t.Errorf("%s: %v", sql, err)
			continue
		}
		if len(s.Underlays) != len(laid(t).Underlays) || len(s.Plan.Features) != len(laid(t).Plan.Features) {
			t.Errorf("%s: %d images and %d features are left", sql, len(s.Underlays), len(s.Plan.Features))
		}
		for _, u := range s.Underlays {
			if pixels := slices.ContainsFunc(u.Picture.Tiles, func(b []byte) bool { return len(b) > 0 }); u.ID == 21 && pixels {
				t.Errorf("%s: the image has pixels of another table", sql)
			}
		}
		if err := SaveSite(path, s); err != nil {
			t.Errorf("%s: it cannot be saved: %v", sql, err)
		}
	}
}

// bomb is the head of a PNG that says it has so many pixels (ISO/IEC 15948, 11.2.2).
func bomb(w, h uint32) []byte {
	head := append([]byte("IHDR"), binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)...)
	head = append(head, 8, 6, 0, 0, 0)
	b := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	b = append(b, head...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(head))
}

// A damaged tile costs no more than itself: the site opens, the tile is told of,
// and it is saved as it is.
func TestADamagedTileIsToldOfAndKept(t *testing.T) {
	good := pngTile(t, 8, 6)
	for name, tile := range map[string][]byte{
		"of another size": pngTile(t, 9, 6),
		"cut short":       good[:len(good)-20],
		"no image":        []byte("Dear neighbour"),
		"a bomb":          bomb(100_000, 100_000),
	} {
		path := filepath.Join(t.TempDir(), "verge.gpkg")
		s := laid(t)
		s.Underlays[0].Picture.Tiles[1] = tile
		if err := SaveSite(path, s); err != nil {
			t.Fatal(err)
		}
		got, err := OpenSite(path)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		sameSite(t, got, s)
		p := got.Underlays[0].Picture
		if _, err := p.Tile(0); err != nil {
			t.Errorf("%s: the tile beside it: %v", name, err)
		}
		if _, err := p.Tile(1); err == nil || !strings.Contains(err.Error(), "damaged") {
			t.Errorf("%s: %v", name, err)
		}
		if p.Sound() == nil {
			t.Errorf("%s is taken for sound", name)
		}
	}
}

func TestImagesThatTheFileCouldNotGiveBackAreNotSaved(t *testing.T) {
	for want, spoil := range map[string]func(*plan.Site){
		"has the number 38":   func(s *plan.Site) { s.Underlays[1].ID = 38 },
		"has the number 0":    func(s *plan.Site) { s.Underlays[1].ID = 0 },
		"has no picture":      func(s *plan.Site) { s.Underlays[1].Picture = nil },
		"an opacity of 200 %": func(s *plan.Site) { s.Underlays[1].Opacity = 2 },
		"and a file holds 16": func(s *plan.Site) { s.Underlays = make([]plan.Underlay, 17) },
	} {
		s := laid(t)
		spoil(s)
		if err := SaveSite(filepath.Join(t.TempDir(), "a.gpkg"), s); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// What a damaged site file gives is a site whose images can be drawn and saved, or
// one sentence.
func FuzzOpenSiteWithImages(f *testing.F) {
	path := filepath.Join(f.TempDir(), "verge.gpkg")
	if err := SaveSite(path, laid(f)); err != nil {
		f.Fatal(err)
	}
	whole, err := os.ReadFile(path)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(uint32(len(whole)/2), []byte("x"))
	f.Add(uint32(bytes.LastIndex(whole, []byte("IHDR"))), []byte("IHDR\x7f\xff\xff\xff\x7f\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, at uint32, patch []byte) {
		text := bytes.Clone(whole)
		copy(text[int(at)%len(text):], patch)
		broken := filepath.Join(t.TempDir(), "broken.gpkg")
		if err := os.WriteFile(broken, text, 0o644); err != nil {
			t.Fatal(err)
		}
		s, err := OpenSite(broken)
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Fatalf("the error is more than one line: %q", err)
			}
			return
		}
		for _, u := range s.Underlays {
			if err := u.Check(); err != nil {
				t.Fatal(err)
			}
			for i := range u.Picture.Tiles {
				if tile, err := u.Picture.Tile(i); err == nil && tile != nil && (tile.Bounds().Dx() != u.Picture.TileW || tile.Bounds().Dy() != u.Picture.TileH) {
					t.Fatalf("a tile is %v", tile.Bounds())
				}
			}
		}
	})
}
