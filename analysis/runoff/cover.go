package runoff

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"runnel/assets"
	"runnel/geo"
)

// A Cover is what the ground bears, or is built over with.
type Cover struct {
	Name string
	// Coefficient is the share of the rain that runs off.
	Coefficient geo.Range
	// Source is the publication, for a person, or says that there is none.
	Source string
}

// CoverNamed finds a cover by its name, whatever its case.
func CoverNamed(name string) (Cover, error) {
	var names []string
	for _, c := range table() {
		if strings.EqualFold(c.Name, strings.TrimSpace(name)) {
			return c, nil
		}
		names = append(names, c.Name)
	}
	return Cover{}, fmt.Errorf("the cover %q is not in the table; give one of: %s", name, strings.Join(names, ", "))
}

var table = sync.OnceValue(func() []Cover {
	covers, err := parse(assets.Covers)
	if err != nil {
		panic("runoff: the built-in table: " + err.Error())
	}
	return covers
})

// parse reads a heading, then rows of a cover, its low, likely and high
// coefficient, and their source.
func parse(text string) ([]Cover, error) {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(rows) < 2 || len(rows[0]) != 5 {
		return nil, fmt.Errorf("it has no figures; give a heading of five columns and one row a cover")
	}
	var covers []Cover
	for _, row := range rows[1:] {
		var share [3]float64
		for i, cell := range row[1:4] {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil || !(v >= 0 && v <= 1) {
				return nil, fmt.Errorf("%s of %s is %q; give a share from 0 to 1", rows[0][i+1], row[0], cell)
			}
			share[i] = v
		}
		c := Cover{row[0], geo.Range{Low: share[0], Likely: share[1], High: share[2]}, row[4]}
		if err := c.Coefficient.Check(); err != nil {
			return nil, fmt.Errorf("%s: %w", row[0], err)
		}
		covers = append(covers, c)
	}
	return covers, nil
}
