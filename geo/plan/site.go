package plan

import (
	"slices"

	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/survey"
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
}

// Setting is what the measures rest on beside the ground and the plan.
type Setting struct {
	// Soil is a texture class of the table in analysis/soil, such as "loam".
	Soil string
	// RunDays is how many days in a year the drain runs.
	RunDays geo.Range
	// Cover is what the ground bears where nothing is drawn: one of Covers.
	Cover string
	// Storm is the rain of the storm that is looked at [mm], StormHours how long
	// it falls [h], YearRain the rain of a mean year [mm].
	Storm, StormHours, YearRain float64
	// SurveyError is the standard deviation of the ground's heights [m], and
	// SurveyReach how far such an error reaches before it changes [m].
	SurveyError, SurveyReach float64
	// Groundwater is how far below the ground the water table lies in the wet season
	// [m]; nought where it is not known.
	Groundwater float64
}

// UsualSetting is where a new site starts. All of it is common practice, with no
// source. A drain of this kind runs from two weeks to two months in a wet season.
// 40 mm in two hours is a heavy storm of every few years in a temperate place and
// 700 mm its mean year. A careful survey by level or by drone is right to a few
// centimetres, and wrong alike over the few metres between its points.
func UsualSetting() Setting {
	return Setting{
		Soil: "loam", RunDays: geo.Range{Low: 14, Likely: 30, High: 60},
		Cover: covers[0], Storm: 40, StormHours: 2, YearRain: 700,
		SurveyError: 0.02, SurveyReach: 5,
	}
}

// Clone returns a copy that may be edited without touching s; the ground is shared.
func (s Site) Clone() Site {
	s.Plan = s.Plan.Clone()
	s.Underlays = slices.Clone(s.Underlays)
	return s
}
