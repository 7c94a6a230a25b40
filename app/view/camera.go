package view

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// The widest and the closest view [device pixels a metre].
const (
	leastScale    = 1e-4
	greatestScale = 5000
)

// A Camera says which ground is seen: the ground point of the image's top left
// corner and the scale. The zero Camera sees nothing; Fit makes a first one.
type Camera struct {
	// West and North are the ground coordinates of the top left corner [m].
	West, North float64
	// Scale is device pixels a metre.
	Scale float64
}

// Fit returns the camera that shows the whole of b in the middle of an image
// of w by h pixels, with a margin of one twentieth.
func Fit(b orb.Bound, w, h int) Camera { return FitBeside(b, w, h, Margins{}) }

// Margins are the strips at the edges of an image that hold something else [px].
type Margins struct{ Left, Top, Right, Bottom float64 }

// FitBeside is Fit within what margins leave of the image.
func FitBeside(b orb.Bound, w, h int, m Margins) Camera {
	width, height := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	if !(width >= 0) || !(height >= 0) || math.IsInf(width+height, 0) {
		b, width, height = orb.Bound{}, 0, 0
	}
	width, height = max(width, 1), max(height, 1)
	across, down := max(1, float64(w)-m.Left-m.Right), max(1, float64(h)-m.Top-m.Bottom)
	scale := clampScale(0.95 * min(across/width, down/height))
	middle := b.Center()
	return Camera{
		West:  middle[0] - (m.Left+across/2)/scale,
		North: middle[1] + (m.Top+down/2)/scale,
		Scale: scale,
	}
}

func clampScale(scale float64) float64 {
	if !(scale > leastScale) {
		return leastScale
	}
	return min(scale, greatestScale)
}

// ToScreen returns where a ground point is seen.
func (c Camera) ToScreen(p orb.Point) (x, y float64) {
	return (p[0] - c.West) * c.Scale, (c.North - p[1]) * c.Scale
}

// ToGround returns the ground point that is seen at a place on the screen.
func (c Camera) ToGround(x, y float64) orb.Point {
	return orb.Point{c.West + x/c.Scale, c.North - y/c.Scale}
}

// ZoomAbout returns the camera whose scale is factor times c's, with the same
// ground point at (x, y). The scale stops at the widest and closest view.
func (c Camera) ZoomAbout(x, y, factor float64) Camera {
	held := c.ToGround(x, y)
	scale := clampScale(c.Scale * factor)
	return Camera{West: held[0] - x/scale, North: held[1] + y/scale, Scale: scale}
}

// Pan returns the camera after the ground is dragged dx pixels right and dy down.
func (c Camera) Pan(dx, dy float64) Camera {
	return Camera{West: c.West - dx/c.Scale, North: c.North + dy/c.Scale, Scale: c.Scale}
}

// Bound returns the ground that an image of w by h pixels shows.
func (c Camera) Bound(w, h int) orb.Bound {
	return orb.Bound{Min: c.ToGround(0, float64(h)), Max: c.ToGround(float64(w), 0)}
}

// check reports a camera or an image size that nothing can be drawn with.
func (c Camera) check(w, h int) error {
	switch {
	case w < 1 || h < 1 || w > maxSide || h > maxSide:
		return fmt.Errorf("the picture is %d by %d pixels; give 1 to %d on each side", w, h, maxSide)
	case !(c.Scale > 0) || math.IsInf(c.Scale, 0) || math.IsNaN(c.West+c.North) || math.IsInf(c.West+c.North, 0):
		return fmt.Errorf("the view has no place or scale; zoom to the whole site")
	}
	return nil
}

// maxSide is the largest picture [pixels a side] that is composed in one piece.
const maxSide = 16384
