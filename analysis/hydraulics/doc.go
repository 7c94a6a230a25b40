// Package hydraulics works out how water flows in channels: by formula in one
// section, and steadily through the whole network of a scheme.
//
// Formulas take a channel.Section of any form and a depth above the bed on its line
// [m]; of a surveyed section the lowest point may lie lower. Roughness is Manning's n
// in the form that goes with metres, slopes are rise over run [m/m]. Depths that are
// looked for are found between brackets; of several, as over a bench, the least.
//
// Flow takes the links and nodes of channel.Graph and holds, at every node, what
// comes in to what leaves and the heads of all links to one head, velocity head and
// all: so the flow splits round islands and in loops. Along a link it goes up against
// the flow from one station to the next by the standard step ([Chow1959] section
// 10-4), with the loss of the mean of the two conveyances. What stands downstream
// sets the level: the crest of a spillway and the head over it, the water of the
// drain that a channel opens on, the crest of a sill and the head over it, drowned
// where the water below it stands so high; at an end that runs out onto the ground,
// normal depth, or critical where that is deeper. Where no subcritical depth has so
// little head the water passes through critical depth, as it does over a drop; from
// there down it is followed as supercritical flow until a depth from below drowns
// it. Where the jump stands between the two is not worked out.
//
// What comes in is the flow that is set for a channel, else what the drain carries
// that feeds it, by Manning's formula at the depth at which it runs and the mean fall
// of its bed: the most there can be. Channels that draw on one drain share it alike.
// No more comes in than lets the head in the mouth stand level with the drain's water;
// with none that would the water stands. With no way out it fills level with the drain,
// or runs over the lowest bank, and then no flow is given; nor is one for a channel with
// neither drain nor flow, or whose bed lies above the ground beside it. Each says so.
// Full is the same with the drains full to their banks.
//
// Left out: what soaks in on the way, losses in bends and where sections change, waves
// and how the flow comes and goes with time, and what leaves over banks: where water
// stands over one, a finding says so and the water is taken to be held there all the
// same. One n stands for a lining at every depth, though grass slows shallow water
// more.
//
// What linings and soils stand is in tables with their sources ([Chow1959],
// [FortierScobey1926], [SCS1954], [FHWA1988]). They are for design checks; local codes
// and licensed practice govern.
//
// The split is found by [Cross1936]'s way of balancing one loop after another, each
// between brackets, and by Newton's method for all at once.
package hydraulics
