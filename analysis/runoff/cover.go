package runoff

import (
	"fmt"
	"sync"

	"runnel/analysis/internal/printed"
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
	found, ok, names := printed.Named(table(), name, func(t Cover) string { return t.Name })
	if !ok {
		return found, fmt.Errorf("the cover %q is not in the table; give one of: %s", name, names)
	}
	return found, nil
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
	table, err := printed.Read(text, 5)
	if err != nil {
		return nil, err
	}
	shares := printed.Figures{First: 1, End: 4, Low: 0, High: 1}
	var covers []Cover
	for _, row := range table.Rows {
		share, err := shares.In(table, row)
		if err != nil {
			return nil, err
		}
		c := Cover{row[0], geo.Range{Low: share[0], Likely: share[1], High: share[2]}, row[4]}
		if err := c.Coefficient.Check(); err != nil {
			return nil, fmt.Errorf("%s: %w", row[0], err)
		}
		covers = append(covers, c)
	}
	return covers, nil
}
