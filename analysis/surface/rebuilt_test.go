package surface

import (
	"context"
	"math"
	"testing"

	"runnel/geo/grid"
)

// relief is spurs and valleys of 40 to 70 m on a ground that falls to the south, with
// no hollow.
func relief(x, y float64) float64 {
	return 50 + 0.25*y + 1.2*math.Sin(x/9+y/31)*math.Cos(y/11) + 0.8*math.Sin((x+2*y)/17)
}

// Of contours at 0.5 m the ground comes back within a tenth of the interval nearly
// everywhere; what is between them is known no better. .ci/outside_surface.py holds
// real grounds to GDAL's linear gridding.
func TestAGroundComesBackFromItsContours(t *testing.T) {
	truth := formed(120, 100, relief)
	s := levelled(truth, 0.5)
	if left, kept := hollows(t, truth, s); left+kept > 0 {
		t.Fatal("the ground itself has hollows")
	}
	made, err := Make(context.Background(), s, truth.Frame, Options{Tension: -1})
	if err != nil {
		t.Fatal(err)
	}
	sum, known, flat := 0.0, 0, 0
	for y := range truth.H {
		for x := range truth.W {
			z := made.Ground.At(x, y)
			if grid.IsNoData(z) {
				continue
			}
			d := float64(z - truth.At(x, y))
			sum, known = sum+d*d, known+1
			if x > 0 && z == made.Ground.At(x-1, y) {
				flat++
			}
		}
	}
	if rmse := math.Sqrt(sum / float64(known)); rmse > 0.05 || known < truth.Len()*9/10 {
		t.Errorf("%.4f m off in the mean over %d cells of %d", rmse, known, truth.Len())
	}
	// A straight piece of a contour is itself off the ground it was drawn of.
	if off, own := farthest(made.Ground, s), farthest(truth, s); off > own+0.05 {
		t.Errorf("a contour is missed by %.3f m, %.3f by the ground itself", off, own)
	}
	if flat > known/100 {
		t.Errorf("%d of %d cells are as high as the one to the west", flat, known)
	}
	if left, kept := hollows(t, made.Ground, s); left+kept > 0 {
		t.Errorf("%d hollows have come up, and there was none", left+kept)
	}
}
