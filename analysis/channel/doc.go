// Package channel lays out a scheme's channels and islands as one designed
// surface, and measures how much soil their water touches.
//
// A run is a channel's centreline with a Section and a bed level that vary along
// it. At a place beside a run the design level is that of the bed at the nearest
// place of the line, and as much higher as the section has it so far out. The ends
// are round; round an end the section goes evenly from its left half to its right.
// A line that ends where it starts is a ring.
//
// The channel's own section, a trapezoid or a rounded one, is at its ends. A Section
// point that stands where a channel is dug, or a metre off its line, sets the section
// there; what it leaves unset is what the channel would have there without it. Between
// them the one goes over evenly into the next: in width and slopes, and where one is
// surveyed in the height at each offset. The bed goes evenly between its two ends, is
// level, or falls at a grade, through the levels that Sections set. A Section's drop
// is a step down just beyond it, and the face of the step under water is soil too.
//
// Raised banks go on at the section's slope up to their top, are a crest wide, and
// fall outward at the same slope to the ground. They fill only ground that is lower,
// under the bed too. What is dug, by any channel or moat, is dug through them; none
// stands on an island, in a drain as it is drawn, or round an end that opens on a
// drain or into another channel. The moats of a channel have raised banks across
// from the island. The brim is the raised bank's.
//
// An island's outline is the crest of ground left standing: at its top level,
// or as high as the ground where that is higher or no top is set. Holes in an
// outline are not looked at. Where a channel crosses an island or ends in it the
// water divides, round a moat: from the outline outward a bank falls by the
// island's slope to the bed, then comes a bed of the arm's width, then a bank
// that rises by the mean of the channel's two slopes there. Along a moat the bed is
// that of the channel nearest to the outline, and out to the bed's far edge the
// moat alone rules. An island in a ring of one channel or two, not crossed, needs
// no moat. One that reaches into a channel's banks, and no further, gets a moat.
//
// Water stands no higher than the brim: the lowest ground along the banks of its
// channel and of the moats on it, or, where the channel opens on a drain, a little
// above the drain's water. Above that it would run out, and a Problem says where;
// it is measured at the brim then, and so are drains said to hold more than they
// can.
//
// Channels whose cuts open into one another, at an end of one or where their lines
// cross, are one water with one level and one brim where water stands above the
// saddle between their beds; so are those that come to one island's moat. Below the
// saddle each has its own.
//
// What is drawn that cannot be dug or cannot fill is a Problem with its place: a line
// that crosses itself, a bend tighter than the cut is wide on its inner side, cuts that
// leave no ground between them, a bed above the ground or one that rises against its
// fall, a channel that no water comes to. Most of it is measured as drawn. A channel
// whose cut has two beds at one place, of different levels, or that turns right back on
// its own line, is dug and holds no water. A tangle that crosses itself again and again
// is left out. Of one fault of one feature the first places are listed, the others counted.
//
// Elsewhere the lowest design surface rules, so that a place where channels meet
// is counted once; of equal ones the first drawn. The proposed ground is the
// lower of the ground, with its raised banks, and the design. Banks of raised islands
// stand on it.
//
// Drains are runs too, on the ground as it is: they have sections of their own,
// a bed read from the ground and one depth of water all along. They cut nothing.
// Above a sill across a drain the water stands at the sill's crest where it would
// run lower, but below the drain's banks; a channel that ties in there takes that
// level. It stays when the drain stops, which a channel's open mouth does not keep.
//
// Measures are integrals over transects square to the lines and fans of
// transects about their bends and ends. A transect goes outward over the
// proposed ground to the water's edge, and counts where its own stretch of its
// own line rules. The slope along the line is left out: at 1 in 100 that is
// 0.005 % of the area; so is that of banks that draw in along it. The length of the water's edge is taken along the line.
//
// Places are in metres in the site's frame, levels in metres above its datum.
// NaN is a level that is not known; ground that is not known stops the water.
package channel
