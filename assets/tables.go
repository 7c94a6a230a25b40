package assets

import _ "embed"

// Soils is the table of saturated hydraulic conductivity by texture class that
// analysis/soil reads: a heading, then one row a class, each column the figures
// of one publication in the unit that ends its name.
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
