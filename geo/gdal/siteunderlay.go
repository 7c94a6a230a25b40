package gdal

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/lukeroth/gdal"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// The images under the map are tile pyramids of one level (12-128r17, 2.2), which
// other programs show as well. A table of ours says how each is shown. Tiles are
// stored as they are held, and never made anew.
const (
	underlaysTable = "underlays"
	underlayPrefix = "underlay_" // and a number: the name of a table of tiles
)

// underlayTiles is what the name of a table of tiles looks like: no other table
// is ever read as one, or replaced.
var underlayTiles = regexp.MustCompile(`^underlay_[0-9]{1,19}$`)

var underlayColumns = []column{
	{name: "name", kind: gdal.FT_String}, {name: "tiles", kind: gdal.FT_String}, {name: "place", kind: gdal.FT_Integer64},
	{name: "opacity", kind: gdal.FT_Real}, {name: "hidden", kind: gdal.FT_Integer64},
	{name: "west", kind: gdal.FT_Real}, {name: "north", kind: gdal.FT_Real}, {name: "dx", kind: gdal.FT_Real}, {name: "dy", kind: gdal.FT_Real},
	{name: "width", kind: gdal.FT_Integer64}, {name: "height", kind: gdal.FT_Integer64},
	{name: "tile_width", kind: gdal.FT_Integer64}, {name: "tile_height", kind: gdal.FT_Integer64},
}

// tileTables are the tables of tile pyramids, as 12-128r17 annex C.4 to C.6
// defines them.
var tileTables = []string{
	`CREATE TABLE IF NOT EXISTS gpkg_tile_matrix_set (
		table_name TEXT NOT NULL PRIMARY KEY, srs_id INTEGER NOT NULL,
		min_x DOUBLE NOT NULL, min_y DOUBLE NOT NULL, max_x DOUBLE NOT NULL, max_y DOUBLE NOT NULL,
		CONSTRAINT fk_gtms_table_name FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
		CONSTRAINT fk_gtms_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id))`,
	`CREATE TABLE IF NOT EXISTS gpkg_tile_matrix (
		table_name TEXT NOT NULL, zoom_level INTEGER NOT NULL, matrix_width INTEGER NOT NULL, matrix_height INTEGER NOT NULL,
		tile_width INTEGER NOT NULL, tile_height INTEGER NOT NULL, pixel_x_size DOUBLE NOT NULL, pixel_y_size DOUBLE NOT NULL,
		CONSTRAINT pk_ttm PRIMARY KEY (table_name, zoom_level),
		CONSTRAINT fk_tmm_table_name FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name))`,
}

// putUnderlays replaces our images. Its features' layers are in the file already.
// A file that never had an image gets no table for them.
func putUnderlays(set gdal.Dataset, s *plan.Site) error {
	held := set.LayerByName(underlaysTable)
	switch {
	case len(s.Underlays) == 0 && !ourUnderlays(held):
		return nil
	case !ourUnderlays(held) && hasTable(set, underlaysTable):
		return fmt.Errorf("the file has a table called %s that is another program's; choose another name", underlaysTable)
	}
	layer, err := ensureTable(set, underlaysTable, underlayColumns)
	if err != nil {
		return err
	}
	if err := dropUnderlays(set, layer); err != nil {
		return err
	}
	var rows []row
	for i, u := range s.Underlays {
		tiles, err := freeTiles(set, u.ID)
		if err != nil {
			return err
		}
		if err := putTiles(set, u, tiles); err != nil {
			return fmt.Errorf("the image %s: %w", u.Title(), err)
		}
		rows = append(rows, underlayRow(u, tiles, i))
	}
	return replaceRows(layer, rows)
}

// ourUnderlays tells our table from another of its name.
func ourUnderlays(layer gdal.Layer) bool {
	return handle(layer) != nil && layer.Definition().FieldIndex("tiles") >= 0 && layer.Definition().FieldIndex("tile_width") >= 0
}

func underlayRow(u plan.Underlay, tiles string, place int) row {
	hidden := int64(0)
	if u.Hidden {
		hidden = 1
	}
	f, p := u.Frame, u.Picture
	return row{id: int64(u.ID), values: map[string]any{
		"name": u.Name, "tiles": tiles, "place": int64(place), "opacity": u.Opacity, "hidden": hidden,
		"west": f.West, "north": f.North, "dx": f.DX, "dy": f.DY, "width": int64(f.W), "height": int64(f.H),
		"tile_width": int64(p.TileW), "tile_height": int64(p.TileH),
	}}
}

// dropUnderlays removes the tables of tiles that our table names.
func dropUnderlays(set gdal.Dataset, layer gdal.Layer) error {
	var names []string
	err := eachFeature(layer, func(f gdal.Feature) error {
		if name := textIn(f, "tiles"); underlayTiles.MatchString(name) && !slices.Contains(names, name) {
			names = append(names, name)
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, name := range names {
		if !hasTable(set, name) {
			continue
		}
		for _, from := range []string{"gpkg_tile_matrix", "gpkg_tile_matrix_set", "gpkg_contents"} {
			if err := execute(set, "DELETE FROM "+from+" WHERE table_name = "+quote(name)); err != nil {
				return err
			}
		}
		if err := execute(set, "DROP TABLE "+name); err != nil {
			return err
		}
	}
	return nil
}

// freeTiles returns a name for a table of tiles that nobody has.
func freeTiles(set gdal.Dataset, id plan.UnderlayID) (string, error) {
	for n := int64(id); n < int64(id)+1000; n++ {
		if name := underlayPrefix + strconv.FormatInt(n, 10); !hasTable(set, name) {
			return name, nil
		}
	}
	return "", fmt.Errorf("the file has too many tables called %s and a number; choose another name", underlayPrefix)
}

// putTiles stores an image as a table of tiles.
func putTiles(set gdal.Dataset, u plan.Underlay, table string) error {
	f, p, b := u.Frame, u.Picture, u.Frame.Bound()
	srs := "(SELECT srs_id FROM gpkg_geometry_columns WHERE table_name = " + quote(plan.Specs()[0].Name) + ")"
	corners := strings.Join([]string{number(b.Min[0]), number(b.Min[1]), number(b.Max[0]), number(b.Max[1])}, ", ")
	across, down := f.W/p.TileW, f.H/p.TileH
	statements := append(slices.Clip(tileTables),
		"CREATE TABLE "+table+` (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, zoom_level INTEGER NOT NULL,
			tile_column INTEGER NOT NULL, tile_row INTEGER NOT NULL, tile_data BLOB NOT NULL, UNIQUE (zoom_level, tile_column, tile_row))`,
		"INSERT INTO gpkg_contents (table_name, data_type, identifier, description, min_x, min_y, max_x, max_y, srs_id) VALUES ("+
			quote(table)+", 'tiles', "+quote(storable(u.Title()+" ("+table+")"))+", 'lies under the map', "+corners+", "+srs+")",
		"INSERT INTO gpkg_tile_matrix_set (table_name, srs_id, min_x, min_y, max_x, max_y) VALUES ("+quote(table)+", "+srs+", "+corners+")",
		fmt.Sprintf("INSERT INTO gpkg_tile_matrix VALUES (%s, 0, %d, %d, %d, %d, %s, %s)", quote(table), across, down, p.TileW, p.TileH, number(f.DX), number(f.DY)))
	for _, sql := range statements {
		if err := execute(set, sql); err != nil {
			return err
		}
	}
	for i, tile := range p.Tiles {
		if len(tile) == 0 {
			continue
		}
		err := execute(set, fmt.Sprintf("INSERT INTO %s (zoom_level, tile_column, tile_row, tile_data) VALUES (0, %d, %d, x'%x')", table, i%across, i/across, tile))
		if err != nil {
			return err
		}
	}
	return nil
}

// takeUnderlays reads the images, of which there may be none.
func takeUnderlays(set gdal.Dataset, s *plan.Site) error {
	layer := set.LayerByName(underlaysTable)
	if !ourUnderlays(layer) {
		return nil
	}
	type placed struct {
		plan.Underlay
		tiles string
		place int64
	}
	var all []placed
	err := eachFeature(layer, func(f gdal.Feature) error {
		if len(all) == plan.MostUnderlays {
			return fmt.Errorf("it has more than %d images under the map, so it is damaged; restore the file from a copy", plan.MostUnderlays)
		}
		all = append(all, placed{underlayIn(f), textIn(f, "tiles"), placeIn(f)})
		return nil
	})
	if err != nil {
		return err
	}
	slices.SortStableFunc(all, func(a, b placed) int { return cmpPlace(a.place, b.place) })
	for _, p := range all {
		if err := takeTiles(set, &p.Underlay, p.tiles); err != nil {
			return fmt.Errorf("its image %s is damaged: %w; restore the file from a copy", clip(p.Title()), err)
		}
		s.Underlays = append(s.Underlays, p.Underlay)
		s.Plan.Last = max(s.Plan.Last, int64(p.ID))
	}
	return nil
}

// underlayIn returns what a row says of an image, whether or not it can be so.
func underlayIn(f gdal.Feature) plan.Underlay {
	real := func(name string) float64 {
		if i := f.FieldIndex(name); i >= 0 && f.IsFieldSetAndNotNull(i) {
			return f.FieldAsFloat64(i)
		}
		return math.NaN()
	}
	whole := func(name string) int {
		if i := f.FieldIndex(name); i >= 0 {
			return int(f.FieldAsInteger64(i))
		}
		return 0
	}
	return plan.Underlay{
		ID: plan.UnderlayID(f.FID()), Name: textIn(f, "name"), Opacity: real("opacity"), Hidden: whole("hidden") != 0,
		Frame: grid.Frame{
			W: whole("width"), H: whole("height"), West: real("west"), North: real("north"), DX: real("dx"), DY: real("dy"),
		},
		Picture: &plan.Picture{TileW: whole("tile_width"), TileH: whole("tile_height")},
	}
}

// takeTiles reads the tiles of an image once its sizes have been looked at. An image
// whose table another program has taken away is blank: it costs no one the plan.
func takeTiles(set gdal.Dataset, u *plan.Underlay, table string) error {
	f, p := u.Frame, u.Picture
	if f.W > 0 && f.H > 0 && f.W <= plan.UnderlaySide && f.H <= plan.UnderlaySide && p.TileW > 0 && p.TileH > 0 {
		p.Tiles = make([][]byte, f.W/p.TileW*(f.H/p.TileH))
	}
	if err := u.Check(); err != nil {
		return fmt.Errorf("its size is not one that an image has")
	}
	if !underlayTiles.MatchString(table) || !hasTable(set, table) {
		return nil
	}
	return eachTile(set, table, u.Columns(), p.Tiles)
}

// eachTile puts the tiles of a table in their places. Longer ones than a tile can
// be are not read at all, and those beyond the last are not ours.
func eachTile(set gdal.Dataset, table string, across int, into [][]byte) error {
	sql := fmt.Sprintf("SELECT tile_column, tile_row, CASE WHEN length(tile_data) <= %d THEN tile_data END AS data FROM %s WHERE zoom_level = 0 "+
		"AND tile_column >= 0 AND tile_column < %d AND tile_row >= 0 AND tile_row < %d", plan.MostTileBytes, table, across, len(into)/across)
	result := set.ExecuteSQL(sql, gdal.Geometry{}, "")
	if handle(result) == nil {
		return fmt.Errorf("its tiles cannot be read")
	}
	defer set.ReleaseResultSet(result)
	return eachFeature(result, func(f gdal.Feature) error {
		data := f.FieldIndex("data")
		if data < 0 || !f.IsFieldSetAndNotNull(data) {
			return fmt.Errorf("a tile is longer than its pixels can be")
		}
		at := int(f.FieldAsInteger64(f.FieldIndex("tile_row")))*across + int(f.FieldAsInteger64(f.FieldIndex("tile_column")))
		into[at] = bytes.Clone(f.FieldAsBinary(data)) // the library's memory goes with the row
		return nil
	})
}

// checkUnderlays refuses images that the file could not give back.
func checkUnderlays(s *plan.Site) error {
	if len(s.Underlays) > plan.MostUnderlays {
		return fmt.Errorf("the site has %d images under the map, and a file holds %d; remove some", len(s.Underlays), plan.MostUnderlays)
	}
	seen := make(map[plan.UnderlayID]bool)
	for _, u := range s.Underlays {
		if err := u.Check(); err != nil {
			return err
		}
		if u.ID < 1 || seen[u.ID] {
			return fmt.Errorf("the image %s has the number %d, which another has or none can have; remove it and add it again", u.Title(), u.ID)
		}
		seen[u.ID] = true
	}
	return nil
}
