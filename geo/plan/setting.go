package plan

import "runnel/geo"

// Setting is what the measures rest on beside the ground and the plan. Two settings
// can be compared.
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
	// Distribution is how the storm's rain falls in time: one of Distributions. Where
	// that is OwnStorm, StormTable is its table: pairs of a share of the storm's time
	// and the share of its rain that has fallen by then, such as "0 0, 0.5 0.8, 1 1".
	Distribution, StormTable string
	// SurveyError is the standard deviation of the ground's heights [m], and
	// SurveyReach how far such an error reaches before it changes [m].
	SurveyError, SurveyReach float64
	// Groundwater is how far below the ground the water table lies in the wet season
	// [m]; nought where it is not known.
	Groundwater float64
	Aquifer     Aquifer
	Clogging    Clogging
	// Irrigation is how the planting is watered: one of Irrigations.
	Irrigation string
	Costs      Costs
	// Limits are those of the cautions; the zero Limits stand for the usual ones.
	Limits Limits
}

// An Aquifer is the ground that holds the groundwater; noughts are not known.
type Aquifer struct {
	// Conductivity along it [m/day], Yield its specific yield, Thickness how deep its
	// water stands before anything soaks in [m].
	Conductivity, Yield, Thickness float64
}

// Known reports whether all of it is known.
func (a Aquifer) Known() bool { return a.Conductivity > 0 && a.Yield > 0 && a.Thickness > 0 }

// Clogging is how a bed that stays under water takes in less and less.
type Clogging struct {
	// Remains is the share of the rate that is left in the end, Days how many days
	// under water go by until two thirds of the loss are there, Recovery how many dry days until two
	// thirds of it are made good.
	Remains, Days, Recovery float64
}

// Costs are what digging and building cost, in a currency; noughts are not known.
type Costs struct {
	Currency string
	// Cut, Fill and Haul are for a cubic metre dug, placed, and taken off the site; the
	// others for one of each.
	Cut, Fill, Haul, Sill, Spillway, Crossing float64
}

// Limits are the figures that cautions rest on. Nought in every field stands for the
// usual ones of analysis/caution; nought in one field alone turns that check off.
type Limits struct {
	// Well, Building, Boundary and Septic are the least distances from the
	// water's edge [m].
	Well, Building, Boundary, Septic float64
	// Depth is the greatest depth of water [m], Side the steepest bank [H:V].
	Depth, Side float64
	// Drawdown and Mosquitoes are the longest that water may stand once the
	// drain stops, or a storm has passed [h].
	Drawdown, Mosquitoes float64
	// Service is the least distance of digging from a buried service, Unlocated
	// that from one that nobody has located on the ground [m].
	Service, Unlocated float64
	// Groundwater is the least height of a bed above the water table [m].
	Groundwater float64
	// Cell is the largest that a cell of the ground may be, as a share of the
	// narrowest bed.
	Cell float64
	// Street is the least distance from a well of water that takes a street's runoff,
	// Overflow that from a building of the way that water takes that runs over [m].
	Street, Overflow float64
	// Freeboard is the least of it in the design storm [m], Mound the greatest rise of
	// the water table at a basement or a septic field [m].
	Freeboard, Mound float64
}

// UsualSetting is where a new site starts. All of it is common practice, with no
// source. A drain of this kind runs from two weeks to two months in a wet season.
// 40 mm in two hours is a heavy storm of every few years in a temperate place and
// 700 mm its mean year. A careful survey by level or by drone is right to a few
// centimetres, and wrong alike over the few metres between its points. A bed of silt
// and growth comes to take in about half of what clean soil does.
func UsualSetting() Setting {
	return Setting{
		Soil: "loam", RunDays: geo.Range{Low: 14, Likely: 30, High: 60},
		Cover: covers[0], Storm: 40, StormHours: 2, YearRain: 700, Distribution: distributions[0],
		SurveyError: 0.02, SurveyReach: 5,
		Clogging:   Clogging{Remains: 0.5, Days: 30, Recovery: 30},
		Irrigation: irrigations[0],
	}
}
