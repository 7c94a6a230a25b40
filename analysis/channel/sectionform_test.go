package channel

import (
	"math"
	"testing"
)

// TestARoundedSectionIsAParabola checks [Chow1959] table 2-1 for a parabola 2 m wide
// and 0.3 m deep: area two thirds of the rectangle, wetted perimeter 2.11423 m (its
// arc by the closed form).
func TestARoundedSectionIsAParabola(t *testing.T) {
	side := 2 / (4 * 0.3)
	s := Section{Bed: 2, Left: side, Right: side, Form: Rounded}
	near(t, "area", s.Area(0.3), 0.4, 1e-9)
	near(t, "wetted perimeter", s.WettedPerimeter(0.3), 2.11423, 5e-6)
	near(t, "top width", s.TopWidth(0.3), 2, 1e-9)
	// Beyond the parabola the bank goes on as steep.
	near(t, "height", s.Height(1+side*0.1), 0.4, 1e-9)
	near(t, "area above", s.Area(0.4), 0.4+2*0.1+side*0.01, 1e-9)
}

// TestASurveyedSectionIsMeasuredAlongItsLine checks a line of stations and
// elevations, worked out by hand to six digits, and one with an island in it, below
// and above its top.
func TestASurveyedSectionIsMeasuredAlongItsLine(t *testing.T) {
	ditch := Section{Line: []Point{{0, 1.5}, {1, .5}, {2, .2}, {3, .2}, {5, .9}, {6, 1.4}}}
	near(t, "area", ditch.Area(1), 2.4850, 1e-6)
	near(t, "wetted perimeter", ditch.WettedPerimeter(1), 5.09371, 5e-6)
	near(t, "hydraulic radius", ditch.HydraulicRadius(1), .48786, 1e-5)
	near(t, "top width", ditch.TopWidth(1), 4.7, 1e-9)
	island := Section{Line: []Point{{0, 1}, {2, 0}, {3, 0}, {3.5, .5}, {4.5, .5}, {5, 0}, {6, 0}, {8, 1}}}
	for _, c := range []struct{ depth, area, length, width float64 }{{.4, 1.28, 4.92023, 4.4}, {.6, 2.37, 7.0975, 6.4}} {
		near(t, "area", island.Area(c.depth), c.area, 1e-6)
		near(t, "wetted perimeter", island.WettedPerimeter(c.depth), c.length, 5e-6)
		near(t, "top width", island.TopWidth(c.depth), c.width, 1e-9)
	}
}

func TestBetweenTwoSectionsOneGoesOverToTheOther(t *testing.T) {
	narrow := Section{Bed: 0.6, Left: 1, Right: 2}
	wide := Section{Bed: 1.2, Left: 3, Right: 4}
	if got, want := narrow.Between(wide, 0.5), (Section{Bed: 0.9, Left: 2, Right: 3}); math.Abs(got.Bed-want.Bed) > 1e-12 || got.Left != want.Left || got.Right != want.Right {
		t.Errorf("halfway is %v, want %v", got, want)
	}
	surveyed := Section{Line: []Point{{-1, .4}, {0, 0}, {1.5, .5}}, Left: 1, Right: 1}
	for _, share := range []float64{0, 0.3, 1} {
		mix := narrow.Between(surveyed, share)
		for off := -1.5; off <= 2; off += 0.01 {
			near(t, "height", mix.Height(off), narrow.Height(off)*(1-share)+surveyed.Height(off)*share, 1e-9)
		}
	}
}

// TestTheFormsMeasureWhatTheirOutlinesDo holds every form to its own outline drawn
// in short pieces.
func TestTheFormsMeasureWhatTheirOutlinesDo(t *testing.T) {
	for _, s := range []Section{
		{Bed: 0.8, Left: 2, Right: 0.5}, {Bed: 0.8, Left: 2, Right: 0.5, Form: Rounded},
		{Line: []Point{{-1, .4}, {-.2, 0.1}, {0, 0}, {1.5, .5}}, Left: 1, Right: 3},
	} {
		for _, y := range []float64{0.05, 0.2, 0.7} {
			const step = 1e-4
			width, area, length := 0.0, 0.0, 0.0
			for off := -5.0; off < 5; off += step {
				a, b := y-s.Height(off), y-s.Height(off+step)
				if a > 0 && b > 0 {
					width, area, length = width+step, area+step*(a+b)/2, length+math.Hypot(step, b-a)
				}
			}
			near(t, "top width", s.TopWidth(y), width, 5e-4)
			near(t, "area", s.Area(y), area, 1e-4)
			near(t, "wetted perimeter", s.WettedPerimeter(y), length, 2e-3)
		}
	}
}
