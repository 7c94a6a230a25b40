package gdal

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
)

// lookup returns the reference system that text names: an EPSG code as
// "EPSG:2193" or "2193", or a definition in well-known text. It must be one of
// a map: projected, or longitude and latitude.
func lookup(text string) (crs.CRS, error) {
	sr, err := parseCRS(text)
	if err != nil {
		return crs.CRS{}, err
	}
	defer sr.Destroy()
	found := describe(sr)
	if !found.Known() {
		return found, fmt.Errorf("%q is not a reference system of maps; give a projected one such as EPSG:32633", clip(text))
	}
	return found, nil
}

// parseCRS never hands free text to GDAL's own parser, which opens files and URLs.
func parseCRS(text string) (gdal.SpatialReference, error) {
	text = strings.TrimSpace(text)
	sr := newReference()
	digits := text
	if len(text) > 5 && strings.EqualFold(text[:5], "EPSG:") {
		digits = text[5:]
	}
	if code, err := strconv.ParseInt(digits, 10, 32); err == nil {
		if sr.FromEPSG(int(code)) != nil {
			sr.Destroy()
			return sr, fmt.Errorf("EPSG:%d is not a known reference system; look up its code", code)
		}
		return sr, nil
	}
	if !strings.ContainsAny(text, "[(") || sr.FromWKT(text) != nil {
		sr.Destroy()
		return sr, fmt.Errorf("%q is not a reference system; give an EPSG code such as EPSG:32633, or well-known text", clip(text))
	}
	sr.SetAxisMappingStrategy(gdal.OAMS_TraditionalGisOrder)
	return sr, nil
}

func newReference() gdal.SpatialReference {
	sr := gdal.CreateSpatialReference("")
	sr.SetAxisMappingStrategy(gdal.OAMS_TraditionalGisOrder)
	return sr
}

// clip shortens what a person typed or a file holds to what a sentence can quote.
func clip(text string) string {
	if runes := []rune(text); len(runes) > 60 {
		return string(runes[:60]) + "…"
	}
	return text
}

// describe returns what sr is, without its vertical part; the zero CRS for what
// has no place on the earth, such as an engineering system.
func describe(sr gdal.SpatialReference) crs.CRS {
	flat := sr.Clone()
	defer flat.Destroy()
	if flat.IsCompound() {
		stripVertical(flat)
	}
	c := crs.CRS{Code: epsgCode(flat), Name: nameOf(flat)}
	nameless := c.Name == "" || strings.EqualFold(c.Name, "unknown") || strings.EqualFold(c.Name, "unnamed")
	if nameless {
		c.Name = ""
	}
	switch {
	case flat.IsGeographic():
		c.Degrees = true
	case flat.IsProjected():
		c.Metre = linearUnit(flat)
	default:
		return crs.CRS{}
	}
	if c.Code == 0 {
		c.Code = bestMatch(flat)
	}
	forget()
	if c.Code == 0 {
		c.WKT, _ = flat.ToWKT()
		if nameless {
			c.Name = "a reference system without a name"
		}
	}
	return c
}

// reference returns GDAL's form of c, which must be known. The caller destroys it.
func reference(c crs.CRS) (gdal.SpatialReference, error) {
	if c.Code != 0 {
		return parseCRS("EPSG:" + strconv.Itoa(c.Code))
	}
	return parseCRS(c.WKT)
}

// A Transform takes a point from one reference system to another.
type Transform func(orb.Point) (orb.Point, error)

// NewTransform returns the transform between two known systems, and what
// releases it. A point that has no place in the other system is an error.
func NewTransform(from, to crs.CRS) (Transform, func(), error) {
	all, release, err := NewTransformAll(from, to)
	if err != nil {
		return nil, nil, err
	}
	move := func(p orb.Point) (orb.Point, error) {
		moved := []orb.Point{p}
		err := all(moved)
		return moved[0], err
	}
	return move, release, nil
}

// A TransformAll puts the places of points in another reference system in place of
// the points: for many it is quicker than a Transform.
type TransformAll func(points []orb.Point) error

// NewTransformAll is NewTransform for many points at once.
func NewTransformAll(from, to crs.CRS) (TransformAll, func(), error) {
	if !from.Known() || !to.Known() {
		return nil, nil, fmt.Errorf("coordinates cannot be brought from %v to %v; say which reference system they are in", from, to)
	}
	var m *mover
	err := do(func() (err error) {
		m, err = newMover(from, to)
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	var one sync.Mutex
	move := func(points []orb.Point) error {
		one.Lock()
		defer one.Unlock()
		return do(func() error { return m.move(points) })
	}
	return move, sync.OnceFunc(m.close), nil
}

// A mover transforms many points at once. It serves one goroutine at a time.
type mover struct {
	from, to crs.CRS
	between  gdal.CoordinateTransform
	idle     bool // both systems are one
}

func newMover(from, to crs.CRS) (*mover, error) {
	if from.Same(to) {
		return &mover{from: from, to: to, idle: true}, nil
	}
	source, err := reference(from)
	if err != nil {
		return nil, err
	}
	defer source.Destroy()
	target, err := reference(to)
	if err != nil {
		return nil, err
	}
	defer target.Destroy()
	between := gdal.CreateCoordinateTransform(source, target)
	if handle(between) == nil {
		return nil, fmt.Errorf("there is no way from %v to %v; choose another reference system", from, to)
	}
	return &mover{from: from, to: to, between: between}, nil
}

func (m *mover) close() {
	if !m.idle {
		m.between.Destroy()
	}
}

// move puts the moved points in place of the given ones.
func (m *mover) move(points []orb.Point) error {
	for _, p := range points {
		if !finite(p) {
			return fmt.Errorf("the point %s has a coordinate that is not a number", coordinates(p))
		}
	}
	if m.idle || len(points) == 0 {
		return nil
	}
	xs, ys, zs := make([]float64, len(points)), make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		xs[i], ys[i] = p[0], p[1]
	}
	whole := m.between.Transform(len(points), xs, ys, zs)
	for i, p := range points {
		moved := orb.Point{xs[i], ys[i]}
		if !finite(moved) || !whole && len(points) == 1 {
			forget()
			return fmt.Errorf("the point %s of %v has no place in %v; look at its coordinates and its reference system",
				coordinates(p), m.from, m.to)
		}
		points[i] = moved
	}
	return nil
}

// coordinates writes a point for a sentence, without exponents: to a hundred-
// millionth, which is a millimetre in degrees.
func coordinates(p orb.Point) string {
	plain := func(v float64) string {
		if math.Abs(v) < 1e9 {
			v = math.Round(v*1e8) / 1e8
		}
		return clip(strconv.FormatFloat(v, 'f', -1, 64))
	}
	return plain(p[0]) + ", " + plain(p[1])
}

func finite(p orb.Point) bool { return !math.IsNaN(p[0]-p[0]) && !math.IsNaN(p[1]-p[1]) }

// NamedSystem returns the reference system that a person names, as "EPSG:32633",
// "32633" or a definition in well-known text.
func NamedSystem(text string) (crs.CRS, error) {
	var found crs.CRS
	err := do(func() (err error) {
		found, err = lookup(text)
		return err
	})
	return found, err
}
