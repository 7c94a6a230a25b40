package earthwork

import (
	"strings"
	"sync"

	"runnel/analysis/internal/printed"
	"runnel/assets"
)

// A Change is how earth changes its volume once it is dug.
type Change struct {
	// Soil is the row of the table.
	Soil string
	// Loose is the volume on the heap, and Compacted that rammed into a fill, of 1 in
	// place.
	Loose, Compacted float64
	// Source names the publication, for a person.
	Source string

	textures []string
}

// usualSoil is the row for textures that the table does not name.
const usualSoil = "common earth"

// ChangeOf returns how earth of a texture class swells and shrinks; that of common
// earth for a texture that is not in the table. The classes go to sand, earth and
// clay as the Soil Survey Manual groups them: sandy, loamy, clayey (from memory).
func ChangeOf(texture string) Change {
	usual := Change{}
	for _, c := range changes() {
		for _, name := range c.textures {
			if strings.EqualFold(name, strings.TrimSpace(texture)) {
				return c
			}
		}
		if c.Soil == usualSoil {
			usual = c
		}
	}
	return usual
}

var changes = sync.OnceValue(func() []Change {
	list, err := parseChanges(assets.Swell)
	if err != nil {
		panic("earthwork: the built-in table of swell: " + err.Error())
	}
	return list
})

// parseChanges reads a heading, then rows of a soil, its volume loose and compacted,
// its texture classes parted by semicolons, the source, and how it was checked.
func parseChanges(text string) ([]Change, error) {
	table, err := printed.Read(text, 6)
	if err != nil {
		return nil, err
	}
	volumes := printed.Figures{First: 1, End: 3, Low: 0.5, High: 3}
	var list []Change
	for _, row := range table.Rows {
		of, err := volumes.In(table, row)
		if err != nil {
			return nil, err
		}
		c := Change{Soil: row[0], Loose: of[0], Compacted: of[1], Source: row[4]}
		for _, name := range strings.Split(row[3], ";") {
			if name = strings.TrimSpace(name); name != "" {
				c.textures = append(c.textures, name)
			}
		}
		list = append(list, c)
	}
	return list, nil
}
