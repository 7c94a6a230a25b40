package channel

import "math"

// steepest is the least side slope that is worked with [H:V]: a wall, leaning a
// millimetre in a metre, so that every bank has a foot and a top.
const steepest = 0.001

// A Section is a trapezoid across a channel. The zero Section holds no water.
type Section struct {
	// Bed is the width of the bed [m].
	Bed float64
	// Left and Right are the slopes of the banks [H:V], seen down the line;
	// nought is a wall.
	Left, Right float64
}

// Area returns the area of water [m²] at depth y [m] ([Chow1959] table 2-1).
func (s Section) Area(y float64) float64 {
	y = max(0, y)
	return (s.Bed + (s.Left+s.Right)/2*y) * y
}

// WettedPerimeter returns the length of soil under water [m] at depth y [m].
func (s Section) WettedPerimeter(y float64) float64 {
	if y <= 0 {
		return 0
	}
	return s.Bed + y*(math.Hypot(1, s.Left)+math.Hypot(1, s.Right))
}

// TopWidth returns the width of the water's surface [m] at depth y [m].
func (s Section) TopWidth(y float64) float64 {
	if y <= 0 {
		return 0
	}
	return s.Bed + (s.Left+s.Right)*y
}

// HydraulicRadius returns area over wetted perimeter [m] at depth y [m]; nought
// where there is no water.
func (s Section) HydraulicRadius(y float64) float64 {
	if y <= 0 {
		return 0
	}
	return s.Area(y) / s.WettedPerimeter(y)
}
