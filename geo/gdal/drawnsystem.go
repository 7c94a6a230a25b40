package gdal

import (
	"errors"
	"fmt"
	"strings"

	"github.com/lukeroth/gdal"

	"runnel/geo/crs"
)

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

// moverFrom is a mover with the system that it starts from.
type moverFrom struct {
	*mover
	system crs.CRS
}

// systemSaid is what a layer says of where it lies.
type systemSaid struct {
	layer  string
	system crs.CRS // unknown where it names none
	// degrees is set where its columns are called longitude and latitude.
	degrees bool
}

// saidBy returns the system that a layer names.
func saidBy(layer gdal.Layer) crs.CRS {
	if sr := layer.SpatialReference(); handle(sr) != nil {
		return describe(sr)
	}
	return crs.CRS{}
}

// moverOf returns what brings a layer's points to the system that is asked for. Its
// own is unknown where they are taken as they are. The caller closes it.
func (d *drawing) moverOf(said systemSaid) (moverFrom, error) {
	from, err := d.systemOf(said)
	if err != nil || !from.Known() || !d.to.Known() {
		return moverFrom{&mover{idle: true}, from}, err
	}
	m, err := newMover(from, d.to)
	return moverFrom{m, from}, err
}

// systemOf returns the system of a layer's coordinates; unknown where they are
// taken as they are.
func (d *drawing) systemOf(said systemSaid) (crs.CRS, error) {
	from, layer := said.system, clip(said.layer)
	if d.given.Known() {
		if from.Known() && !from.Same(d.given) {
			d.note("Layer %s says that it is in %v; it is taken to be in %v, as you say.", layer, from, d.given)
		}
		from = d.given
	}
	if !from.Known() && said.degrees {
		from = crs.LonLat()
		d.note("Layer %s names no reference system; its columns are taken to be longitude and latitude on WGS 84.", layer)
	}
	switch {
	case !from.Known():
		d.note("Layer %s names no reference system; it is taken to be in that of the site.", layer)
	case !d.to.Known() && from.Degrees:
		return from, fmt.Errorf("its coordinates are longitudes and latitudes, and the site has no reference system to bring them to; give the site one")
	case !d.to.Known():
		d.note("Layer %s is in %v; the site has no reference system, so its coordinates are taken as they are.", layer, from)
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
