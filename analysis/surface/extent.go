package surface

import (
	"context"
	"math"
	"slices"

	"runnel/geo/grid"
	"runnel/geo/survey"

	"github.com/paulmach/orb"
)

// blank takes the heights of the cells of g that the survey does not reach: those
// outside its edge lines or, without such, those further outside the hull of what
// was measured than twice the widest gap inside it is from its measurements. So contours
// that were cut to a rectangle fill it.
func (p *problem) blank(ctx context.Context, g grid.Ground, s survey.Survey) {
	var rings []orb.LineString
	for _, l := range s.Lines {
		if l.Use == survey.Edge && !l.Out && len(l.At) > 2 {
			rings = append(rings, l.At)
		}
	}
	if len(rings) == 0 {
		rings = []orb.LineString{p.reach(ctx)}
	}
	all(ctx, g.H, func(lo, hi int) {
		for y := lo; y < hi; y++ {
			inside := crossedBy(rings, g.Centre(0, y)[1])
			for x, row := 0, g.Row(y); x < g.W; x++ {
				n, _ := slices.BinarySearch(inside, g.Centre(x, y)[0])
				if n%2 == 0 {
					row[x] = grid.NoData
				}
			}
		}
	})
}

// crossedBy returns in order where rings, closed if they are not, cross a northing.
func crossedBy(rings []orb.LineString, north float64) []float64 {
	var at []float64
	for _, r := range rings {
		a := r[len(r)-1]
		for _, b := range r {
			if (a[1] > north) != (b[1] > north) {
				at = append(at, a[0]+(north-a[1])/(b[1]-a[1])*(b[0]-a[0]))
			}
			a = b
		}
	}
	slices.Sort(at)
	return at
}

// reach returns the hull of the pins, widened by the widest gap in it.
func (p *problem) reach(ctx context.Context) orb.LineString {
	points := make([]spot, len(p.pins))
	for i, q := range p.pins {
		points[i] = spot{q.x, q.y}
	}
	round := hull(points)
	far := 2*p.widest(ctx, round) + 1
	var wide []spot
	for _, q := range round {
		for k := range 16 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 8)
			wide = append(wide, spot{q[0] + far*cos, q[1] + far*sin})
		}
	}
	var ring orb.LineString
	for _, q := range hull(wide) {
		ring = append(ring, orb.Point{p.frame.West + (q[0]+0.5)*p.frame.DX, p.frame.North - (q[1]+0.5)*p.frame.DY})
	}
	return ring
}

// hull returns the corners of the convex hull, by Andrew's monotone chain.
func hull(points []spot) []spot {
	slices.SortFunc(points, func(a, b spot) int { return slices.Compare(a[:], b[:]) })
	chain := func(out []spot, q spot, from int) []spot {
		for n := len(out); n >= from+2; n-- {
			a, b := out[n-2], out[n-1]
			if (b[0]-a[0])*(q[1]-a[1])-(b[1]-a[1])*(q[0]-a[0]) > 0 {
				break
			}
			out = out[:n-1]
		}
		return append(out, q)
	}
	var out []spot
	for _, q := range points {
		out = chain(out, q, 0)
	}
	from := len(out) - 1
	for i := len(points) - 2; i >= 0; i-- {
		out = chain(out, points[i], from)
	}
	return out
}

// widest returns how far a cell inside the ring is from the nearest pin, at most
// [cells], in steps of a cell along or across: by two passes over the grid
// [Borgefors1986], which overrates a distance by some hundredths.
func (p *problem) widest(ctx context.Context, ring []spot) float64 {
	far := make([]float32, p.w*p.h)
	for i := range far {
		far[i] = float32(p.w + p.h)
	}
	for _, q := range p.pins {
		x, y := min(max(int(math.Round(q.x)), 0), p.w-1), min(max(int(math.Round(q.y)), 0), p.h-1)
		far[y*p.w+x] = 0
	}
	for y := range p.h {
		for x := range p.w {
			p.nearer(far, x, y, -1)
		}
	}
	for y := p.h - 1; y >= 0; y-- {
		for x := p.w - 1; x >= 0; x-- {
			p.nearer(far, x, y, 1)
		}
	}
	line := make(orb.LineString, len(ring))
	for i, q := range ring {
		line[i] = orb.Point(q)
	}
	widest := float32(0)
	for y := 0; y < p.h && ctx.Err() == nil; y++ {
		at := crossedBy([]orb.LineString{line}, float64(y))
		if len(at) < 2 {
			continue
		}
		for x := max(int(math.Ceil(at[0])), 0); x < p.w && float64(x) <= at[len(at)-1]; x++ {
			widest = max(widest, far[y*p.w+x])
		}
	}
	return float64(widest)
}

// nearer lowers a cell's distance by those of the neighbours in the rows and
// columns passed before it, on the side by.
func (p *problem) nearer(far []float32, x, y, by int) {
	best := far[y*p.w+x]
	look := func(nx, ny int, step float32) {
		if nx >= 0 && ny >= 0 && nx < p.w && ny < p.h {
			best = min(best, far[ny*p.w+nx]+step)
		}
	}
	look(x+by, y, 1)
	look(x, y+by, 1)
	look(x-1, y+by, math.Sqrt2)
	look(x+1, y+by, math.Sqrt2)
	far[y*p.w+x] = best
}
