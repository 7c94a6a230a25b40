package gdal

import (
	"math"

	"runnel/geo/crs"
	"runnel/geo/grid"
)

// A Raster is an elevation file as it is: its own cells, in its own row order.
type Raster struct {
	// Grid holds the heights in the file's own unit, after its scale and offset.
	// DX and DY are ground metres at the raster's centre. West and North are
	// set where the rows run north to south in a metric system, and else nought.
	Grid grid.Ground
	// Known counts the cells that have a height.
	Known int
	// Transform takes column and row to coordinates of CRS: east is
	// t[0] + column·t[1] + row·t[2], north is t[3] + column·t[4] + row·t[5].
	Transform [6]float64
	CRS       crs.CRS
	// HeightMetre is the length of one unit of height [m].
	HeightMetre float64
	// Notes are sentences for a person: what was assumed, what is unusual.
	Notes []string
}

// Bearing returns the compass bearing in degrees, 0 to 359, of a step from a
// cell of the file to its neighbour: d times 45 on a north-up raster, mirrored
// on a south-up one, turned on a rotated one. It is -1 for NoDir.
//
// A step along a diagonal counts as half a right angle whatever the cell's shape.
func (r *Raster) Bearing(d grid.Dir) int {
	if d == grid.NoDir {
		return -1
	}
	t := r.Transform
	up := math.Atan2(-t[2], -t[5]) * 180 / math.Pi // of the step to the row above
	turn := 45 * float64(d)
	if t[1]*t[5]-t[2]*t[4] > 0 { // rows and columns turn the other way round
		turn = -turn
	}
	bearing := int(math.Round(up + turn))
	return (bearing%360 + 360) % 360
}
