package site

import "runnel/geo/plan"

// A Figure is a number of a site's setting: what it is called, its unit, between
// which limits it lies, and where it stands. The limits of the rain are a little
// beyond what has been measured anywhere (from memory: 1.8 m in a day, 26 m in a
// year), those of the survey beyond what one would use.
type Figure struct {
	plan.Field
	Of func(*plan.Setting) *float64
}

// DesignStorm is the rain of the storm that the site is designed for [mm].
func DesignStorm() Figure {
	return Figure{plan.Field{Label: "Design storm", Unit: "mm", High: 2000},
		func(s *plan.Setting) *float64 { return &s.Storm }}
}

// StormHours is how long the design storm lasts [h].
func StormHours() Figure {
	return Figure{plan.Field{Label: "Length of the storm", Unit: "h", Low: 0.1, High: 240},
		func(s *plan.Setting) *float64 { return &s.StormHours }}
}

// YearRain is the rain of a mean year [mm].
func YearRain() Figure {
	return Figure{plan.Field{Label: "Rain in a mean year", Unit: "mm", High: 30_000},
		func(s *plan.Setting) *float64 { return &s.YearRain }}
}

// SurveyError is the standard deviation of the ground's heights [m].
func SurveyError() Figure {
	return Figure{plan.Field{Label: "Survey error", Unit: "m", High: 10},
		func(s *plan.Setting) *float64 { return &s.SurveyError }}
}

// SurveyReach is how far such an error reaches before it changes [m].
func SurveyReach() Figure {
	return Figure{plan.Field{Label: "Reach of the error", Unit: "m", High: 1000},
		func(s *plan.Setting) *float64 { return &s.SurveyReach }}
}

// Groundwater is how far below the ground the water table lies in the wet season [m].
func Groundwater() Figure {
	return Figure{plan.Field{Label: "Depth to groundwater (0 where not known)", Unit: "m", High: 100},
		func(s *plan.Setting) *float64 { return &s.Groundwater }}
}
