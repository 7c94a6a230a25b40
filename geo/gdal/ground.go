package gdal

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"

	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// GroundOptions says how a ground is brought to a site. The zero GroundOptions
// keeps as much of the file as can be: its cells, its system, its heights.
type GroundOptions struct {
	// CRS names the metric system to bring the ground to. Empty keeps the file's
	// where that is metric, and else takes the UTM zone of its middle.
	CRS string
	// Cell is the size of a cell [m]; 0 keeps the file's.
	Cell float64
	// Bound crops the ground, in the target system; the zero Bound keeps it all.
	Bound orb.Bound
	// HeightUnit is the unit of the file's heights, whatever the file says: m,
	// ft or us-ft. Empty asks the file.
	HeightUnit string
}

// Brought is a ground as it was brought to a site from one or more files.
type Brought struct {
	Ground grid.Ground
	// CRS is the metric system that the ground is in.
	CRS crs.CRS
	// Sources says what each file was, in the order in which they were given; those
	// that lie outside what was asked for are not among them.
	Sources []survey.Source
	// Taken is the unit that the heights of a file that does not say were taken for, as
	// geo.LengthCode has it; empty where all say, or it was asked for.
	Taken string
	// Notes are sentences for a person.
	Notes []string
}

// ReadGrounds reads elevation files that lie side by side as the ground of a site: square
// cells, rows from north to south, in a metric system, heights in metres. Where a single
// file's own cells are such already they are copied as they are; else they are resampled,
// by their mean where the new cells are the larger and between the nearest four elsewhere.
// The first file says in which system and on what net of cells they are laid; where two
// have a height for a cell the earlier one's stands. Cells of which none has a height have
// no data.
func ReadGrounds(ctx context.Context, paths []string, o GroundOptions) (Brought, error) {
	if err := o.check(); err != nil {
		return Brought{}, err
	}
	switch len(paths) {
	case 0:
		return Brought{}, fmt.Errorf("no elevation file is given; give the path of one")
	case 1:
		return readOne(ctx, paths[0], o)
	}
	return readMosaic(ctx, paths, o)
}

// readOne reads a ground of one file.
func readOne(ctx context.Context, path string, o GroundOptions) (Brought, error) {
	full, err := localFile(path)
	if err != nil {
		return Brought{}, hopeless{err}
	}
	var b Brought
	err = doOn(full, func() error {
		s, err := openGround(full, o)
		if err != nil {
			return err
		}
		defer s.set.Close()
		from := s.describeFile(full)
		if b.CRS, err = s.target(o.CRS); err != nil {
			return err
		}
		if b.Ground, err = s.ground(ctx, b.CRS, o); err != nil {
			return err
		}
		s.noteStretch(b.Ground.Frame, b.CRS)
		s.toMetres(b.Ground)
		from.Count = s.Known
		b.Sources, b.Notes, b.Taken = []survey.Source{from}, s.Notes, s.taken()
		return nil
	})
	if err != nil {
		return Brought{}, judged(err, o)
	}
	return b, nil
}

// ErrNoOtherWay marks a file that no other way of reading makes a ground of: it is
// damaged, empty, or holds something else.
var ErrNoOtherWay = errors.New("no other way of reading makes a ground of it")

// A hopeless error is ErrNoOtherWay in its own words.
type hopeless struct{ error }

func (h hopeless) Is(target error) bool { return target == ErrNoOtherWay }
func (h hopeless) Unwrap() error        { return h.error }

// judged marks what no other way of reading would mend.
func judged(err error, o GroundOptions) error {
	if errors.Is(err, errDamaged) || errors.Is(err, errNoHeight) && !o.cropped() {
		return hopeless{err}
	}
	return err
}

// openGround opens a file of heights and finds their unit.
func openGround(full string, o GroundOptions) (*source, error) {
	s, err := openSource(full)
	if err != nil {
		return nil, hopeless{err}
	}
	if o.HeightUnit == "" {
		s.lookAtHeights()
		switch named := s.band.GetUnitType() != ""; {
		case s.unitKnown || s.HeightMetre != 1:
		case named:
			s.note("They are taken to be in metres.")
		default:
			s.note("It does not say in what unit its heights are; they are taken to be in metres.")
		}
		return s, nil
	}
	if s.HeightMetre, err = geo.ParseLength(o.HeightUnit); err != nil {
		s.set.Close()
		return nil, err
	}
	s.unitKnown = true
	return s, nil
}

// describeFile says what a file is, before its system is taken for another.
func (s *source) describeFile(full string) survey.Source {
	from := survey.Source{Name: filepath.Base(full), Form: survey.Raster, Datum: s.datum, Cell: math.Sqrt(s.Grid.DX * s.Grid.DY)}
	if s.CRS.Known() {
		from.System = s.CRS.String()
	}
	if s.unitKnown || s.HeightMetre != 1 { // metres alone are taken without a word of the file
		from.Unit = geo.LengthCode(s.HeightMetre)
	}
	return from
}

// taken is the unit that heights were taken for where the file does not say.
func (s *source) taken() string {
	if s.unitKnown {
		return ""
	}
	return geo.LengthCode(s.HeightMetre)
}

// noteStretch says where a site's system does not have the lengths of the ground.
func (s *source) noteStretch(f grid.Frame, c crs.CRS) {
	if !c.Known() {
		return
	}
	dx, dy, err := groundCell(c, Place(f, c).Transform, orb.Point{float64(f.W) / 2, float64(f.H) / 2})
	if err != nil {
		forget() // the ground is read; how true its lengths are cannot be told
		return
	}
	if off := max(math.Abs(dx/f.DX-1), math.Abs(dy/f.DY-1)); off > tolerance {
		s.note("Lengths in %v are off by %.0f %% here; take the local UTM zone unless you must have this system.", c, 100*off)
	}
}

func (o GroundOptions) check() error {
	if o.Cell < 0 || math.IsNaN(o.Cell) || math.IsInf(o.Cell, 0) {
		return fmt.Errorf("the cell is %g m; give more than 0, or 0 for the file's own", o.Cell)
	}
	if !finite(o.Bound.Min) || !finite(o.Bound.Max) || o.Bound.Min[0] > o.Bound.Max[0] || o.Bound.Min[1] > o.Bound.Max[1] {
		return fmt.Errorf("the rectangle to cut out, from %s to %s, is not one; give its south-west and its north-east corner", coordinates(o.Bound.Min), coordinates(o.Bound.Max))
	}
	return nil
}

func (o GroundOptions) cropped() bool { return o.Bound != orb.Bound{} }

// target chooses the system to bring the ground to.
func (s *source) target(named string) (crs.CRS, error) {
	s.scaleToMetres()
	if named != "" {
		to, err := lookup(named)
		if err != nil {
			return crs.CRS{}, err
		}
		if err := to.RequireMetres(); err != nil {
			return crs.CRS{}, err
		}
		if !s.CRS.Known() {
			s.note("It is taken to be in %v.", to)
			s.CRS = to
		}
		return to, nil
	}
	if !s.CRS.Known() {
		return crs.CRS{Metre: 1}, nil
	}
	if s.CRS.Metre == 1 && s.faithful() {
		return s.CRS, nil
	}
	return s.utm()
}

// scaleToMetres brings coordinates to metres where the file says no more of them than
// their unit.
func (s *source) scaleToMetres() {
	if unit := s.CRS.Metre; !s.CRS.Known() && unit != 1 {
		for i := range s.Transform {
			s.Transform[i] *= unit
		}
		s.CRS.Metre = 1
	}
}

// utm returns the zone of the file's middle.
func (s *source) utm() (crs.CRS, error) {
	middle := []orb.Point{at(s.Transform, float64(s.Grid.W)/2, float64(s.Grid.H)/2)}
	toLonLat, err := newMover(s.CRS, crs.LonLat())
	if err != nil {
		return crs.CRS{}, err
	}
	defer toLonLat.close()
	if err := toLonLat.move(middle); err != nil {
		return crs.CRS{}, err
	}
	code, err := crs.UTM(middle[0][0], middle[0][1])
	if err != nil {
		return crs.CRS{}, err
	}
	sr, err := reference(crs.CRS{Code: code})
	if err != nil {
		return crs.CRS{}, err
	}
	defer sr.Destroy()
	to := describe(sr)
	s.note("It is brought to %v.", to)
	return to, nil
}

// faithful reports whether lengths in the file's system are those on the ground.
func (s *source) faithful() bool {
	t := s.Transform
	return math.Abs(s.Grid.DX/math.Hypot(t[1], t[4])-1) <= tolerance &&
		math.Abs(s.Grid.DY/math.Hypot(t[2], t[5])-1) <= tolerance
}

// ground reads the cells and brings them to the target.
func (s *source) ground(ctx context.Context, to crs.CRS, o GroundOptions) (grid.Ground, error) {
	if ground, ok, err := s.copied(ctx, to, o); ok || err != nil {
		return ground, err
	}
	plan, err := s.planWarp(to, o)
	if err != nil {
		return grid.Ground{}, err
	}
	if err := s.readWindow(ctx, plan.from); err != nil {
		return grid.Ground{}, err
	}
	return s.warp(ctx, plan)
}

// toMetres brings heights to metres in place.
func (s *source) toMetres(g grid.Ground) {
	if s.HeightMetre == 1 {
		return
	}
	for i, v := range g.V {
		g.V[i] = float32(float64(v) * s.HeightMetre)
	}
}
