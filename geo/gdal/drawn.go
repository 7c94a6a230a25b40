package gdal

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"strings"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/plan"
)

// Drawn is one part of one feature of a drawing.
type Drawn struct {
	// Geometry is a Point, LineString or Polygon with closed rings. Features of
	// several parts become several Drawn with the same fields.
	Geometry orb.Geometry
	// Knots are what the file says that a smooth curve was drawn through.
	Knots orb.LineString
	// Fields holds the values that are set, as text, by the file's own names.
	// Where the layer bears the name of a kind, "kind" holds it.
	Fields map[string]string
	// Layer is the layer's name, of a DXF that of the drawing's own layer; Scheme is
	// the text of a field of that name.
	Layer, Scheme string
	// Unplaced is set where nothing says in which system the shape is: it stands as
	// the file has it, taken to be in that which is asked for.
	Unplaced bool
	// Number counts the features of the layer from 1.
	Number int
	// Z is the height that all points share, in the file's unit; NaN where they
	// have none or differ.
	Z float64
}

const (
	mostFeatures = 2_000_000
	mostPoints   = 20_000_000
	// mostNotes is how many notes on single features are told one by one.
	mostNotes = 20
)

// DrawnOptions say which system a drawing is brought to and which it is in.
type DrawnOptions struct {
	// To is what it is brought to; an unknown one takes coordinates as they are.
	To crs.CRS
	// System is the drawing's, whatever its file says: a name such as EPSG:32632, or
	// OwnSystem. Empty asks the file; where that names none, it is taken to be in To.
	System string
}

// ReadDrawn reads the features of a drawing, in every layer that has positions.
// What has no place in the system that is asked for is left out, and the notes say
// so by number.
func ReadDrawn(ctx context.Context, path string, o DrawnOptions) ([]Drawn, []string, error) {
	full, err := localFile(path)
	if err != nil {
		return nil, nil, err
	}
	d := drawing{to: o.To, torn: map[string]bool{}}
	err = doOn(full, func() (err error) {
		if d.given, err = o.given(); err != nil {
			return err
		}
		set, err := openDrawing(full)
		if err != nil {
			return err
		}
		defer set.Close()
		if set.note != "" {
			d.notes = append(d.notes, set.note)
		}
		switch {
		case failedOnSystem() && !d.given.Known():
			return errUnknownSystem
		case failed():
			d.note("Part of it is damaged and may be missing.")
			forget()
		}
		return d.read(ctx, set.Dataset)
	})
	if err != nil {
		return nil, nil, err
	}
	if more := d.single - mostNotes; more > 0 {
		d.note("%d more features have a note like these.", more)
	}
	return d.drawn, d.notes, nil
}

// given returns the system that a person says a drawing is in; unknown where the
// file is asked.
func (o DrawnOptions) given() (crs.CRS, error) {
	switch o.System {
	case "":
		return crs.CRS{}, nil
	case OwnSystem:
		return o.To, nil
	}
	return lookup(o.System)
}

// errUnknownSystem stands for more than a note: the library goes on as if the
// coordinates were longitudes and latitudes.
var errUnknownSystem = errors.New("it names a reference system that is not known, so where it lies cannot be told; " +
	"save it again in a system with an EPSG code, or as GeoJSON in longitude and latitude")

// A drawing gathers what is read.
type drawing struct {
	to crs.CRS
	// given is the system that a person says it is in; unknown where its file is asked.
	given  crs.CRS
	drawn  []Drawn
	notes  []string
	single int // notes on single features
	// firstFault says what is wrong with the first of them.
	firstFault string
	points     int
	torn       map[string]bool // layers that are told to be damaged
}

func (d *drawing) note(format string, args ...any) {
	d.notes = append(d.notes, fmt.Sprintf(format, args...))
}

// noteOn tells of one feature, unless many have been told of.
func (d *drawing) noteOn(layer string, number int, err error) {
	if d.single++; d.single == 1 {
		d.firstFault = fmt.Sprintf("feature %d of layer %s: %v", number, clip(layer), err)
	}
	if d.single <= mostNotes {
		d.note("Feature %d of layer %s: %v.", number, clip(layer), err)
	}
}

func (d *drawing) read(ctx context.Context, set gdal.Dataset) error {
	placed := 0
	for i := range layerCount(set) {
		layer := set.LayerByIndex(i)
		if layer.Type() == gdal.GT_None {
			continue
		}
		placed++
		if err := d.readLayer(ctx, layer); err != nil {
			return err
		}
	}
	if placed == 0 {
		return fmt.Errorf("it holds no positions; in a table, call the columns x and y, easting and northing, or lon and lat")
	}
	if len(d.drawn) == 0 && d.single > 0 {
		none := fmt.Sprintf("none of its %d features", d.single)
		if d.single == 1 {
			none = "nothing in it"
		}
		return fmt.Errorf("%s can be taken, for %s; mend the file, or give another", none, strings.TrimSuffix(d.firstFault, "; it is left out"))
	}
	return nil
}

func (d *drawing) readLayer(ctx context.Context, layer gdal.Layer) error {
	name := layer.Name()
	from, err := d.systemOf(layer)
	if err != nil {
		return err
	}
	m := &mover{idle: true}
	if from.Known() && d.to.Known() {
		if m, err = newMover(from, d.to); err != nil {
			return err
		}
	}
	defer m.close()
	for number := 1; ; number++ {
		if number%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		f := layer.NextFeature()
		if f == nil {
			break
		}
		err := d.take(*f, Drawn{Layer: name, Number: number, Unplaced: d.to.Known() && !from.Known()}, moverFrom{m, from})
		f.Destroy()
		if err != nil {
			return err
		}
	}
	if failed() {
		return fmt.Errorf("layer %s cannot be read to its end; copy the file again from where it came", clip(name))
	}
	return nil
}

// systemOf returns the system of a layer's coordinates; unknown where they are
// taken as they are.
func (d *drawing) systemOf(layer gdal.Layer) (crs.CRS, error) {
	var from crs.CRS
	if sr := layer.SpatialReference(); handle(sr) != nil {
		from = describe(sr)
	}
	if d.given.Known() {
		if from.Known() && !from.Same(d.given) {
			d.note("Layer %s says that it is in %v; it is taken to be in %v, as you say.", clip(layer.Name()), from, d.given)
		}
		from = d.given
	}
	if !from.Known() && hasColumn(layer, "lon", "long", "longitude") && !hasColumn(layer, "x", "e", "east", "easting") {
		from = crs.LonLat()
		d.note("Layer %s names no reference system; its columns are taken to be longitude and latitude on WGS 84.", clip(layer.Name()))
	}
	switch {
	case !from.Known():
		d.note("Layer %s names no reference system; it is taken to be in that of the site.", clip(layer.Name()))
	case !d.to.Known() && from.Degrees:
		return from, fmt.Errorf("its coordinates are longitudes and latitudes, and the site has no reference system to bring them to; give the site one")
	case !d.to.Known():
		d.note("Layer %s is in %v; the site has no reference system, so its coordinates are taken as they are.", clip(layer.Name()), from)
	}
	return from, nil
}

func hasColumn(layer gdal.Layer, names ...string) bool {
	definition := layer.Definition()
	for i := range definition.FieldCount() {
		for _, name := range names {
			if strings.EqualFold(definition.FieldDefinition(i).Name(), name) {
				return true
			}
		}
	}
	return false
}

// moverFrom is a mover with the system that it starts from.
type moverFrom struct {
	*mover
	system crs.CRS
}

// take adds the parts of one feature. Only what ends the reading is an error.
func (d *drawing) take(f gdal.Feature, as Drawn, m moverFrom) error {
	if failed() { // the library reads ahead, so which feature it is about is not known
		if !d.torn[as.Layer] {
			d.torn[as.Layer] = true
			d.note("Part of layer %s is damaged; what can be read of it is taken.", clip(as.Layer))
		}
		forget()
	}
	parts, err := partsOf(f.Geometry())
	if err != nil {
		d.noteOn(as.Layer, as.Number, fmt.Errorf("%w; it is left out", err))
		return nil
	}
	as.Fields = fieldsOf(f)
	as.Geometry = parts[0].shape
	as.Layer = layerOf(as)
	as.takeKind()
	as.Scheme = as.Fields[keyFold(as.Fields, "scheme")]
	if as.Knots = knotsIn(as.Fields[knotsColumn]); m.moveChecked(as.Knots) != nil {
		as.Knots = nil
	}
	for i, part := range parts {
		shape, opened, err := m.moveShape(part.shape)
		if err != nil {
			d.noteOn(as.Layer, as.Number, fmt.Errorf("%w; it is left out", err))
			continue
		}
		if opened {
			d.noteOn(as.Layer, as.Number, fmt.Errorf("its outline was open; it is closed at the point where it starts"))
		}
		one := as
		one.Geometry, one.Z = shape, part.z
		if i > 0 {
			one.Fields = maps.Clone(as.Fields)
		}
		d.drawn = append(d.drawn, one)
		d.points += part.points + len(as.Knots)
	}
	if len(d.drawn) > mostFeatures || d.points > mostPoints {
		return fmt.Errorf("it holds more than %d features or %d points; cut it to the site", mostFeatures, mostPoints)
	}
	return nil
}

// keyFold returns the key of fields that is name whatever its case, or name.
func keyFold(fields map[string]string, name string) string {
	if _, ok := fields[name]; ok {
		return name
	}
	for key := range fields {
		if strings.EqualFold(key, name) {
			return key
		}
	}
	return name
}

// fieldsOf returns what is set of a feature's fields.
func fieldsOf(f gdal.Feature) map[string]string {
	fields := make(map[string]string, f.FieldCount())
	for i := range f.FieldCount() {
		if f.IsFieldSetAndNotNull(i) {
			fields[f.FieldDefinition(i).Name()] = fieldText(f, i)
		}
	}
	return fields
}

// layerOf returns the layer of a drawing that a feature is on. The library puts all
// that is in a DXF into one layer of its own and says in fields what the drawing
// calls it; its texts are apart from what is drawn there.
func layerOf(d Drawn) string {
	layer, ok := d.Fields["Layer"]
	_, entity := d.Fields["EntityHandle"] // as what was made of a DXF has too
	if !ok || layer == "" || !entity && d.Layer != "entities" {
		return d.Layer
	}
	if _, point := d.Geometry.(orb.Point); point && d.Fields["Text"] != "" {
		return layer + textsOf
	}
	return layer
}

// textsOf ends the name of what the texts of a DXF's layer are told as.
const textsOf = ", texts"

// takeKind sets the field kind where the layer bears the name of one.
func (d *Drawn) takeKind() {
	if _, ok := plan.KindNamed(d.Layer); ok && d.Fields[keyFold(d.Fields, "kind")] == "" {
		d.Fields["kind"] = d.Layer
	}
}
