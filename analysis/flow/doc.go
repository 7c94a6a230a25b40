// Package flow routes water from cell to cell over a ground and counts what
// drains through each.
//
// The ground is never changed. Hollows are features: Fill gives the surface
// that stands when every one of them is full, and Directions leads the water
// over it, so that each cell drains to the grid's edge or to a cell of no data.
//
// A direction points to the one of eight neighbours that takes all of a cell's
// water (D8 of [OCallaghan1984]): the steepest descent of the ground [m/m] among
// the neighbours that the filled surface lies lower at. Of equally steep ways the
// first clockwise from north is taken, so results repeat. Where the filled
// surface is flat, water keeps away from higher ground and makes for the outlet,
// by the two gradients of [GarbrechtMartz1997] as [Barnes2014flats] finds them.
//
// A cell at the edge or beside no data that has no lower neighbour is an outlet.
// Its direction points off the ground, square to the edge; where two edges meet,
// the way that carries on the steepest fall, diagonals included.
//
// NaN is no data: it has no direction, and what drains through it is NaN.
// Cells need not be square. Lengths are metres, areas m², heights m.
package flow
