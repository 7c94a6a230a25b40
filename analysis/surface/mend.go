package surface

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/survey"
)

// Mended is a ground parts of which were worked out from around them.
type Mended struct {
	Ground grid.Ground
	// Patches are those parts, along the sides of their cells.
	Patches []survey.Patch
	// Cells counts them, and Sunk is how far their heights went down in the mean, and
	// Most at most [m]; both are of the cells that had a height.
	Cells      int
	Sunk, Most float64
}

// FillHoles works out the heights in the holes of a ground from around them. A ground
// without holes comes back as it is.
func FillHoles(ctx context.Context, g grid.Ground) (Mended, error) {
	holes := Holes(g)
	if len(holes) == 0 {
		return Mended{Ground: g}, ctx.Err()
	}
	m := Mended{}
	hole := make([]bool, g.Len())
	for _, h := range holes {
		fillRings(g.Frame, h.Outline, func(i int) { hole[i] = true })
		m.Patches = append(m.Patches, survey.Patch{Outline: h.Outline, Why: survey.Void})
		m.Cells += h.Cells
	}
	var err error
	m.Ground, err = Across(ctx, g, hole)
	return m, err
}

// A Cover is something that stands on the ground and of which a surface model shows the top.
type Cover struct {
	Outline orb.Polygon
	Why     survey.Why
}

// Rim is how many cells round a cover are worked out with it: eaves reach over walls, and
// a cell at the edge shows part of the roof.
const Rim = 2

// Bare works out the ground under covers from around them. Cells below the covers that
// had no height get one. Covers beyond the raster are left alone.
func Bare(ctx context.Context, g grid.Ground, covers []Cover) (Mended, error) {
	under := underCovers(g.Frame, covers)
	hole, some := make([]bool, g.Len()), false
	around := false
	for i, u := range under {
		hole[i] = u != 0
		some = some || u != 0
		around = around || u == 0 && !grid.IsNoData(g.V[i])
	}
	switch {
	case !some:
		return Mended{Ground: g}, ctx.Err()
	case !around:
		return Mended{}, fmt.Errorf("no height is left round what is to be taken out; leave some ground round it")
	}
	m, err := bareUnder(ctx, g, hole)
	if err != nil {
		return Mended{}, err
	}
	m.measure(g, hole)
	for _, why := range []survey.Why{survey.Building, survey.Trees} {
		for i, u := range under {
			hole[i] = u == uint8(why)
		}
		for _, h := range partsOf(g.Frame, hole, anywhere) {
			m.Patches = append(m.Patches, survey.Patch{Outline: h.Outline, Why: why})
		}
	}
	return m, nil
}

// bareUnder works out the cells of hole from the ground round them. What stands round
// them too, a tree beside a house, is no ground to go by, though it is left as it is.
func bareUnder(ctx context.Context, g grid.Ground, hole []bool) (Mended, error) {
	wide := slices.Clone(hole)
	for _, i := range standingRound(g, hole) {
		wide[i] = true
	}
	ground, err := Across(ctx, g, wide)
	if err != nil {
		return Mended{}, err
	}
	for i, in := range hole {
		if !in {
			ground.V[i] = g.V[i]
		}
	}
	return Mended{Ground: ground}, nil
}

// measure finds how far the heights went down.
func (m *Mended) measure(before grid.Ground, hole []bool) {
	sum, n := 0.0, 0
	m.Most = math.Inf(-1)
	for i, in := range hole {
		if !in {
			continue
		}
		m.Cells++
		if down := float64(before.V[i]) - float64(m.Ground.V[i]); !math.IsNaN(down) {
			sum += down
			n++
			m.Most = max(m.Most, down)
		}
	}
	if n == 0 {
		m.Most = 0
		return
	}
	m.Sunk = sum / float64(n)
}

// underCovers says of every cell what covers it, with a rim; 0 is nothing. Of two the
// building counts.
func underCovers(f grid.Frame, covers []Cover) []uint8 {
	under := make([]uint8, f.Len())
	for _, why := range []survey.Why{survey.Trees, survey.Building} {
		var last []int
		set := func(i int) {
			if under[i] != uint8(why) {
				under[i] = uint8(why)
				last = append(last, i)
			}
		}
		for _, c := range covers {
			if c.Why == why {
				fillRings(f, c.Outline, set)
			}
		}
		for range Rim {
			edge := last
			last = nil
			for _, i := range edge {
				widen(f, i, func(n int) {
					if why == survey.Trees && under[n] == 0 || why == survey.Building {
						set(n)
					}
				})
			}
		}
	}
	return under
}

// widen visits the eight neighbours of a cell.
func widen(f grid.Frame, i int, visit func(int)) {
	x, y := i%f.W, i/f.W
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			if f.In(x+dx, y+dy) {
				visit(i + dy*f.W + dx)
			}
		}
	}
}

// fillRings visits the cells whose middle lies in a polygon: an odd number of its sides
// lie to the west of it.
func fillRings(f grid.Frame, rings orb.Polygon, visit func(int)) {
	if len(rings) == 0 || f.Len() == 0 {
		return
	}
	b := rings.Bound()
	y0 := max(0, int(math.Floor((f.North-b.Max[1])/f.DY-0.5)))
	y1 := min(f.H-1, int(math.Ceil((f.North-b.Min[1])/f.DY)))
	var cuts []float64
	for y := y0; y <= y1; y++ {
		at := f.North - (float64(y)+0.5)*f.DY
		cuts = sideCuts(rings, at, cuts[:0])
		for i := 0; i+1 < len(cuts); i += 2 {
			x0 := max(0, int(math.Ceil((cuts[i]-f.West)/f.DX-0.5)))
			x1 := min(f.W-1, int(math.Ceil((cuts[i+1]-f.West)/f.DX-0.5))-1)
			for x := x0; x <= x1; x++ {
				visit(y*f.W + x)
			}
		}
	}
}
