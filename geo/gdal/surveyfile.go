package gdal

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/lukeroth/gdal"

	"runnel/geo/survey"
	"runnel/geo/table"
)

// readFile reads a file that is no table, layer by layer.
func (g *gathering) readFile(ctx context.Context, full string) error {
	m, err := openMeasured(full)
	if err != nil {
		return err
	}
	defer m.Close()
	if m.unknown && g.o.System == "" {
		return errUnknownSystem
	}
	g.notes = append(g.notes, m.notes...)
	g.noTable = lacksTable(full)
	if m.unknown {
		g.note("It names a reference system that is not known; it is taken to be in that which you say.")
	}
	left := map[entity]int{}
	taken := 0
	for _, layer := range m.layers() {
		if !g.wanted(m, readable(layer.Name())) {
			continue
		}
		taken++
		b := &batch{gathering: g, file: m, layer: layer, name: readable(layer.Name()), left: left, nought: map[string]bool{}}
		if err := b.read(ctx); err != nil {
			return err
		}
	}
	if taken == 0 {
		return fmt.Errorf("it has no layer %s; look at the names of its layers", clip(strings.Join(g.o.Layers, ", ")))
	}
	g.notes = append(g.notes, leftOut(left)...)
	if m.format == "GPX" {
		g.note("Heights from a satellite receiver without corrections are often off by several metres; give the error of its heights where you know it.")
	}
	if len(g.survey.Lines)+len(g.survey.Spots) == 0 && g.faults == 0 {
		return m.errNothing(left)
	}
	return g.finish()
}

// wanted reports whether a layer is to be read. All that is in a DXF drawing is one
// layer to the library, and chosen feature by feature.
func (g *gathering) wanted(m *measuredFile, name string) bool {
	return g.o.Layers == nil || m.format == "DXF" || slices.Contains(g.o.Layers, name)
}

// A batch is one of the library's layers as it is read, in the file's coordinates
// and units.
type batch struct {
	*gathering
	file    *measuredFile
	layer   gdal.Layer
	name    string // of the layer
	left    map[entity]int
	height  int    // the field of the heights, or fromZ or noField
	field   string // its name
	numeric bool   // it holds numbers, not texts
	code    int    // the field of the codes, or noField
	dxf     dxfFields

	lines []batchLine
	spots []survey.Spot
	names []string // of the layers of spots
	// nought tells of layers whose third coordinates are nought so far.
	nought map[string]bool
	points int
	failed int // fields that are no numbers
	// written is the unit [m] that stands behind the heights, of the first that has one.
	written float64
	said    string // on where the heights are from
}

// A batchLine is a line with what says what it is.
type batchLine struct {
	survey.Line
	layer, code string
	area        bool
	byZ         bool // its heights are third coordinates
}

const (
	noField = -1
	fromZ   = -2
)

func (b *batch) read(ctx context.Context) error {
	if err := b.choose(ctx); err != nil {
		return err
	}
	b.dxf = dxfFieldsOf(b.layer)
	if err := b.file.each(ctx, b.layer, b.take); err != nil {
		return err
	}
	if b.failed > 0 {
		b.note("%d values of %s are not numbers; those heights are not known.", b.failed, clip(b.field))
	}
	if len(b.lines)+len(b.spots) == 0 {
		return nil
	}
	return b.settle()
}

// choose finds the fields of heights and codes.
func (b *batch) choose(ctx context.Context) error {
	d := b.layer.Definition()
	b.height, b.code, b.field = noField, noField, b.o.Height
	if b.file.format != "DXF" {
		b.code = fieldWhere(d, table.CodeName)
	}
	switch {
	case b.o.Height == NoHeight:
		return nil
	case b.o.Height == ZHeight, b.o.Height == "" && b.file.format == "DXF":
		b.height, b.field = fromZ, ""
		return nil
	case b.o.Height == "":
		if err := b.guess(ctx); err != nil || b.field == "" {
			return err
		}
	}
	b.height = fieldWhere(d, func(name string) bool { return strings.EqualFold(name, b.field) })
	switch {
	case b.height < 0 && strings.EqualFold(strings.TrimSpace(b.field), "z"):
		b.height, b.field = fromZ, ""
	case b.height >= 0:
		b.numeric = slices.Contains(numericTypes, d.FieldDefinition(b.height).Type())
	case len(b.file.layers()) > 1:
		b.said = fmt.Sprintf("Layer %s has no field %s; it is read without heights.", clip(b.name), clip(b.field))
	default:
		if names := fieldNames(d); names != "" {
			return fmt.Errorf("it has no field %q; its fields are %s, and Z takes the height of each point of the lines", clip(b.field), names)
		}
		return fmt.Errorf("it has no field %q, nor any other; Z takes the height of each point of the lines", clip(b.field))
	}
	return nil
}

// fieldWhere returns the place of the first field whose name is such; noField where
// none is.
func fieldWhere(d gdal.FeatureDefinition, such func(name string) bool) int {
	for i := range d.FieldCount() {
		if such(readable(d.FieldDefinition(i).Name())) {
			return i
		}
	}
	return noField
}

// numericTypes are the library's types of single numbers.
var numericTypes = []gdal.FieldType{gdal.FT_Real, gdal.FT_Integer, gdal.FT_Integer64}

// fieldNames lists the fields of a layer for a sentence; empty where it has none.
func fieldNames(d gdal.FeatureDefinition) string {
	var names []string
	for i := range d.FieldCount() {
		names = append(names, readable(d.FieldDefinition(i).Name()))
	}
	return clip(strings.Join(names, ", "))
}

// guess chooses the heights by the beginning of the layer, as LookAt does.
func (b *batch) guess(ctx context.Context) error {
	t := &tally{fields: fieldTallies(b.layer)}
	err := b.file.each(ctx, b.layer, func(f gdal.Feature) error {
		sheets, err := sheetsOf(f.Geometry())
		if err != nil {
			forget()
			return nil
		}
		if t.take(f, sheets); t.guessed {
			return errEnough
		}
		return nil
	})
	switch b.field = t.done().Height; b.field {
	case ZHeight:
		b.height, b.field = fromZ, ""
		b.said = fmt.Sprintf("Heights of layer %s are taken from the third coordinate.", clip(b.name))
	case "":
		b.said = fmt.Sprintf("Nothing in layer %s seems to hold heights; it is read without.", clip(b.name))
	default:
		b.said = fmt.Sprintf("Heights of layer %s are taken from %s.", clip(b.name), clip(b.field))
	}
	return err
}

// take takes one feature.
func (b *batch) take(f gdal.Feature) error {
	b.rows++
	name, code := b.name, ""
	if b.file.format == "DXF" {
		if e := b.dxf.entity(f); e != drawnEntity {
			b.left[e]++
			return nil
		}
		name = readable(f.FieldAsString(b.dxf.layer))
		if b.o.Layers != nil && !slices.Contains(b.o.Layers, name) {
			return nil
		}
		code = name
	} else if b.code >= 0 && f.IsFieldSetAndNotNull(b.code) {
		code = strings.TrimSpace(fieldText(f, b.code))
	}
	sheets, err := sheetsOf(f.Geometry())
	if err != nil {
		forget()
		b.fault(fmt.Sprintf("Feature %d is left out, for %v", b.rows, err))
		return nil
	}
	level := b.level(f)
	for _, s := range sheets {
		if _, said := b.useOf(name); s.dim == 2 && b.file.format == "DXF" && !said {
			b.left[areaEntity]++
			continue
		}
		b.points += len(s.at)
		b.add(s, name, code, level)
	}
	if b.points > mostPoints {
		return tooMany()
	}
	return nil
}

// level returns the height that a field gives; NaN for none.
func (b *batch) level(f gdal.Feature) float64 {
	if b.height < 0 || !f.IsFieldSetAndNotNull(b.height) {
		return math.NaN()
	}
	if b.numeric {
		return known([]float64{f.FieldAsFloat64(b.height)})[0]
	}
	text := strings.TrimSpace(fieldText(f, b.height))
	if table.NoHeight(text) {
		return math.NaN()
	}
	v, unit, ok := heightIn(text)
	switch {
	case !ok:
		b.failed++
		return math.NaN()
	case unit == 0:
		return v
	case b.written == 0:
		b.written = unit
	}
	return v * unit / b.written
}

// add takes one part of a feature.
func (b *batch) add(s sheet, name, code string, level float64) {
	z := []float64{level}
	if b.height == fromZ {
		if z = known(s.z); z == nil {
			z = []float64{math.NaN()}
		}
		nought := !slices.ContainsFunc(z, func(v float64) bool { return v != 0 && !math.IsNaN(v) })
		if known, ok := b.nought[name]; ok {
			nought = nought && known
		}
		b.nought[name] = nought
	}
	if s.dim == 0 {
		b.spots = append(b.spots, survey.Spot{At: s.at[0], Z: z[0], Row: int32(b.rows), Code: b.codeOf(code)})
		b.names = append(b.names, name)
		return
	}
	b.gathering.lines++
	line := survey.Line{At: s.at, Z: z, Number: b.gathering.lines}
	b.lines = append(b.lines, batchLine{line, name, code, s.dim == 2, b.height == fromZ})
}
