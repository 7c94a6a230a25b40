// Package flow routes water from cell to cell over a ground and counts what
// drains through each.
//
// The ground is never changed. Hollows are features, and there are two answers to
// where the water goes. Fall is the first: down the ground to the lowest cell of
// the basin, where it stays. Dir is the second, for when every hollow is full:
// each basin is left by the lowest pass out of it, along the valley's line, so
// that each cell drains to the grid's edge, to a cell of no data or into an
// inlet. Filled is the surface that stands then.
//
// A direction points to the one of eight neighbours that takes all of a cell's
// water (D8 of [OCallaghan1984]): the steepest descent of the ground [m/m]. Of
// equally steep ways the first clockwise from north is taken, so results repeat.
// On level ground water keeps away from higher ground and makes for the way out,
// by the two gradients of [GarbrechtMartz1997] as [Barnes2014flats] finds them.
//
// A cell at the edge or beside no data that has no lower neighbour is an outlet.
// Its direction points off the ground, square to the edge; where two edges meet,
// the way that carries on the steepest fall, diagonals included.
//
// NaN is no data: it has no direction, and what drains through it is NaN.
// Cells need not be square. Lengths are metres, areas m², heights m.
//
// # How it works
//
// A Router does not flood the ground from its edge. As [Cordonnier2019] does, it
// lets the water fall first, finds the passes between the basins that this makes,
// takes the minimum spanning tree of the passes, and reads from the tree how high
// each basin fills and how it is left: work that grows with the cells alone and
// that processors share. The stages, each in the file of its name:
//
//	fall     the steepest way of each cell, and which neighbours are lower
//	flat     the ways of level cells
//	saddle   the cells at which basins can meet, and the basins on either side
//	span     the passes that a strip of rows can decide on, by Kruskal's algorithm
//	tree     the rest of the passes, and the levels
//	fill     the filled surface, lake by lake
//	carve    the ways out of the basins
//	count    the cells that drain through each
//
// All is done in strips of whole rows, but for the tree and for what crosses from
// strip to strip. A strip needs nothing of others but the rows next to it, and the
// answer is the same in every bit whatever the strips and however many processors.
package flow
