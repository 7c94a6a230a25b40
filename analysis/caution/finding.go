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
	if of, ok := limitOf[rule]; ok && of(c.limits) != of(UsualLimits()) {
		says.Guidance = fmt.Sprintf("%s The figure is this site's own limit; that of the guidance is %.4g.", says.Guidance, of(UsualLimits()))
	}
	c.found = append(c.found, says)
}

// limitOf is the limit that a rule rests on.
var limitOf = map[string]func(Limits) float64{
	"well setback":               func(l Limits) float64 { return l.Well },
	"building setback":           func(l Limits) float64 { return l.Building },
	"boundary setback":           func(l Limits) float64 { return l.Boundary },
	"septic field setback":       func(l Limits) float64 { return l.Septic },
	"deep water":                 func(l Limits) float64 { return l.Depth },
	"deep storm water":           func(l Limits) float64 { return l.Depth },
	"steep bank":                 func(l Limits) float64 { return l.Side },
	slowToDrain:                  func(l Limits) float64 { return l.Drawdown },
	breedMosquitoes:              func(l Limits) float64 { return l.Mosquitoes },
	"slow after the storm":       func(l Limits) float64 { return l.Drawdown },
	"mosquitoes after the storm": func(l Limits) float64 { return l.Mosquitoes },
	"groundwater":                func(l Limits) float64 { return l.Groundwater },
	"storm freeboard":            func(l Limits) float64 { return l.Freeboard },
	"street runoff near a well":  func(l Limits) float64 { return l.Street },
	"overflow toward a building": func(l Limits) float64 { return l.Overflow },
	"rising groundwater":         func(l Limits) float64 { return l.Mound },
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
