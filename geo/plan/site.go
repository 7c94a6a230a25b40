package plan

import (
	"slices"

	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/survey"
	"runnel/geo/weather"
)

// A Site is one project: its ground, what is drawn on it, its soil and season.
type Site struct {
	Name string
	// CRS is a metric reference system; every coordinate of the site is in it.
	CRS crs.CRS
	// Ground is the surface of record. It is replaced, never changed in place.
	Ground  grid.Ground
	Setting Setting
	Plan    Plan
	// Underlays are the images under the map, the lowest first.
	Underlays []Underlay
	// Survey is what the ground rests on. Like the ground it is replaced, never
	// changed in place.
	Survey survey.Survey
	// Weather is the daily record that seasons are worked out of; it has no days where
	// there is none. It too is replaced, never changed in place.
	Weather weather.Record
}

// Clone returns a copy that may be edited without touching s; the ground is shared.
func (s Site) Clone() Site {
	s.Plan = s.Plan.Clone()
	s.Underlays = slices.Clone(s.Underlays)
	return s
}
