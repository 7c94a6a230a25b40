// Package hydrograph says how the rain of a storm falls in time, how much of it runs
// off, and how that comes together where it ends.
//
// Rain that runs off is by the curve numbers of [TR55]: a number for each cover on
// each hydrologic soil group, average moisture before the storm, and a loss at first
// of 0.2 S. Where a catchment has several, two things can be averaged, and they do
// not come to the same. Here the curve numbers of open ground are averaged by area,
// as [TR55] does. Roofs and paving keep their own 98: what runs off them is worked
// out apart and added, for beside a lawn they shed in small storms of which a mean
// number would let nothing run off. So more runs off than by one number for all;
// Composite is that number, to lay beside it.
//
// The flow is the excess of each step, put through the dimensionless unit hydrograph
// of [NEH630] (peak factor 484, in SI 0.208), with the time of concentration by
// [Kirpich1940]. The rational method stands beside it as a check.
//
// Rain is [mm], areas m², flows m³/s; times are hours, but steps are seconds, as
// whoever routes a storm has them.
package hydrograph
