package caution

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// A finding is one place where a rule's limit is not kept.
type finding struct {
	name     string
	features []plan.ID
	// measured says what was found there.
	measured string
	at       orb.Point
}

// findings are what one rule found.
type findings []finding

// report adds a rule's findings as one caution, if there are any. Text has one
// place for the names of what is concerned, measured one for what was found.
func (c *checker) report(rule string, found findings, says Caution) {
	if len(found) == 0 {
		return
	}
	says.Rule, says.At = rule, found[0].at
	var names, measured []string
	for _, f := range found {
		if !slices.Contains(names, f.name) {
			names = append(names, f.name)
		}
		measured = append(measured, f.measured)
		for _, id := range f.features {
			if !slices.Contains(says.Features, id) {
				says.Features = append(says.Features, id)
			}
		}
	}
	says.Text = fmt.Sprintf(says.Text, list(names))
	says.Measured = fmt.Sprintf(says.Measured, list(measured))
	c.found = append(c.found, says)
}

// longest is how many things a sentence lists by name.
const longest = 6

// list joins things as a sentence does.
func list(things []string) string {
	if extra := len(things) - longest; extra > 0 {
		things = append(slices.Clone(things[:longest]), fmt.Sprintf("%d more", extra))
	}
	last := len(things) - 1
	if last < 1 {
		return strings.Join(things, "")
	}
	return fmt.Sprintf("%s and %s", strings.Join(things[:last], ", "), things[last])
}
