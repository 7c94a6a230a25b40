package gdal

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"
)

// A sheet is one point, line or ring of a feature, with its heights.
type sheet struct {
	// dim is 0 for a point, 1 for a line and 2 for a ring of an area.
	dim int
	at  orb.LineString
	z   []float64 // one for each point; nil where they have none
}

// What well-known binary calls its shapes (OGC 06-103r4, table 15); 3D shapes are
// these and 1000, or have the top bit set.
const (
	ogcPoint      = 1
	ogcLine       = 2
	ogcPolygon    = 3
	ogcCollection = 7
	ogc3D         = 0x80000000
	ogcMeasured   = 0x40000000
)

// sheetsOf takes a geometry, which may be null, apart. Arcs become short segments.
func sheetsOf(g gdal.Geometry) ([]sheet, error) {
	if handle(g) == nil {
		return nil, errNoGeometry
	}
	if flat := uint32(g.Type()) &^ ogc3D % 1000; flat >= ogcCollection {
		g = straightened(g)
		if handle(g) == nil {
			return nil, errNoGeometry
		}
		defer g.Destroy()
	}
	if g.WKBSize() < 9 {
		return nil, errNoGeometry
	}
	bytes, err := g.ToWKB()
	if err != nil {
		return nil, errNoGeometry
	}
	r := wkbReader{rest: bytes}
	r.shape(0)
	switch {
	case r.err != nil:
		return nil, r.err
	case len(r.sheets) == 0:
		return nil, errors.New("its geometry is empty, or a coordinate is not a number")
	}
	return r.sheets, nil
}

// A wkbReader goes through well-known binary of little-endian order.
type wkbReader struct {
	rest   []byte
	sheets []sheet
	err    error
}

func (r *wkbReader) take(n int) []byte {
	if r.err == nil && len(r.rest) < n {
		r.err = errNoGeometry
	}
	if r.err != nil {
		return make([]byte, n)
	}
	b := r.rest[:n]
	r.rest = r.rest[n:]
	return b
}

func (r *wkbReader) number() uint32 { return binary.LittleEndian.Uint32(r.take(4)) }

// deepest is how deep collections may lie in each other.
const deepest = 32

func (r *wkbReader) shape(depth int) {
	if depth > deepest || r.take(1)[0] != 1 {
		r.err = errNoGeometry
	}
	kind := r.number()
	if r.err != nil {
		return
	}
	thousands := kind &^ (ogc3D | ogcMeasured) / 1000
	z := kind&ogc3D != 0 || thousands == 1 || thousands == 3
	m := kind&ogcMeasured != 0 || thousands == 2 || thousands == 3
	switch kind = kind &^ (ogc3D | ogcMeasured) % 1000; {
	case kind == ogcPoint:
		r.points(0, 1, z, m)
	case kind == ogcLine:
		r.points(1, r.number(), z, m)
	case kind == ogcPolygon:
		for n := r.number(); n > 0 && r.err == nil; n-- {
			r.points(2, r.number(), z, m)
		}
	case kind > ogcPolygon && kind <= ogcCollection:
		for n := r.number(); n > 0 && r.err == nil; n-- {
			r.shape(depth + 1)
		}
	default:
		r.err = errors.New("its shape is neither points, lines nor areas")
	}
}

// points reads so many positions into one sheet.
func (r *wkbReader) points(dim int, n uint32, z, m bool) {
	wide := 2
	if z {
		wide++
	}
	if m {
		wide++
	}
	if uint64(n)*uint64(wide)*8 > uint64(len(r.rest)) {
		r.err = errNoGeometry
		return
	}
	s := sheet{dim: dim, at: make(orb.LineString, 0, n)}
	if z {
		s.z = make([]float64, 0, n)
	}
	float := func(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }
	for range n {
		b := r.take(8 * wide)
		p := orb.Point{float(b), float(b[8:])}
		if !finite(p) {
			if dim > 0 {
				r.err = fmt.Errorf("the point %s has a coordinate that is not a number", coordinates(p))
			}
			return // a point that is not a number is how an empty one is written
		}
		s.at = append(s.at, p)
		if z {
			s.z = append(s.z, float(b[16:]))
		}
	}
	if len(s.at) > min(dim, 1) {
		r.sheets = append(r.sheets, s)
	}
}

// An entity is what a DXF drawing calls a feature.
type entity int

const (
	drawnEntity entity = iota
	textEntity
	blockEntity
	paperEntity
	areaEntity // a hatch, or a face in space: none is an edge of a survey
)

// dxfFields are the places of the fields by which the library tells what a DXF
// drawing holds; -1 where there is none. Drawings of old have no classes.
type dxfFields struct{ layer, classes, paper, text, block int }

func dxfFieldsOf(layer gdal.Layer) dxfFields {
	d := layer.Definition()
	return dxfFields{
		layer: d.FieldIndex("Layer"), classes: d.FieldIndex("SubClasses"), paper: d.FieldIndex("PaperSpace"),
		text: d.FieldIndex("Text"), block: d.FieldIndex("BlockName"),
	}
}

func (d dxfFields) entity(f gdal.Feature) entity {
	set := func(field int) bool {
		return field >= 0 && f.IsFieldSetAndNotNull(field) && f.FieldAsString(field) != ""
	}
	classes := ""
	if set(d.classes) {
		classes = f.FieldAsString(d.classes)
	}
	switch {
	case d.paper >= 0 && f.FieldAsInteger(d.paper) == 1:
		return paperEntity
	case set(d.block), strings.Contains(classes, "AcDbBlockReference"), strings.Contains(classes, "AcDbMInsertBlock"):
		return blockEntity
	case set(d.text), strings.Contains(classes, "Text"), strings.Contains(classes, "AcDbAttribute"), strings.Contains(classes, "AcDbDimension"):
		return textEntity
	}
	return drawnEntity
}
