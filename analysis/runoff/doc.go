// Package runoff says how much of the rain runs off each piece of a site, where
// it is put on the ground, and what stops or carries it there: roofs and their
// downpipes, paving and covers, kerbs and walls, drains, culverts and inlets.
//
// It makes a Surface: the ground that water meets, a weight for each cell and the
// links by which water leaves one cell and comes out at another. Package flow
// routes water over it, package storm fills it.
//
// Weights are metres of runoff for a metre of rain, the runoff coefficients of
// the rational method, the likely one of each range. Lengths, levels and areas
// are in m and m², capacities in m³/s. NaN is a cell of no data: it stays so,
// bears no weight and takes no water.
//
// What is drawn later lies over what was drawn before. A cell belongs to the
// area that holds its middle; a roof lies over paving, paving over covers.
package runoff
