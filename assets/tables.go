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
