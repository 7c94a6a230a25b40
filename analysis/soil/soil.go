// Package soil says how fast water soaks into soil, by texture class.
//
// Conductivity is saturated vertical hydraulic conductivity [mm/h]. Low, likely
// and high are the least, the middle and the greatest of three published tables:
// [Rawls1982]; the conductivity of [Rawls1983], which is about half of it, for a
// soil that takes in water from above; and [CarselParrish1988]. One texture spans
// more than the three together: a test hole on the site is worth more than any
// class.
package soil

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"runnel/analysis/internal/printed"
	"runnel/assets"
	"runnel/geo"
)

// A Texture is a class of soil of the USDA texture triangle.
type Texture struct {
	Name string
	// Ksat is the saturated hydraulic conductivity [mm/h].
	Ksat geo.Range
	// Source names the publications, for a person.
	Source string
}

const source = "the least, middle and greatest of Rawls, Brakensiek and Saxton 1982; Rawls, Brakensiek and Miller 1983; Carsel and Parrish 1988"

// Textures lists the classes, from the fastest to the slowest by and large.
func Textures() []Texture { return slices.Clone(table()) }

// TextureNamed finds a class by its name, whatever its case.
func TextureNamed(name string) (Texture, error) {
	var names []string
	for _, t := range table() {
		if strings.EqualFold(t.Name, strings.TrimSpace(name)) {
			return t, nil
		}
		names = append(names, t.Name)
	}
	return Texture{}, fmt.Errorf("the soil %q is not in the table; give one of: %s", name, strings.Join(names, ", "))
}

var table = sync.OnceValue(func() []Texture {
	textures, err := parse(assets.Soils)
	if err != nil {
		panic("soil: the built-in table: " + err.Error())
	}
	return textures
})

// millimetresPerHour is what one of each unit of the table comes to.
var millimetresPerHour = map[string]float64{"cm_per_h": 10, "cm_per_d": 10.0 / 24}

// parse reads a table of a class, then figures of it from three publications.
func parse(text string) ([]Texture, error) {
	table, err := printed.Read(text, 4)
	if err != nil {
		return nil, err
	}
	columns := printed.Figures{First: 1, End: 4, Low: 0.0001, High: 100_000}
	var textures []Texture
	for _, row := range table.Rows {
		figures, err := columns.In(table, row)
		if err != nil {
			return nil, err
		}
		for i, heading := range table.Heading[1:] {
			_, unit, _ := strings.Cut(heading, "_")
			factor := millimetresPerHour[unit]
			if factor == 0 {
				return nil, fmt.Errorf("the heading %s has no unit that is known; end it in its unit", heading)
			}
			figures[i] *= factor
		}
		slices.Sort(figures)
		ksat := geo.Range{Low: figures[0], Likely: figures[1], High: figures[2]}
		textures = append(textures, Texture{Name: row[0], Ksat: ksat, Source: source})
	}
	return textures, nil
}

// Soaked returns the water that an area of soil [m²] can take in over some days
// under water [m³]: area × conductivity × time. It is a potential. It leaves out
// the mound that water builds up below, soil that clogs or seals, and whether
// there is so much water to soak.
func (t Texture) Soaked(area float64, days geo.Range) geo.Range {
	const hours, metres = 24, 0.001
	return t.Ksat.Times(days).Scale(area * hours * metres)
}
