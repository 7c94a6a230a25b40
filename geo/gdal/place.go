package gdal

import (
	"fmt"
	"math"
	"strconv"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/crs"
)

// unplaced is the transform that GDAL reports where a file has none.
var unplaced = [6]float64{0, 1, 0, 0, 0, 1}

// place reads where the cells lie and in which system.
func (s *source) place() {
	s.Transform = s.set.GeoTransform()
	t := s.Transform
	sound := t[1]*t[5]-t[2]*t[4] != 0
	for _, v := range t {
		sound = sound && !math.IsNaN(v-v)
	}
	if sound && t != unplaced {
		s.grounded = true
	} else {
		s.Transform = [6]float64{0, 1, 0, float64(s.Grid.H), 0, -1}
	}
	if wkt := s.set.Projection(); wkt != "" {
		if sr, err := parseCRS(wkt); err == nil {
			s.CRS = describe(sr)
			s.HeightMetre, s.datum = heightUnit(sr), verticalName(sr)
			if !s.CRS.Known() {
				s.CRS.Metre = localUnit(sr)
				s.note("Its reference system, %q, has no place on the earth that is known; its lengths are taken and no more.", clip(nameOf(sr)))
			}
			sr.Destroy()
		} else {
			s.note("Its reference system cannot be read.")
		}
		forget()
	}
}

// heightUnit returns the unit of a system's heights [m]; 0 where it has none.
func heightUnit(sr gdal.SpatialReference) float64 {
	if sr.IsCompound() || sr.IsVertical() {
		if unit := verticalUnit(sr); unit > 0 {
			return unit
		}
	}
	return 0
}

// verticalName names the vertical part of a system; empty where it has none.
func verticalName(sr gdal.SpatialReference) string {
	if !sr.IsCompound() && !sr.IsVertical() {
		return ""
	}
	name, _ := sr.AttrValue("VERT_CS", 0)
	return storable(clip(name))
}

// localUnit returns the coordinate unit [m] of a system with no place on the earth.
func localUnit(sr gdal.SpatialReference) float64 {
	if unit := linearUnit(sr); sr.IsLocal() && unit > 0 {
		return unit
	}
	return 0
}

// measureCell works out the ground size of a cell, and says what is unusual.
func (s *source) measureCell() {
	t, unit := s.Transform, s.CRS.Metre
	switch {
	case !s.grounded && !s.CRS.Known():
		s.note("It does not say where it lies; its cells are taken to be 1 m.")
	case !s.grounded:
		s.note("It does not say how large its cells are; they are taken to be one unit of %v.", s.CRS)
	case !s.CRS.Known() && unit == 0 && s.set.Projection() == "":
		s.note("It names no reference system; its coordinates are taken to be metres.")
	case !s.CRS.Known() && unit == 0:
		s.note("Its coordinates are taken to be metres.")
	}
	if unit == 0 {
		unit = 1
	}
	if !s.CRS.Known() {
		s.CRS = crs.CRS{Metre: unit}
	}
	s.Grid.DX, s.Grid.DY = unit*math.Hypot(t[1], t[4]), unit*math.Hypot(t[2], t[5])
	if s.CRS.Known() {
		s.measureOnEarth()
	}
	if unit != 1 && s.CRS.Metre != 0 {
		s.note("Its coordinates are in %s; its cells are %s by %s m.", geo.LengthName(unit), fourDigits(s.Grid.DX), fourDigits(s.Grid.DY))
	}
	switch {
	case t[2] != 0 || t[4] != 0:
		s.note("Its rows do not run west to east; it is turned.")
	case t[5] > 0:
		s.note("Its rows run from south to north.")
	case s.Grid.DX == t[1] && s.Grid.DY == -t[5]:
		s.Grid.West, s.Grid.North = t[0], t[3]
	}
}

// fourDigits writes a positive length to four digits, or all before the point,
// without exponents.
func fourDigits(v float64) string {
	decimals := 3 - int(math.Floor(math.Log10(v)))
	scale := math.Pow10(max(0, decimals))
	return strconv.FormatFloat(math.Round(v*scale)/scale, 'f', -1, 64)
}

// tolerance is how far a system's lengths may be from those on the ground
// before the ground's are taken.
const tolerance = 0.01

// measureOnEarth measures the cell along the ellipsoid, and keeps what it finds
// where the system is in degrees or stretches lengths.
func (s *source) measureOnEarth() {
	dx, dy, err := groundCell(s.CRS, s.Transform, orb.Point{float64(s.Grid.W) / 2, float64(s.Grid.H) / 2})
	if err != nil {
		forget()
		s.note("Its cells cannot be measured on the earth (%v); look at its reference system.", err)
		return
	}
	wide, high := dx/s.Grid.DX, dy/s.Grid.DY
	switch {
	case s.CRS.Degrees:
		s.note("Its coordinates are degrees; its cells are %s by %s m on the ground.", fourDigits(dx), fourDigits(dy))
	case math.Abs(wide-1) > tolerance || math.Abs(high-1) > tolerance:
		s.note("Lengths in %v are not those on the ground; its cells are %s by %s m there.", s.CRS, fourDigits(dx), fourDigits(dy))
	default:
		return
	}
	s.Grid.DX, s.Grid.DY = dx, dy
}

// farFromMiddle is the height [degrees] from which it is told that the cells of
// the middle stand for all.
const farFromMiddle = 0.5

// lookAtLatitudes tells how far the cell of the middle is from those at the edges.
// On a degree of latitude a cell's width changes by some 1 % at 35°.
func (s *source) lookAtLatitudes() {
	t, w, h := s.Transform, float64(s.Grid.W), float64(s.Grid.H)
	if !s.CRS.Degrees || math.Abs(t[4])*w+math.Abs(t[5])*h <= farFromMiddle {
		return
	}
	north, south := 0.0, h
	if t[5] > 0 {
		north, south = h, 0
	}
	var off [2]string
	for i, y := range []float64{north, south} {
		dx, _, err := groundCell(s.CRS, t, orb.Point{w / 2, y})
		if err != nil {
			forget()
			return
		}
		off[i] = offBy(s.Grid.DX/dx - 1)
	}
	s.note("Its distances from west to east and its areas hold for its middle latitude, %.2f degrees; at its north edge they come out %s, at its south edge %s.",
		at(t, w/2, h/2)[1], off[0], off[1])
}

// offBy names a share by which a measure is wrong.
func offBy(share float64) string {
	if share < 0 {
		return fmt.Sprintf("%.1f %% too small", -share*100)
	}
	return fmt.Sprintf("%.1f %% too large", share*100)
}

// groundCell measures a cell around a column and row along the ellipsoid [m].
func groundCell(c crs.CRS, t [6]float64, middle orb.Point) (dx, dy float64, err error) {
	sr, err := reference(c)
	if err != nil {
		return 0, 0, err
	}
	defer sr.Destroy()
	x, y := middle[0], middle[1]
	points := []orb.Point{
		at(t, x-0.5, y), at(t, x+0.5, y), at(t, x, y-0.5), at(t, x, y+0.5),
	}
	if !c.Degrees {
		if err := toGeographic(sr, points); err != nil {
			return 0, 0, err
		}
	}
	e, err := ellipsoidOf(sr)
	if err != nil {
		return 0, 0, err
	}
	return e.distance(points[0], points[1]), e.distance(points[2], points[3]), nil
}

func at(t [6]float64, x, y float64) orb.Point {
	return orb.Point{t[0] + x*t[1] + y*t[2], t[3] + x*t[4] + y*t[5]}
}

// toGeographic moves points of a projected system to the longitude and latitude
// that it rests on, in degrees.
func toGeographic(sr gdal.SpatialReference, points []orb.Point) error {
	base := sr.CloneGeogCS()
	defer base.Destroy()
	base.SetAxisMappingStrategy(gdal.OAMS_TraditionalGisOrder)
	between := gdal.CreateCoordinateTransform(sr, base)
	if handle(between) == nil {
		return errNoGeodetic
	}
	m := mover{between: between, from: describe(sr), to: describe(base)}
	defer m.close()
	if err := m.move(points); err != nil {
		return err
	}
	if unit := angularUnit(base) * 180 / math.Pi; unit > 0 { // some old systems have grads
		for i, p := range points {
			points[i] = orb.Point{p[0] * unit, p[1] * unit}
		}
	}
	return nil
}

// lookAtHeights finds the unit of the heights: what the band says, else the
// vertical system, else a guess that is told.
func (s *source) lookAtHeights() {
	if name := s.band.GetUnitType(); name != "" {
		if unit, err := geo.ParseLength(name); err == nil {
			s.HeightMetre = unit
		} else {
			s.note("Its heights are in %q, which is not known.", clip(name))
		}
	}
	s.unitKnown = s.HeightMetre != 0
	if !s.unitKnown {
		s.HeightMetre = 1
		if unit := s.CRS.Metre; unit != 0 && unit != 1 {
			s.HeightMetre = unit
			s.note("It does not say in what unit its heights are; they are taken to be in %s, as its coordinates are.", geo.LengthName(unit))
		}
		return
	}
	if s.HeightMetre != 1 {
		s.note("Its heights are in %s.", geo.LengthName(s.HeightMetre))
	}
}
