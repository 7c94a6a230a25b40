package gdal

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
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
	read := d.readFile
	if isTable(full) {
		look, err := lookAtTable(full)
		if err != nil {
			return nil, nil, err
		}
		read = func(ctx context.Context, full string) error { return d.readTable(ctx, full, look) }
	}
	err = doOn(full, func() (err error) {
		if d.given, err = o.given(); err != nil {
			return err
		}
		return read(ctx, full)
	})
	if err != nil {
		return nil, nil, err
	}
	if more := d.single - mostNotes; more > 0 {
		d.note("%d more features have a note like these.", more)
	}
	return d.drawn, d.notes, nil
}

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

// readFile reads what is no table.
func (d *drawing) readFile(ctx context.Context, full string) error {
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
	if strings.HasSuffix(set.Driver().ShortName(), "KML") && linksIn(full) {
		if err := d.read(ctx, set.Dataset); err != nil {
			return err
		}
		if len(d.drawn) == 0 {
			return errOnlyLinks
		}
		d.note("Its links to other files are not followed.")
		return nil
	}
	return d.read(ctx, set.Dataset)
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
		return errNoPositions
	}
	return d.checkSome()
}

var errNoPositions = errors.New("it holds no positions; in a table, call the columns x and y, easting and northing, or lon and lat")

// checkSome reports that nothing of what was read could be taken.
func (d *drawing) checkSome() error {
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
	m, err := d.moverOf(systemSaid{
		layer: name, system: saidBy(layer),
		degrees: hasColumn(layer, "lon", "long", "longitude") && !hasColumn(layer, "x", "e", "east", "easting"),
	})
	if err != nil {
		return err
	}
	defer m.close()
	as := Drawn{Layer: name, Unplaced: d.to.Known() && !m.system.Known()}
	for number := 1; ; number++ {
		if number%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		f := layer.NextFeature()
		if f == nil {
			break
		}
		as.Number = number
		err := d.take(*f, as, m)
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
