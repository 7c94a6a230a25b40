package view

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A Ghost is another scheme that shows through under the one on the map: its
// courses, islands and paths in outline, without names.
type Ghost struct {
	// Name of the scheme.
	Name     string
	features []plan.Feature
}

// NewGhost takes from a site what of a scheme shows through. That of the site as
// it is are its drains and paths.
func NewGhost(s *plan.Site, scheme plan.SchemeID) *Ghost {
	g := &Ghost{Name: s.Plan.SchemeName(scheme)}
	for _, f := range s.Plan.Features {
		switch f.Kind {
		case plan.Channel, plan.Drain, plan.Island, plan.Path:
			if f.Scheme == scheme && drawable(f) {
				g.features = append(g.features, f)
			}
		}
	}
	return g
}

// ghostPen draws it, and a wider one under it lifts it off what is dark.
func (k *canvas) ghostPens() [2]Pen {
	return [2]Pen{
		{Colour: faint(k.look.Paper, 0.85), Width: 4 * k.px},
		{Colour: k.look.Ink, Width: 1.4 * k.px, Dash: []float64{6 * k.px, 3.5 * k.px}},
	}
}

// drawGhost draws the outlines of another scheme; nil is none.
func (k *canvas) drawGhost(ctx context.Context, g *Ghost) error {
	if g == nil {
		return nil
	}
	var outlines [][]orb.Point
	for _, f := range g.features {
		if err := ctx.Err(); err != nil {
			return err
		}
		if !k.sees(f.Geometry.Bound(), farthest*k.px+k.widthOf(f)) {
			continue
		}
		if f.Kind == plan.Island {
			for _, ring := range k.rings(f.Area()) {
				outlines = append(outlines, closed(ring))
			}
			continue
		}
		outlines = append(outlines, k.sides(k.line(f.Line()), k.widthOf(f))...)
	}
	for _, pen := range k.ghostPens() {
		for _, line := range outlines {
			k.stroke(line, pen, add)
		}
		k.ink(pen.Colour)
	}
	return nil
}

// sides returns the two edges of a line of some width, or, where they would run
// into each other, its middle.
func (k *canvas) sides(line []orb.Point, width float64) [][]orb.Point {
	if width < 5*k.px {
		return [][]orb.Point{line}
	}
	return [][]orb.Point{edgeOf(line, width/2), edgeOf(line, -width/2)}
}

// longestMitre is how much further out than the edge a corner of the edge may lie.
const longestMitre = 1.5

// edgeOf returns a line at a distance to the right of another.
func edgeOf(line []orb.Point, off float64) []orb.Point {
	var edge []orb.Point
	for i, p := range line {
		ax, ay := towards(line[max(i-1, 0)], p)
		bx, by := towards(p, line[min(i+1, len(line)-1)])
		if ax == 0 && ay == 0 {
			ax, ay = bx, by
		}
		if bx == 0 && by == 0 {
			bx, by = ax, ay
		}
		// The normals' mean is shorter than they are by the cosine of half the turn.
		nx, ny := -(ay+by)/2, (ax+bx)/2
		square := nx*nx + ny*ny
		stretched := off / max(math.Sqrt(square), 1e-6) * min(longestMitre, 1/max(math.Sqrt(square), 1e-6))
		edge = append(edge, orb.Point{p[0] + nx*stretched, p[1] + ny*stretched})
	}
	return edge
}

// towards returns the direction from a to b, of length 1; nought where they are one.
func towards(a, b orb.Point) (x, y float64) {
	length := apart(a, b)
	if length == 0 {
		return 0, 0
	}
	return (b[0] - a[0]) / length, (b[1] - a[1]) / length
}

// sampleGhost draws one in a legend.
func sampleGhost(k *canvas, b orb.Bound) {
	middle, half := b.Center()[1], (b.Max[1]-b.Min[1])*0.3
	for _, pen := range k.ghostPens() {
		for _, y := range []float64{middle - half, middle + half} {
			k.draw([]orb.Point{{b.Min[0], y}, {b.Max[0], y}}, pen)
		}
	}
}
