package site

import "runnel/geo/plan"

// A Figure is a number of a site's setting.
type Figure = plan.SettingFigure

// DesignStorm is the rain of the storm that the site is designed for [mm].
func DesignStorm() Figure { return plan.SettingFigureNamed("storm_mm") }

// StormHours is how long the design storm lasts [h].
func StormHours() Figure { return plan.SettingFigureNamed("storm_hours") }

// YearRain is the rain of a mean year [mm].
func YearRain() Figure { return plan.SettingFigureNamed("year_rain_mm") }

// SurveyError is the standard deviation of the ground's heights [m].
func SurveyError() Figure { return plan.SettingFigureNamed("survey_error") }

// SurveyReach is how far such an error reaches before it changes [m].
func SurveyReach() Figure { return plan.SettingFigureNamed("survey_reach") }
