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
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

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

// parse reads a table of a class, then figures of it from several publications.
func parse(text string) ([]Texture, error) {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(rows) < 2 || len(rows[0]) < 2 {
		return nil, fmt.Errorf("it has no figures; give a heading and one row a class")
	}
	var textures []Texture
	for _, row := range rows[1:] {
		var figures []float64
		for i, cell := range row[1:] {
			v, err := strconv.ParseFloat(cell, 64)
			_, unit, _ := strings.Cut(rows[0][i+1], "_")
			factor := millimetresPerHour[unit]
			if err != nil || factor == 0 || !(v > 0) {
				return nil, fmt.Errorf("%s of %s is %q; give a figure above 0 under a heading that ends in its unit", rows[0][i+1], row[0], cell)
			}
			figures = append(figures, v*factor)
		}
		slices.Sort(figures)
		ksat := geo.Range{Low: figures[0], Likely: figures[len(figures)/2], High: figures[len(figures)-1]}
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
