package assets

import _ "embed"

// Soils is the table of saturated hydraulic conductivity by texture class that
// analysis/soil reads: a heading, then one row a class, each of the first columns the
// figures of one publication in the unit that ends its name; then porosity, effective
// porosity, suction at the wetting front and what is held at 33 kPa.
//
//go:embed soils.csv
var Soils string

// Covers is the table of runoff coefficients by cover that analysis/runoff reads:
// a heading, then one row a cover with its low, likely and high share and where
// they stand.
//
//go:embed covers.csv
var Covers string

// Swell is the table of how earth swells when it is dug and shrinks when it is
// rammed that analysis/earthwork reads: a heading, then one row a soil with its
// volume loose and compacted of 1 in place, the texture classes that it stands for,
// where the figures stand, and what they were checked against, for developers.
//
//go:embed swell.csv
var Swell string

// Linings is the table of Manning's n by lining that analysis/hydraulics reads: a
// heading, then one row a lining with its low, usual and high n, where they stand, and
// what they were checked against, for developers.
//
//go:embed linings.csv
var Linings string

// Scour is the table of what linings and soils stand that analysis/hydraulics reads:
// the velocity and the shear above which water scours them, each in the unit that
// ends its heading, for beds up to a slope, where they stand, and what they were
// checked against, for developers.
//
//go:embed scour.csv
var Scour string

// Crops is the table of crop coefficients that analysis/demand reads: a heading, then
// one row a crop with its coefficient in the first stage of growth, the middle and at the
// end, its height, how many days each of four stages takes, the month in which they start
// north of the equator, where the figures stand, and what they were checked against, for
// developers.
//
//go:embed crops.csv
var Crops string

// Irrigation is the table of ways of watering that analysis/demand reads: a heading, then
// one row a way with the share of its water that plants get, and where that stands.
//
//go:embed irrigation.csv
var Irrigation string

// StormShapes is the table of how the rain of a storm falls that analysis/hydrograph
// reads: a heading, then one row a shape with the hours of the storm that it is of, 0
// for any, its mass curve as pairs of a time and the share that has fallen by then,
// where it stands, and what it was checked against, for developers.
//
//go:embed stormshapes.csv
var StormShapes string

// CurveNumbers is the table of curve numbers by cover and hydrologic soil group that
// analysis/hydrograph reads: a heading, then one row a cover with its number on each
// group, the row of the publication that stands for it, and what it was checked
// against, for developers.
//
//go:embed curvenumbers.csv
var CurveNumbers string
