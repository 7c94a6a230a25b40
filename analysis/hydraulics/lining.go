package hydraulics

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
	var names []string
	for _, l := range linings() {
		if strings.EqualFold(l.Name, strings.TrimSpace(name)) {
			return l, nil
		}
		names = append(names, l.Name)
	}
	return Lining{}, fmt.Errorf("the lining %q is not in the table; give one of: %s", name, strings.Join(names, ", "))
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
	for _, row := range rows(assets.Linings, 6) {
		n := figures(row[1:4])
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
	for _, row := range rows(assets.Scour, 7) {
		v := figures(row[2:5])
		all = append(all, scour{row[0], row[1], Limit{v[1] * footPerSecond, v[2] * poundPerSquareFoot, v[0] / 100, row[5]}})
	}
	return all
})

// rows returns the rows of a built-in table below its heading.
func rows(text string, columns int) [][]string {
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(all) < 2 || len(all[0]) != columns {
		panic(fmt.Sprintf("hydraulics: a built-in table is not of %d columns: %v", columns, err))
	}
	return all[1:]
}

func figures(cells []string) []float64 {
	var all []float64
	for _, cell := range cells {
		v, err := strconv.ParseFloat(cell, 64)
		if err != nil || !(v > 0) {
			panic(fmt.Sprintf("hydraulics: a built-in table has %q where a figure above 0 belongs", cell))
		}
		all = append(all, v)
	}
	return all
}
