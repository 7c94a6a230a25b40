// Package hollow finds the places of a ground that pond before they spill, and
// how they lie in each other.
//
// A hollow is a set of cells, joined by sides or corners, that water covers before
// it gets out over one pass. All of it fills to one level, that of its spill.
// Figures are of the hollow brim-full: depth [m], plan area [m²], volume [m³].
// Cells of no data, and what drains to them, are in no hollow.
package hollow
