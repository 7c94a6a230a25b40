// Package channel lays out a scheme's channels and islands as one designed
// surface, and measures how much soil their water touches.
//
// A run is a channel's centreline with a trapezoid Section and a bed level that
// varies along it. At a place beside a run the design level is that of the bed
// at the nearest place of the line, and beyond half the bed's width it rises by
// the bank's slope. The ends are round; round an end the slope goes evenly from
// one bank's to the other's. A line that ends where it starts is a ring.
//
// An island's outline is the crest of ground left standing: at its top level,
// or as high as the ground where that is higher or no top is set. Holes in an
// outline are not looked at. Where a channel crosses an island or ends in it the
// water divides, round a moat: from the outline outward a bank falls by the
// island's slope to the bed, then comes a bed of the arm's width, then a bank
// that rises by the mean of the channel's two slopes. Along a moat the bed is
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
// Elsewhere the lowest design surface rules, so that a place where channels meet
// is counted once; of equal ones the first drawn. The proposed ground is the
// lower of the ground and the design. Banks of raised islands stand on it.
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
// 0.005 % of the area. The length of the water's edge is taken along the line.
//
// Places are in metres in the site's frame, levels in metres above its datum.
// NaN is a level that is not known; ground that is not known stops the water.
package channel
