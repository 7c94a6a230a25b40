// Package earthwork cuts a scheme into the ground, counts the earth that moves,
// stands water on the result, and says where pegs are set to dig it by.
//
// Grids share the frame of the site's ground, heights are metres, and NaN marks
// a cell of no data, which is neither cut nor filled nor wetted. A sill is built
// into the proposed ground as a wall one cell thick, up to its crest, across the
// channel and across the drain as it is drawn.
//
// Earth is counted twice too: cell by cell, and between sections along every channel
// and moat, which package channel takes so that each place counts once. Sections know
// no sills. Spoil on islands and raised banks is fill. Volumes are in place; Change
// says what they come to when dug and when rammed, and Balance where spoil can go.
//
// Standing water is a second way to the figures of package channel, and shares
// nothing with it but where the beds are and how high the water stands: cells
// are flooded from the beds, each over neighbours by their sides, and the soil
// under water is the sum of their areas times the secants of their slopes. A sill's
// wall keeps waters apart there too, but is no soil.
package earthwork

import (
	"context"
	"math"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// Proposed returns the ground with a scheme cut and filled into it, and what of
// the scheme could not be laid out. Where nothing is designed it is the ground
// itself.
func Proposed(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (grid.Ground, []channel.Problem, error) {
	n, problems := channel.NewNetwork(s, scheme)
	g, err := Shape(ctx, s.Ground, n)
	return g, problems, err
}

// Shape returns ground with a network cut and filled into it; the ground itself
// where the network changes nothing.
func Shape(ctx context.Context, ground grid.Ground, n *channel.Network) (grid.Ground, error) {
	out, err := shape(ctx, ground, n)
	if err != nil {
		return grid.Ground{}, err
	}
	return wall(out, n), nil
}

// shape is Shape without sills.
func shape(ctx context.Context, ground grid.Ground, n *channel.Network) (grid.Ground, error) {
	x0, y0, x1, y1, ok := cells(ground.Frame, n.Bound())
	if !ok {
		return ground, ctx.Err()
	}
	d := dig{Network: n, ground: ground, out: ground}
	for y := y0; y <= y1; y++ {
		if err := ctx.Err(); err != nil {
			return grid.Ground{}, err
		}
		next := x0
		n.Designed(ground.Centre(0, y)[1], func(west, east float64) {
			from, to := int((west-ground.West)/ground.DX)-1, int((east-ground.West)/ground.DX)+1
			for next = max(next, from); next <= min(x1, to); next++ {
				d.shape(next, y)
			}
		})
	}
	return d.out, nil
}

// wall returns a copy of a ground with the walls of a network's sills in it; the
// ground itself where there are none.
func wall(shaped grid.Ground, n *channel.Network) grid.Ground {
	sills := n.Sills()
	if len(sills) == 0 {
		return shaped
	}
	walled := shaped.Clone()
	for _, s := range sills {
		build(walled, n, s)
	}
	return walled
}

// A dig is a ground that is being shaped, a copy once the first cell has changed.
type dig struct {
	*channel.Network
	ground, out grid.Ground
	changed     bool
}

func (d *dig) shape(x, y int) {
	z := d.ground.At(x, y)
	if grid.IsNoData(z) {
		return
	}
	shaped := float32(d.Shape(d.ground.Centre(x, y), float64(z)))
	if shaped == z {
		return
	}
	if !d.changed {
		d.out, d.changed = d.ground.Clone(), true
	}
	d.out.Set(x, y, shaped)
}

// cells returns the first and last column and row of those cells of a frame
// whose middles may lie in a bound; ok is false where there are none.
func cells(f grid.Frame, b orb.Bound) (x0, y0, x1, y1 int, ok bool) {
	if f.Len() == 0 || b.IsEmpty() || !f.Bound().Intersects(b) {
		return 0, 0, 0, 0, false
	}
	column := func(east float64) int { return max(0, min(f.W-1, int((east-f.West)/f.DX))) }
	row := func(north float64) int { return max(0, min(f.H-1, int((f.North-north)/f.DY))) }
	return column(b.Min[0]), row(b.Max[1]), column(b.Max[0]), row(b.Min[1]), true
}

// build raises the cells along a sill to its crest, where the channel or the drain
// is lower.
func build(g grid.Ground, n *channel.Network, s channel.Sill) {
	// Cells whose middle is no further off than half a diagonal leave no gap by
	// which water could pass from side to side, and a place on one side of the
	// sill never lies in a cell whose middle is on the other and is not raised.
	half := math.Hypot(g.DX, g.DY) / 2
	x0, y0, x1, y1, ok := cells(g.Frame, s.Line.Bound().Pad(half))
	for y := y0; ok && y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			p := g.Centre(x, y)
			if plan.Distance(s.Line, p) > half || !(float64(g.At(x, y)) < s.Crest) {
				continue
			}
			if z, dug := n.Surface(p); dug && z < s.Crest || n.Dammed(p) {
				g.Set(x, y, float32(s.Crest))
			}
		}
	}
}

// Volumes are how much earth is dug out and filled in [m³], measured in place.
type Volumes struct{ Cut, Fill float64 }

// Volume returns the volumes between two grounds of one frame. Cells that either
// does not know are left out. It panics where the frames differ.
func Volume(ground, proposed grid.Ground) Volumes {
	if ground.Frame != proposed.Frame {
		panic("earthwork: the grounds lie on different frames")
	}
	var v Volumes
	for i, z := range ground.V {
		switch d := float64(z) - float64(proposed.V[i]); {
		case d > 0:
			v.Cut += d
		case d < 0:
			v.Fill -= d
		}
	}
	v.Cut *= ground.CellArea()
	v.Fill *= ground.CellArea()
	return v
}
