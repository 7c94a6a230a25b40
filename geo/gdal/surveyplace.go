package gdal

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/crs"
)

// A frame says how coordinates and heights of a file are to be understood.
type frame struct {
	system crs.CRS // unknown where coordinates are lengths from a place of their own
	// plain is the coordinate unit [m] where the system is not known.
	plain float64
	// height is the unit of the heights [m], 0 where the file does not say; datum is
	// what they are above.
	height float64
	datum  string
	bare   bool // coordinates are taken as they are
}

// frameOf finds out how a layer is to be understood. Said is the system that the
// file names, which may be none; degrees tells that its coordinates look like them.
func (g *gathering) frameOf(sr gdal.SpatialReference, said, degrees bool) (frame, error) {
	f := frame{plain: 1}
	if said {
		f.system, f.height, f.datum = describe(sr), heightUnit(sr), verticalName(sr)
	}
	switch unit, err := geo.ParseLength(g.o.System); {
	case g.o.System == "" && f.system.Known():
	case g.o.System == "" && g.bareSite() && degrees:
		return f, errDegreesOnBareSite
	case g.o.System == "" && g.bareSite():
		f.bare = true
		g.note("It names no reference system; its coordinates are taken as they are.")
	case g.o.System == "":
		return f, noSystemOf(degrees)
	case g.o.System == OwnSystem:
		g.noteOther(f.system, g.o.To)
		f.system, f.bare = g.o.To, !g.o.To.Known()
	case err == nil:
		g.noteOther(f.system, crs.CRS{})
		f.system, f.plain, f.bare = crs.CRS{}, unit, true
	default:
		return g.given(f)
	}
	if g.bareSite() && f.system.Known() {
		if f.system.Degrees {
			return f, errDegreesOnBareSite
		}
		g.note("It is in %v; the site has no reference system, so its coordinates are taken as they are.", f.system)
		f.plain, f.bare = f.system.Metre, true
	}
	return f, nil
}

var errDegreesOnBareSite = errors.New("its coordinates are longitudes and latitudes, and the site has no reference system to bring them to; give the site one")

// bareSite reports a site that has metres and no place on the earth.
func (g *gathering) bareSite() bool { return !g.o.To.Known() && g.o.To.Metre == 1 }

// given is frameOf for a system that a person names.
func (g *gathering) given(f frame) (frame, error) {
	sr, err := parseCRS(g.o.System)
	if err != nil {
		return f, err
	}
	defer sr.Destroy()
	system := describe(sr)
	if !system.Known() {
		return f, fmt.Errorf("%q is not a reference system of maps; give a projected one such as EPSG:32633", clip(g.o.System))
	}
	g.noteOther(f.system, system)
	f.system = system
	if unit := heightUnit(sr); unit > 0 {
		f.height, f.datum = unit, verticalName(sr)
	}
	if g.bareSite() {
		f.plain, f.bare = system.Metre, true
	}
	return f, nil
}

// noteOther tells of a file that names another system than a person says.
func (g *gathering) noteOther(said, given crs.CRS) {
	switch {
	case !said.Known():
	case !given.Known():
		g.note("It says that it is in %v; its coordinates are taken as they are, as you say.", said)
	case !said.Same(given):
		g.note("It says that it is in %v; it is taken to be in %v, as you say.", said, given)
	}
}

func noSystemOf(degrees bool) error {
	if degrees {
		return noSystem("it names no reference system, and its coordinates look like longitude and latitude; say so with EPSG:4326, or which other system they are in")
	}
	return noSystem("it names no reference system, so where it lies cannot be told; say which it is, such as EPSG:32633, or m, ft or us-ft where its coordinates are lengths from a place of their own")
}

// choose settles which system the survey is brought to, from the middle of what
// comes first.
func (g *gathering) choose(f frame, middle orb.Point) error {
	if g.settled {
		return nil
	}
	g.settled = true
	if f.bare || !f.system.Known() {
		g.to = crs.CRS{Metre: 1}
		return nil
	}
	if f.system.Metre == 1 {
		dx, dy, err := groundCell(f.system, [6]float64{middle[0], 1, 0, middle[1], 0, -1}, orb.Point{})
		if err == nil && math.Abs(dx-1) <= tolerance && math.Abs(dy-1) <= tolerance {
			g.to = f.system
			return nil
		}
		forget()
	}
	lonLat := []orb.Point{middle}
	m, err := newMover(f.system, crs.LonLat())
	if err != nil {
		return err
	}
	defer m.close()
	if err := (moverFrom{m, f.system}).moveChecked(lonLat); err != nil {
		return err
	}
	code, err := crs.UTM(lonLat[0][0], lonLat[0][1])
	if err != nil {
		return err
	}
	if g.to, err = lookup(fmt.Sprintf("EPSG:%d", code)); err == nil {
		g.note("It is brought to %v.", g.to)
	}
	return err
}

// moverOf returns what brings points of a frame to the survey's system. The caller
// closes it.
func (g *gathering) moverOf(f frame) (moverFrom, error) {
	g.source().System = ""
	if f.system.Known() {
		g.source().System = f.system.String()
	}
	if f.bare || !f.system.Known() || !g.to.Known() {
		if f.plain != 1 {
			g.note("Its coordinates are in %s.", geo.LengthName(f.plain))
		}
		return moverFrom{&mover{idle: true}, crs.CRS{}}, nil
	}
	m, err := newMover(f.system, g.to)
	return moverFrom{m, f.system}, err
}

// heightUnitOf returns the unit of the heights [m]: what a person says, what the
// name of their field says, what the file's system says, or that of the coordinates.
func (g *gathering) heightUnitOf(f frame, field string) float64 {
	unit, guessed := 1.0, ""
	switch coordinate := f.coordinateUnit(); {
	case g.o.Unit != "":
		unit, _ = geo.ParseLength(g.o.Unit) // it has been checked
	case unitInName(field) != 0:
		unit = unitInName(field)
	case f.height != 0:
		unit = f.height
	case coordinate != 1:
		unit, guessed = coordinate, "It does not say in what unit its heights are; they are taken to be in %s, as its coordinates are."
	}
	s := g.source()
	if name := unitName(unit); s.Unit == "" {
		s.Unit = name
		if guessed != "" {
			g.note(guessed, geo.LengthName(unit))
		} else if unit != 1 && g.o.Unit == "" {
			g.note("Its heights are in %s.", geo.LengthName(unit))
		}
	}
	if s.Datum == "" {
		s.Datum = f.datum
	}
	return unit
}

func (f frame) coordinateUnit() float64 {
	if f.system.Known() && f.system.Metre > 0 {
		return f.system.Metre
	}
	return f.plain
}

// unitName is the short name of a unit, by which geo.ParseLength finds it.
func unitName(metres float64) string {
	for _, name := range []string{"m", "ft", "us-ft", "cm"} {
		if unit, err := geo.ParseLength(name); err == nil && math.Abs(unit-metres) < 1e-9 {
			return name
		}
	}
	return geo.LengthName(metres)
}

// unitInName returns the unit that ends a field's name, as in elev_ft or height (m);
// 0 where none does.
func unitInName(name string) float64 {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" _()[]/", r) })
	if len(words) < 2 {
		return 0
	}
	last := words[len(words)-1]
	if last == "usft" {
		last = "us-ft"
	}
	unit, err := geo.ParseLength(last)
	if err != nil {
		return 0
	}
	return unit
}

// moveSome brings points to the survey's system; ok tells which have a place there,
// nil for all of them.
func (m moverFrom) moveSome(points []orb.Point) (ok []bool, first error) {
	before := append([]orb.Point(nil), points...)
	if m.moveChecked(points) == nil {
		return nil, nil
	}
	ok = make([]bool, len(points))
	copy(points, before)
	for i := range points {
		err := m.moveChecked(points[i : i+1])
		ok[i] = err == nil
		if first == nil {
			first = err
		}
	}
	return ok, first
}
