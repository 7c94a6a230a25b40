// Package terrain draws the shape of a ground: its slope, its shading under a
// low sun, and its contours.
//
// Slopes are rise over run [m/m], by Horn's weighted differences [Horn1981].
// Beside the edge and beside no data the difference to the side that is known
// stands for both, so a plane comes out true up to its last cell. NaN is no data.
// Cells need not be square.
package terrain
