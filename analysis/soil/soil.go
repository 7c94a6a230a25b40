// Package soil says how fast water soaks into soil: by texture class, by tests in the
// field, by zones drawn on a site and layers below them, and how that changes as water
// stands on it.
//
// Conductivity is saturated vertical hydraulic conductivity [mm/h]. Low, likely
// and high of a texture are the least, the middle and the greatest of three published
// tables: [Rawls1982]; the conductivity of [Rawls1983], which is about half of it, for a
// soil that takes in water from above; and [CarselParrish1988]. One texture spans
// more than the three together: a test hole on the site is worth more than any
// class. NaN is a conductivity that is withheld: one that was found to be nought, or
// typed so that it says nothing.
//
// All figures of the tables are cited from memory of them.
package soil

import (
	"fmt"
	"math"
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
	// Porosity is all the room in the soil and Effective that which water can leave
	// again, as shares of its volume; Suction the head at the wetting front [mm]
	// ([Rawls1983]).
	Porosity, Effective, Suction float64
	// Held is the share of its volume that stays wet at 33 kPa, some days after it was
	// full ([Rawls1982]).
	Held float64
	// Group is that of this conductivity down to a metre and more.
	Group Group
	// Source names the publications, for a person.
	Source string
}

const source = "the least, middle and greatest of Rawls, Brakensiek and Saxton 1982; Rawls, Brakensiek and Miller 1983; Carsel and Parrish 1988"

// Textures lists the classes, from the fastest to the slowest by and large.
func Textures() []Texture { return slices.Clone(table()) }

// TextureNamed finds a class by its name, whatever its case.
func TextureNamed(name string) (Texture, error) {
	found, ok, names := printed.Named(table(), name, func(t Texture) string { return t.Name })
	if !ok {
		return found, fmt.Errorf("the soil %q is not in the table; give one of: %s", name, names)
	}
	return found, nil
}

// Deficit is the share of the soil's volume that water can fill when the soil has
// drained for some days after it was last full: what a wetting finds in a wet season.
// In a dry one it finds more, up to the effective porosity.
func (t Texture) Deficit() float64 { return t.Porosity - t.Held }

var table = sync.OnceValue(func() []Texture {
	textures, err := parse(assets.Soils)
	if err != nil {
		panic("soil: the built-in table: " + err.Error())
	}
	return textures
})

// millimetresPerHour is what one of each unit of the table comes to.
var millimetresPerHour = map[string]float64{"cm_per_h": 10, "cm_per_d": 10.0 / 24}

// parse reads a table of a class, then its conductivity from three publications, then
// porosity, effective porosity, suction [cm] and what is held.
func parse(text string) ([]Texture, error) {
	table, err := printed.Read(text, 8)
	if err != nil {
		return nil, err
	}
	var textures []Texture
	for _, row := range table.Rows {
		ksat, err := conductivity(table, row)
		if err != nil {
			return nil, err
		}
		shares, err := printed.Figures{First: 4, End: 6, Low: 0.01, High: 0.99}.In(table, row)
		if err != nil {
			return nil, err
		}
		suction, err := printed.Figures{First: 6, End: 7, Low: 0.1, High: 1000}.In(table, row)
		if err != nil {
			return nil, err
		}
		held, err := printed.Figures{First: 7, End: 8, Low: 0, High: shares[0]}.In(table, row)
		if err != nil {
			return nil, err
		}
		textures = append(textures, Texture{
			Name: row[0], Ksat: ksat, Porosity: shares[0], Effective: shares[1], Suction: 10 * suction[0], Held: held[0],
			Group: GroupOf(ksat.Likely, math.Inf(1)), Source: source,
		})
	}
	return textures, nil
}

// conductivity reads that of one class, by the units that end the headings.
func conductivity(table printed.Table, row []string) (geo.Range, error) {
	figures, err := printed.Figures{First: 1, End: 4, Low: 0.0001, High: 100_000}.In(table, row)
	if err != nil {
		return geo.Range{}, err
	}
	for i, heading := range table.Heading[1:4] {
		_, unit, _ := strings.Cut(heading, "_")
		factor := millimetresPerHour[unit]
		if factor == 0 {
			return geo.Range{}, fmt.Errorf("the heading %s has no unit that is known; end it in its unit", heading)
		}
		figures[i] *= factor
	}
	slices.Sort(figures)
	return geo.Range{Low: figures[0], Likely: figures[1], High: figures[2]}, nil
}
