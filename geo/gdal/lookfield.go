package gdal

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/lukeroth/gdal"

	"runnel/geo"
	"runnel/geo/table"
)

const (
	// guessFeatures is after how many features the field of the heights is guessed,
	// so that the guess is the same however much of the file is gone through.
	guessFeatures = 2000
	// mostSamples is how many values of a field are shown.
	mostSamples = 5
	// mostDistinct is how many values of a field are told apart.
	mostDistinct = 4096
)

// A tally gathers what a layer holds.
type tally struct {
	LayerLook
	fields   []*fieldTally
	features int
	hasZ     bool // there is a third coordinate, be it nought
	guessed  bool
	kml      bool // it is of a KML file
	bounded  bool
}

// A fieldTally gathers what a field holds.
type fieldTally struct {
	FieldLook
	numeric  bool // the file says that it holds numbers
	texts    int  // values that are not numbers
	distinct map[float64]bool
	many     bool // more values than are told apart
}

// tally goes through a layer. A DXF drawing's own layers come apart; what is left
// out of it is counted in left.
func (m *measuredFile) tally(ctx context.Context, layer gdal.Layer, left map[entity]int) ([]*tally, error) {
	var all []*tally
	named := map[string]*tally{}
	of := func(name string) *tally {
		t := named[name]
		if t == nil {
			t = &tally{LayerLook: LayerLook{Name: name}}
			if m.format != "DXF" {
				t.fields = fieldTallies(layer)
			}
			t.kml = strings.HasSuffix(m.format, "KML")
			named[name] = t
			all = append(all, t)
		}
		return t
	}
	dxf, whole := dxfFieldsOf(layer), readable(layer.Name())
	points := 0
	err := m.each(ctx, layer, func(f gdal.Feature) error {
		name := whole
		if m.format == "DXF" {
			if e := dxf.entity(f); e != drawnEntity {
				left[e]++
				return nil
			}
			name = readable(f.FieldAsString(dxf.layer))
		}
		sheets, err := sheetsOf(f.Geometry())
		if err != nil {
			m.unread++
			forget()
			return nil
		}
		if points += of(name).take(f, sheets); points > mostPoints || len(all) > mostLayers {
			return tooMany()
		}
		return nil
	})
	return all, err
}

// mostLayers is how many layers a drawing may have.
const mostLayers = 10_000

func fieldTallies(layer gdal.Layer) []*fieldTally {
	d := layer.Definition()
	fields := make([]*fieldTally, d.FieldCount())
	for i := range fields {
		fields[i] = &fieldTally{
			FieldLook: FieldLook{Name: readable(d.FieldDefinition(i).Name()), Low: math.Inf(1), High: math.Inf(-1)},
			numeric:   slices.Contains(numericTypes, d.FieldDefinition(i).Type()),
			distinct:  map[float64]bool{},
		}
	}
	return fields
}

// take counts one feature, and returns how many points it has.
func (t *tally) take(f gdal.Feature, sheets []sheet) int {
	points := 0
	for _, s := range sheets {
		switch s.dim {
		case 0:
			t.Points++
		case 1:
			t.Lines++
		default:
			t.Areas++
		}
		points += len(s.at)
		if !t.bounded {
			t.Bound, t.bounded = s.at[0].Bound(), true
		}
		t.Bound = t.Bound.Union(s.at.Bound())
		t.hasZ = t.hasZ || s.z != nil
		t.HasZ = t.HasZ || slices.ContainsFunc(s.z, func(z float64) bool { return z != 0 && !math.IsNaN(z) })
	}
	for i, field := range t.fields {
		switch {
		case !f.IsFieldSetAndNotNull(i):
		case field.numeric && len(field.Samples) == mostSamples: // without the way by text
			if v := known([]float64{f.FieldAsFloat64(i)})[0]; !math.IsNaN(v) {
				field.Set++
				field.count(v)
			}
		default:
			field.take(fieldText(f, i))
		}
	}
	if t.features++; t.features == guessFeatures {
		t.guess()
	}
	return points
}

func (f *fieldTally) take(text string) {
	text = strings.TrimSpace(text)
	if table.NoHeight(text) {
		return
	}
	f.Set++
	if shown := clip(text); len(f.Samples) < mostSamples && !slices.Contains(f.Samples, shown) {
		f.Samples = append(f.Samples, shown)
	}
	v, _, ok := heightIn(text)
	if !ok {
		f.texts++
		return
	}
	f.count(v)
}

// count takes a number.
func (f *fieldTally) count(v float64) {
	f.Low, f.High = min(f.Low, v), max(f.High, v)
	if len(f.distinct) < mostDistinct {
		f.distinct[v] = true
	} else if !f.distinct[v] {
		f.many = true
	}
}

// heightIn reads a height as a field may have it: as text, with a comma before the
// decimals, with its unit behind it. The unit is that [m], or 0 where none is written.
func heightIn(text string) (v, unit float64, ok bool) {
	if v, ok = numberIn(text); ok {
		return v, 0, true
	}
	digits := strings.LastIndexAny(text, "0123456789") + 1
	word := strings.ToLower(strings.Trim(text[digits:], " ."))
	if !slices.Contains(heightUnits, word) {
		return 0, 0, false
	}
	if unit, err := geo.ParseLength(word); err == nil {
		v, ok = numberIn(text[:digits])
		return v, unit, ok
	}
	return 0, 0, false
}

// heightUnits are those that may stand behind a height.
var heightUnits = []string{"m", "ft", "us-ft"}

func numberIn(text string) (float64, bool) {
	text = strings.TrimSpace(text)
	if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1)
	}
	if len(text) == 0 || strings.ContainsAny(text, "xX_nN") {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil && !math.IsInf(v, 0)
}

// done returns what was gathered.
func (t *tally) done() LayerLook {
	if !t.guessed {
		t.guess()
	}
	l := t.LayerLook
	for _, f := range t.fields {
		if t.kml && slices.Contains(kmlFields, f.Name) {
			continue
		}
		if f.Number = f.Set > 0 && f.texts == 0; !f.Number {
			f.Low, f.High = 0, 0
		}
		l.Fields = append(l.Fields, f.FieldLook)
	}
	return l
}

// kmlFields are what the library makes of how a KML file is to be shown.
var kmlFields = []string{"timestamp", "begin", "end", "altitudeMode", "tessellate", "extrude", "visibility", "drawOrder", "icon"}

// notes says what a person should know of a layer.
func (t *tally) notes() []string {
	if t.hasZ && !t.HasZ {
		return []string{fmt.Sprintf("The third coordinate of layer %s is nought everywhere, so it is not taken for a height.", clip(t.Name))}
	}
	return nil
}
