package gdal

import (
	"fmt"
	"maps"
	"strings"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// take adds the parts of one feature. Only what ends the reading is an error.
func (d *drawing) take(f gdal.Feature, as Drawn, m moverFrom) error {
	d.tellTorn(as.Layer)
	parts, err := partsOf(f.Geometry())
	if err != nil {
		d.noteOn(as.Layer, as.Number, fmt.Errorf("%w; it is left out", err))
		return nil
	}
	as.Fields = fieldsOf(f)
	as.Geometry = parts[0].shape
	as.Layer = layerOf(as)
	as.takeNames()
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
	return d.checkSize()
}

// tellTorn tells once that a layer is damaged. The library reads ahead, so which
// feature it is about is not known.
func (d *drawing) tellTorn(layer string) {
	if !failed() {
		return
	}
	if !d.torn[layer] {
		d.torn[layer] = true
		d.note("Part of layer %s is damaged; what can be read of it is taken.", clip(layer))
	}
	forget()
}

// checkSize reports more than can be taken.
func (d *drawing) checkSize() error {
	if len(d.drawn) > mostFeatures || d.points > mostPoints {
		return tooMany()
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

// takeNames sets the field kind where the layer bears the name of one, and the scheme.
func (d *Drawn) takeNames() {
	d.Scheme = d.Fields[keyFold(d.Fields, "scheme")]
	if _, ok := plan.KindNamed(d.Layer); ok && d.Fields[keyFold(d.Fields, "kind")] == "" {
		d.Fields["kind"] = d.Layer
	}
}
