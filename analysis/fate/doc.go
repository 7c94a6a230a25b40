// Package fate says where the water of each roof and each piece of paving ends:
// in which channel, drain, hollow or drain inlet, or over the edge of the ground.
// The other way round, it says what ground's water ends in a channel: its catchment.
//
// Water runs down the ground, each cell to its steepest neighbour, as package
// flow finds it. It ends where it first comes into the wet width of a channel or
// drain, for to lead it there is what they are for, and at a drain inlet. A
// culvert lets it out at its other end and it runs on. At the foot of a hollow it
// stands: a hollow keeps what comes to it in the storm, up to its brim, and what is
// too much spills over the lowest pass and runs on. What comes to a hollow from
// several sides is kept and spilt in one proportion, as if it were mixed.
//
// The rule is that of package storm, whose sums it comes to, but for two things:
// culverts and inlets take all that comes to them, and channels and drains never
// fill.
//
// A catchment is every cell whose water ends there, by culverts and over full hollows.
// Its areas are those whose water comes: where hollows keep a third of the storm, two
// thirds of the ground. What passes is reckoned with the runoff coefficients of the
// covers, whatever else is worked out of the areas later. The cells of a channel's own
// water are in none of it.
//
// A year's water is parted as the storm's is. Most of a year's rain falls in
// lesser storms, of which hollows keep more; so what a year's figure says passes
// a hollow is the most that does.
package fate
