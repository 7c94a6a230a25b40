// Package surface makes a ground from what was measured of it: contour lines, spot
// heights, breaklines, kerbs and the edge of the survey.
//
// The ground is the surface u of least
//
//	(1-T)·∫ curvature² + T·s·∫ gradient² + Σ w·(B·u − z)²
//
// the minimum curvature of [Briggs1974] with the tension T of [SmithWessel1990]. Its
// unknowns are the heights at the centres of cells. Each measurement z is a row B of
// bilinear weights at its own place, never moved to a centre; lines are measured at
// their points and at least every cell and a half. T goes from 0, the smoothest, to 1, a
// membrane; the scale s comes from the cell and the spacing of the measurements, and
// a T that suits can be chosen, by how far the surface runs past its contours and by
// leaving measurements out.
//
// That no contour is drawn between two cells is known too: the heights of a region
// between contours are drawn into the interval that it lies in, and those of a closed
// top or hollow to within one interval of its contour. So the surface does not swing
// beside steep ground, tops are round and nothing runs away. Contours that end inside
// the grid part the regions beyond straight ahead.
//
// A surface bends freely across a breakline or a kerb and has its heights. Nothing
// is known outside the edge of the survey; without one the ground ends where it is
// further from what was measured than gaps inside it are wide. Sources with an error
// are followed only as closely as that.
//
// What drainage asks for follows after ([Hutchinson1989]): see Drainage.
//
// The minimum is found by conjugate gradients with a multigrid cycle before each step,
// level after level from the coarsest ([Brandt1977], [TrottenbergOosterleeSchuller2001];
// these and the works above are followed from memory). It is true to a few millionths
// of the relief, and any number of processors gives the same bits. Memory is some 70
// bytes a cell, and 100 to 150 for each point of a line and each spot that shares no
// quarter cell.
//
// Places are in the site's metric system, heights in metres; a ground's NaN is no
// data. Cells need not be square.
package surface
