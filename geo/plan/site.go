package plan

import (
	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/grid"
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
}

// Setting is what the measures rest on beside the ground and the plan.
type Setting struct {
	// Soil is a texture class of the table in analysis/soil, such as "loam".
	Soil string
	// RunDays is how many days in a year the drain runs.
	RunDays geo.Range
}

// UsualSetting is where a new site starts. A drain of this kind commonly runs
// from two weeks to two months in a wet season (common practice, no source).
func UsualSetting() Setting {
	return Setting{Soil: "loam", RunDays: geo.Range{Low: 14, Likely: 30, High: 60}}
}

// Clone returns a copy that may be edited without touching s; the ground is shared.
func (s Site) Clone() Site {
	s.Plan = s.Plan.Clone()
	return s
}
