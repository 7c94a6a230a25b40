package hydraulics

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"runnel/analysis/internal/printed"
	"runnel/assets"
	"runnel/geo"
)

// A Lining is what a bed and its banks are lined with.
type Lining struct {
	Name string
	// N is Manning's n.
	N geo.Range
	// Source is the publication, for a person.
	Source string
}

// A Limit is what a lining on a soil stands: more scours it.
type Limit struct {
	// Velocity is the mean velocity [m/s], Shear that on the bed [Pa].
	Velocity, Shear float64
	// Slope is the steepest bed for which it holds [m/m].
	Slope  float64
	Source string
}

// LiningNamed finds a lining by its name, whatever its case.
func LiningNamed(name string) (Lining, error) {
	found, ok, names := printed.Named(linings(), name, func(t Lining) string { return t.Name })
	if !ok {
		return found, fmt.Errorf("the lining %q is not in the table; give one of: %s", name, names)
	}
	return found, nil
}

// LimitOf returns what a lining on a soil stands on a bed of a slope [m/m], however
// it falls. The soil is a texture of analysis/soil.
func LimitOf(lining, texture string, slope float64) (Limit, error) {
	found := false
	for _, r := range scours() {
		if !strings.EqualFold(r.lining, strings.TrimSpace(lining)) || !r.holdsFor(texture) {
			continue
		}
		found = true
		if slope <= r.Slope {
			return r.Limit, nil
		}
	}
	if found {
		return Limit{}, fmt.Errorf("no figure is published for %s on a bed as steep as %.1f %%; line it with stones, or break the fall with drops", lining, slope*100)
	}
	return Limit{}, fmt.Errorf("there is no figure for %s on %q; give the lining and the soil as the tables name them", lining, texture)
}

// A scour is a row of the table of limits.
type scour struct {
	lining, soil string
	Limit
}

// resistant are the textures that count as erosion-resistant where a table parts
// soils in two: those with much clay. Others count as easily eroded.
var resistant = []string{"sandy clay", "clay loam", "silty clay loam", "silty clay", "clay"}

// holdsFor reports whether a row's soil, which is a texture or a class of them,
// takes in a texture.
func (r *scour) holdsFor(texture string) bool {
	texture = strings.ToLower(strings.TrimSpace(texture))
	switch r.soil {
	case "any":
		return true
	case "erosion-resistant":
		return slices.Contains(resistant, texture)
	case "easily eroded":
		return !slices.Contains(resistant, texture)
	}
	return r.soil == texture
}

var linings = sync.OnceValue(func() []Lining {
	var all []Lining
	table := read(assets.Linings, 6)
	for _, row := range table.Rows {
		n := figures(table, row, 1, 4)
		l := Lining{row[0], geo.Range{Low: n[0], Likely: n[1], High: n[2]}, row[4]}
		if err := l.N.Check(); err != nil {
			panic("hydraulics: the built-in table of linings: " + err.Error())
		}
		all = append(all, l)
	}
	return all
})

// Published units: feet per second and pounds a square foot.
const (
	footPerSecond      = geo.Foot
	poundPerSquareFoot = 47.880
)

var scours = sync.OnceValue(func() []scour {
	var all []scour
	table := read(assets.Scour, 7)
	for _, row := range table.Rows {
		v := figures(table, row, 2, 5)
		all = append(all, scour{row[0], row[1], Limit{v[1] * footPerSecond, v[2] * poundPerSquareFoot, v[0] / 100, row[5]}})
	}
	return all
})

// read returns a built-in table of some columns.
func read(text string, columns int) printed.Table {
	table, err := printed.Read(text, columns)
	if err != nil {
		panic("hydraulics: a built-in table: " + err.Error())
	}
	return table
}

// figures returns those in some columns of a row, which are above nought.
func figures(t printed.Table, row []string, first, end int) []float64 {
	all, err := printed.Figures{First: first, End: end, Low: 0.001, High: 1000}.In(t, row)
	if err != nil {
		panic("hydraulics: a built-in table: " + err.Error())
	}
	return all
}
