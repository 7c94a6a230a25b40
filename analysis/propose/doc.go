// Package propose finds courses for a channel that let its water touch as much soil
// as a given volume of digging buys.
//
// A proposal is a smooth curve through knots from an inlet to an outlet, with one
// section all along. Its bed falls by one grade from the level at the inlet; where
// the inlet lies by a drain, bed and water follow the drain as those of a drawn
// channel do, else water stands the freeboard below the lowest bank. The bed is as
// wide as the volume allows, between two limits, so that a longer line has a
// narrower bed. What is sought is the most contact area.
//
// Limits hold from the tops of the banks, as the ground across the line has them:
// setbacks from what is drawn, a strip of standing ground between neighbouring
// bends, the least radius of a bend, the greatest depth of cut, banks no lower than
// the water and its freeboard. An end may lie inside a setback, as an inlet at a
// drain on the boundary does; from there the line leaves it, a metre for each two
// that it runs. A service line that parts the inlet from the outlet is crossed once.
//
// The search is simulated annealing [Kirkpatrick1983] on the knots, from meanders of
// many wavelengths along the shortest way [Dijkstra1959] that keeps the limits. Each
// run is a chain of its own with a seed of its own, so that the answer is the same
// on any number of processors. A trial is measured by the formulas of the sections on
// ground that is read in three places across each station; what is handed back is
// measured by packages channel and earthwork, and checked anew against what is drawn.
//
// Proposals are starting points for the person who designs. They rest on what is
// drawn and know of nothing else; local codes and licensed practice govern.
package propose
