package plan

import "slices"

// A SettingFigure is a number of a site's setting: what it is called in files and for
// people, its unit, between which limits it lies, and where it stands.
type SettingFigure struct {
	Field
	Of func(*Setting) *float64
}

// A SettingText is a word or a text of a site's setting.
type SettingText struct {
	Field
	Of func(*Setting) *string
}

// SettingFigures lists the numbers of a setting.
func SettingFigures() []SettingFigure { return slices.Clone(settingFigures) }

// SettingTexts lists the words and the texts of a setting.
func SettingTexts() []SettingText { return slices.Clone(settingTexts) }

// SettingFigureNamed returns the figure of a name in files. It panics on a name that is
// not in the list.
func SettingFigureNamed(name string) SettingFigure {
	i := slices.IndexFunc(settingFigures, func(f SettingFigure) bool { return f.Name == name })
	if i < 0 {
		panic("plan: no figure of the setting is called " + name)
	}
	return settingFigures[i]
}

// LimitsPart is the part of the figures that are limits of the cautions.
const LimitsPart = "Limits of the cautions"

// yearDays is the most days of anything in a year.
const yearDays = 366

// figure makes a row of the list.
func figure(name, label, unit string, high float64, of func(*Setting) *float64) SettingFigure {
	return SettingFigure{Field{Name: name, Label: label, Unit: unit, High: high}, of}
}

// from gives a figure another least than nought.
func (f SettingFigure) from(low float64) SettingFigure {
	f.Low = low
	return f
}

// among heads some figures.
func among(head string, figures ...SettingFigure) []SettingFigure {
	for i := range figures {
		figures[i].Part = head
	}
	return figures
}

// The limits of the rain are a little beyond what has been measured anywhere (from
// memory: 1.8 m in a day, 26 m in a year), the others beyond what one would use.
var settingFigures = slices.Concat(
	among("Rain",
		figure("storm_mm", "Design storm", "mm", 2000, func(s *Setting) *float64 { return &s.Storm }),
		figure("storm_hours", "Length of the storm", "h", 240, func(s *Setting) *float64 { return &s.StormHours }).from(0.1),
		figure("year_rain_mm", "Rain in a mean year", "mm", 30_000, func(s *Setting) *float64 { return &s.YearRain })),
	among("Survey",
		figure("survey_error", "Survey error", "m", 10, func(s *Setting) *float64 { return &s.SurveyError }),
		figure("survey_reach", "Reach of the error", "m", 1000, func(s *Setting) *float64 { return &s.SurveyReach })),
	among("Groundwater",
		figure("groundwater_depth", "Depth to groundwater (0 where not known)", "m", 100, func(s *Setting) *float64 { return &s.Groundwater }),
		figure("aquifer_conductivity", "Conductivity along the aquifer (0 where not known)", "m/day", 10_000, func(s *Setting) *float64 { return &s.Aquifer.Conductivity }),
		figure("aquifer_yield", "Specific yield of the aquifer (0 where not known)", "", 0.6, func(s *Setting) *float64 { return &s.Aquifer.Yield }),
		figure("aquifer_thickness", "Water's depth in the aquifer (0 where not known)", "m", 1000, func(s *Setting) *float64 { return &s.Aquifer.Thickness })),
	among("Clogging",
		figure("clogging_remains", "Share of the soaking rate that clogging leaves", "", 1, func(s *Setting) *float64 { return &s.Clogging.Remains }),
		figure("clogging_days", "Days under water to two thirds of the clogging", "days", 10*yearDays, func(s *Setting) *float64 { return &s.Clogging.Days }),
		figure("clogging_recovery", "Dry days to two thirds of the recovery", "days", 10*yearDays, func(s *Setting) *float64 { return &s.Clogging.Recovery })),
	among("Costs",
		cost("cost_cut", "Cost of a cubic metre dug", func(c *Costs) *float64 { return &c.Cut }),
		cost("cost_fill", "Cost of a cubic metre placed", func(c *Costs) *float64 { return &c.Fill }),
		cost("cost_haul", "Cost of a cubic metre taken away", func(c *Costs) *float64 { return &c.Haul }),
		cost("cost_sill", "Cost of a sill", func(c *Costs) *float64 { return &c.Sill }),
		cost("cost_spillway", "Cost of a spillway", func(c *Costs) *float64 { return &c.Spillway }),
		cost("cost_crossing", "Cost of a crossing", func(c *Costs) *float64 { return &c.Crossing })),
	among(LimitsPart,
		limit("limit_well", "Least distance of water from a well", "m", 1000, func(l *Limits) *float64 { return &l.Well }),
		limit("limit_building", "Least distance of water from a building", "m", 1000, func(l *Limits) *float64 { return &l.Building }),
		limit("limit_boundary", "Least distance of water from the boundary", "m", 1000, func(l *Limits) *float64 { return &l.Boundary }),
		limit("limit_septic", "Least distance of water from a septic field", "m", 1000, func(l *Limits) *float64 { return &l.Septic }),
		limit("limit_depth", "Greatest depth of water", "m", 20, func(l *Limits) *float64 { return &l.Depth }),
		limit("limit_side", "Steepest bank", "H:V", 20, func(l *Limits) *float64 { return &l.Side }),
		limit("limit_drawdown", "Longest time to empty", "h", 10_000, func(l *Limits) *float64 { return &l.Drawdown }),
		limit("limit_mosquitoes", "Longest time that water stands before mosquitoes hatch", "h", 10_000, func(l *Limits) *float64 { return &l.Mosquitoes }),
		limit("limit_service", "Least distance of digging from a located service", "m", 100, func(l *Limits) *float64 { return &l.Service }),
		limit("limit_unlocated", "Least distance of digging from a service that nobody has located", "m", 100, func(l *Limits) *float64 { return &l.Unlocated }),
		limit("limit_groundwater", "Least height of the bed above the water table", "m", 100, func(l *Limits) *float64 { return &l.Groundwater }),
		limit("limit_cell", "Largest cell of the ground as a share of the narrowest bed", "", 10, func(l *Limits) *float64 { return &l.Cell }),
		limit("limit_street", "Least distance of a street's water from a well", "m", 1000, func(l *Limits) *float64 { return &l.Street }),
		limit("limit_overflow", "Least distance of the overflow's way from a building", "m", 1000, func(l *Limits) *float64 { return &l.Overflow }),
		limit("limit_freeboard", "Least freeboard in the design storm", "m", 5, func(l *Limits) *float64 { return &l.Freeboard }),
		limit("limit_mound", "Greatest rise of the water table at a basement or a septic field", "m", 50, func(l *Limits) *float64 { return &l.Mound })),
)

// cost and limit make rows of costs and limits; a currency has no name yet, so that
// costs have no unit.
func cost(name, label string, of func(*Costs) *float64) SettingFigure {
	return figure(name, label, "", 1e9, func(s *Setting) *float64 { return of(&s.Costs) })
}

func limit(name, label, unit string, high float64, of func(*Limits) *float64) SettingFigure {
	return figure(name, label, unit, high, func(s *Setting) *float64 { return of(&s.Limits) })
}

var settingTexts = []SettingText{
	{Field{Name: "soil", Label: "Soil texture", Type: Choice, Of: textures}, func(s *Setting) *string { return &s.Soil }},
	{Field{Name: "cover", Label: "Cover of the ground", Type: Choice, Of: covers}, func(s *Setting) *string { return &s.Cover }},
	{Field{Name: "distribution", Label: "Rain of the storm in time", Type: Choice, Of: distributions}, func(s *Setting) *string { return &s.Distribution }},
	{Field{Name: "storm_table", Label: "Own table of the storm", Type: Text}, func(s *Setting) *string { return &s.StormTable }},
	{Field{Name: "irrigation", Label: "Way of watering", Type: Choice, Of: irrigations}, func(s *Setting) *string { return &s.Irrigation }},
	{Field{Name: "currency", Label: "Currency of the costs", Type: Text}, func(s *Setting) *string { return &s.Costs.Currency }},
}
