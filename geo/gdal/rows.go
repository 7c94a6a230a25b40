package gdal

import (
	"fmt"
	"strings"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
)

// A column is one of a table that we write. title and about are for people who
// open the file in another program.
type column struct {
	name         string
	kind         gdal.FieldType
	title, about string
}

// A row is what we write in one row: text, float64, int64, or nil for nothing.
type row struct {
	id    int64
	shape orb.Geometry
	// wkb is the geometry where it has heights, which a shape has not.
	wkb    []byte
	values map[string]any
}

// eachFeature visits the rows of a layer from its start.
func eachFeature(layer gdal.Layer, visit func(gdal.Feature) error) error {
	layer.ResetReading()
	for f := layer.NextFeature(); f != nil; f = layer.NextFeature() {
		err := visit(*f)
		f.Destroy()
		if err != nil {
			return err
		}
	}
	if failed() {
		return fmt.Errorf("table %s is damaged; restore the file from a copy", layer.Name())
	}
	return nil
}

// A layerForm is what a layer of ours is to be.
type layerForm struct {
	name, label string
	shape       gdal.GeometryType
	columns     []column
}

// ensureLayer returns a layer in a system, with all of its columns. A layer that is
// in another system is made anew.
func ensureLayer(set gdal.Dataset, form layerForm, c crs.CRS, sr gdal.SpatialReference) (gdal.Layer, error) {
	layer := set.LayerByName(form.name)
	if handle(layer) != nil && !layerIn(layer, c) {
		if err := removeLayer(set, form.name); err != nil {
			return layer, err
		}
		layer = gdal.Layer{}
	}
	if handle(layer) == nil {
		layer = set.CreateLayer(form.name, sr, form.shape, []string{"IDENTIFIER=" + form.label})
	}
	return layer, ensureColumns(layer, form.columns)
}

// ensureTable returns a table without geometry, with all of its columns.
func ensureTable(set gdal.Dataset, name string, columns []column) (gdal.Layer, error) {
	layer := set.LayerByName(name)
	if handle(layer) == nil {
		layer = set.CreateLayer(name, gdal.SpatialReference{}, gdal.GT_None, nil)
	}
	return layer, ensureColumns(layer, columns)
}

func layerIn(layer gdal.Layer, c crs.CRS) bool {
	var have crs.CRS
	if sr := layer.SpatialReference(); handle(sr) != nil {
		have = describe(sr)
	}
	return have.Same(c) || !have.Known() && !c.Known()
}

func removeLayer(set gdal.Dataset, name string) error {
	for i := range layerCount(set) {
		if set.LayerByIndex(i).Name() == name {
			return deleteLayer(set, i)
		}
	}
	return nil
}

func ensureColumns(layer gdal.Layer, columns []column) error {
	if handle(layer) == nil {
		return fmt.Errorf("a table cannot be made; the disk may be full")
	}
	for _, c := range columns {
		if layer.Definition().FieldIndex(c.name) >= 0 {
			continue
		}
		definition := gdal.CreateFieldDefinition(c.name, c.kind)
		err := layer.CreateField(definition, false)
		definition.Destroy()
		if err != nil {
			return fmt.Errorf("column %s cannot be made", c.name)
		}
	}
	return nil
}

// replaceRows makes the rows of a layer those given, by their ids. What other
// programs keep in columns of their own stays with the row.
func replaceRows(layer gdal.Layer, rows []row) error {
	var stale []int64
	keep := make(map[int64]bool, len(rows))
	for _, r := range rows {
		keep[r.id] = true
	}
	have := make(map[int64]bool)
	err := eachFeature(layer, func(f gdal.Feature) error {
		if have[f.FID()] = true; !keep[f.FID()] {
			stale = append(stale, f.FID())
		}
		return nil
	})
	if err != nil {
		return err
	}
	if err := layer.Sync(); err != nil { // tables are made on the first write; not inside a transaction
		return fmt.Errorf("the disk may be full")
	}
	if err := layer.StartTransaction(); err != nil {
		return fmt.Errorf("the file is locked by another program")
	}
	for _, id := range stale {
		if err := layer.Delete(id); err != nil {
			return fmt.Errorf("row %d cannot be removed", id)
		}
	}
	for _, r := range rows {
		if err := r.put(layer, have[r.id]); err != nil {
			return fmt.Errorf("row %d: %w", r.id, err)
		}
	}
	return layer.CommitTransaction()
}

// put writes a row over one of its id, or adds it.
func (r row) put(layer gdal.Layer, exists bool) error {
	var f gdal.Feature
	if exists {
		f = layer.Feature(r.id)
	} else {
		f = layer.Definition().Create()
	}
	if handle(f) == nil {
		return fmt.Errorf("it cannot be read")
	}
	defer f.Destroy()
	if err := f.SetFID(r.id); err != nil {
		return fmt.Errorf("it cannot be numbered")
	}
	for name, v := range r.values {
		setField(f, f.FieldIndex(name), v)
	}
	if layer.Type() != gdal.GT_None {
		if err := r.setGeometry(f); err != nil {
			return err
		}
	}
	write := layer.Create
	if exists {
		write = layer.SetFeature
	}
	if err := write(f); err != nil {
		return fmt.Errorf("it cannot be stored; the disk may be full")
	}
	return nil
}

func setField(f gdal.Feature, i int, v any) {
	switch v := v.(type) {
	case nil:
		setNull(f, i)
	case float64:
		f.SetFieldFloat64(i, v)
	case int64:
		f.SetFieldInteger64(i, v)
	case string:
		f.SetFieldString(i, storable(v))
	}
}

// storable returns text that a C string and UTF-8 can hold.
func storable(text string) string {
	return strings.ReplaceAll(strings.ToValidUTF8(text, "�"), "\x00", "�")
}
