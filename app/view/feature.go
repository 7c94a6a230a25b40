package view

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A stage is when in the drawing a kind has its turn, from the ground up.
type stage uint8

const (
	covers stage = iota // what lies on the ground, under contours and water
	beds                // what water stands in
	ways                // lines on the ground
	tall                // what stands above it
	marks               // outlines and symbols over all
)

// A painter draws the features of some kinds, in the style of the first.
type painter struct {
	kinds []plan.Kind
	stage stage
	paint func(k *canvas, features []plan.Feature, s Style)
}

// painters are in drawing order within their stage.
var painters = []painter{
	{only(plan.SoilZone), covers, each(paintArea)},
	{only(plan.Cover), covers, each(paintArea)},
	{only(plan.Paving), covers, each(paintArea)},
	{only(plan.SepticField), covers, each(paintArea)},
	{only(plan.Planting), covers, each(paintArea)},
	{only(plan.Island), covers, each(paintArea)},
	{only(plan.Drain), beds, paintBeds},
	{[]plan.Kind{plan.Channel, plan.Island}, beds, paintBeds},
	{only(plan.Drain), ways, paintCourses},
	{[]plan.Kind{plan.Channel, plan.Island}, ways, paintCourses},
	{only(plan.Path), ways, each(paintPath)},
	{only(plan.Kerb), ways, each(paintKerb)},
	{only(plan.Wall), ways, each(paintWall)},
	{only(plan.Culvert), ways, each(paintCulvert)},
	{only(plan.Sill), ways, each(paintSill)},
	{only(plan.Crossing), ways, each(paintCrossing)},
	{only(plan.Roof), tall, each(paintArea)},
	{only(plan.Tree), tall, each(paintTree)},
	{only(plan.ServiceLine), marks, each(paintService)},
	{only(plan.Boundary), marks, each(paintArea)},
	{only(plan.Section), marks, each(paintSection)},
	{only(plan.Spillway), marks, each(paintSpillway)},
	{only(plan.Inlet), marks, each(paintInlet)},
	{only(plan.Downpipe), marks, each(paintDownpipe)},
	{only(plan.Well), marks, each(paintWell)},
	{only(plan.SoilTest), marks, each(paintSoilTest)},
	{only(plan.Place), marks, each(paintPlace)},
}

func only(k plan.Kind) []plan.Kind { return []plan.Kind{k} }

func each(paint func(*canvas, plan.Feature, Style)) func(*canvas, []plan.Feature, Style) {
	return func(k *canvas, features []plan.Feature, s Style) {
		for _, f := range features {
			paint(k, f, s)
		}
	}
}

// farthest is how far beyond its geometry a feature may be drawn [px], for
// symbols and edges; widths come on top.
const farthest = 24

func (k *canvas) drawStage(ctx context.Context, of *plate, turn stage) error {
	for i, p := range painters {
		if p.stage != turn {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		var own []plan.Feature
		for _, f := range of.painted[i] {
			if k.seesDrawn(f) {
				own = append(own, f.Feature)
			}
		}
		if len(own) > 0 {
			p.paint(k, own, k.look.Kinds[p.kinds[0]])
		}
	}
	return nil
}

// widest is the greatest width that is believed [m].
const widest = 1000

// widthOf returns a feature's true width as it is seen [px]; 0 for those without.
func (k *canvas) widthOf(f plan.Feature) float64 {
	return max(0, min(f.Width(), widest)) * k.camera.Scale
}

// paintArea draws shadow, body, hatch and edge.
func paintArea(k *canvas, f plan.Feature, s Style) {
	rings := k.rings(f.Area())
	if s.Lift > 0 {
		k.fill(shifted(rings, s.Lift), k.look.Shadow)
	}
	if s.Body.A > 0 {
		k.area(rings, add)
		k.wash(s.Body)
		if k.roomForHatch(rings, s.Hatch) {
			k.washHatch(s.Hatch)
		}
		k.clear()
	}
	for _, ring := range rings {
		k.stroke(closed(ring), s.Edge, add)
	}
	k.ink(s.Edge.Colour)
}

// roomForHatch reports whether an area is large enough for its hatch to be told
// from dirt.
func (k *canvas) roomForHatch(rings []orb.Ring, h Hatch) bool {
	b := rings[0].Bound()
	return min(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) > 1.5*h.Size
}

func closed(ring orb.Ring) []orb.Point {
	if n := len(ring); n > 0 && ring[0] != ring[n-1] {
		return append(ring[:n:n], ring[0])
	}
	return ring
}

func shifted(rings []orb.Ring, by float64) []orb.Ring {
	moved := make([]orb.Ring, len(rings))
	for i, ring := range rings {
		for _, p := range ring {
			moved[i] = append(moved[i], orb.Point{p[0] + by, p[1] + by})
		}
	}
	return moved
}

// rim inks a line's two edges: its whole width less what lies inside them.
func (k *canvas) rim(line []orb.Point, width float64, edge Pen) {
	k.stroke(line, Pen{Width: width + edge.Width}, add)
	k.stroke(line, Pen{Width: max(width-edge.Width, 0.1)}, cut)
	k.ink(edge.Colour)
}

// paintPath draws a band with edges and a dotted middle.
func paintPath(k *canvas, f plan.Feature, s Style) {
	line, width := k.line(f.Line()), max(k.widthOf(f), s.Least)
	k.draw(line, Pen{Colour: s.Body, Width: width})
	k.rim(line, width, s.Edge)
	if width > 2.5*s.Least {
		k.draw(line, s.Core)
	}
}

// paintKerb draws a line with teeth on its left, the side it stands up from.
func paintKerb(k *canvas, f plan.Feature, s Style) {
	line := k.line(f.Line())
	k.draw(line, s.Core)
	t := newTrack(line)
	k.every(t, 9*k.px, func(p orb.Point, nx, ny float64) {
		k.stroke([]orb.Point{p, {p[0] + nx*s.Least, p[1] + ny*s.Least}}, Pen{Width: s.Core.Width * 0.8}, add)
	})
	k.ink(s.Core.Colour)
}

// paintWall draws a heavy line with a light one in it.
func paintWall(k *canvas, f plan.Feature, s Style) {
	line := k.line(f.Line())
	k.draw(line, s.Core)
	k.draw(line, s.Edge)
}

// paintCulvert draws a pipe: two broken lines, and a headwall across each end.
func paintCulvert(k *canvas, f plan.Feature, s Style) {
	line, width := k.line(f.Line()), max(k.widthOf(f), s.Least)
	k.draw(line, Pen{Colour: s.Body, Width: width})
	k.stroke(line, Pen{Width: width + s.Edge.Width, Dash: s.Edge.Dash}, add)
	k.stroke(line, Pen{Width: width - s.Edge.Width}, cut)
	t := newTrack(line)
	k.across(t, 0, width*0.5+3*k.px, s.Edge.Width*1.6)
	k.across(t, t.length(), width*0.5+3*k.px, s.Edge.Width*1.6)
	k.ink(s.Edge.Colour)
}

// paintSill draws a heavy bar with a short wing at each end, set off from the
// water that it stands in.
func paintSill(k *canvas, f plan.Feature, s Style) {
	line := k.line(f.Line())
	t := newTrack(line)
	for _, pen := range []Pen{{Colour: s.Edge.Colour, Width: 2 * s.Edge.Width}, {Colour: s.Core.Colour}} {
		k.stroke(line, Pen{Width: s.Core.Width + pen.Width}, add)
		k.across(t, 0, s.Least+pen.Width/2, s.Core.Width*0.6+pen.Width)
		k.across(t, t.length(), s.Least+pen.Width/2, s.Core.Width*0.6+pen.Width)
		k.ink(pen.Colour)
	}
}

// across merges a short line square to the track, at a distance along it.
func (k *canvas) across(t track, at, half, width float64) {
	p, nx, ny := t.normal(at)
	k.stroke([]orb.Point{{p[0] - nx*half, p[1] - ny*half}, {p[0] + nx*half, p[1] + ny*half}}, Pen{Width: width}, add)
}

// normal returns a place on the track and the direction to its left.
func (t track) normal(at float64) (p orb.Point, nx, ny float64) {
	a, b := t.point(max(at-1, 0)), t.point(min(at+1, t.length()))
	length := apart(a, b)
	if length == 0 {
		return t.point(at), 0, -1
	}
	return t.point(at), (b[1] - a[1]) / length, -(b[0] - a[0]) / length
}

// every visits places along the track where it lies in the picture, each with
// the direction to its left.
func (k *canvas) every(t track, step float64, visit func(p orb.Point, nx, ny float64)) {
	for i := 1; i < len(t.points); i++ {
		from, to, ok := k.seen(t.points[i-1], t.points[i], 2*step)
		if !ok {
			continue
		}
		length := t.at[i] - t.at[i-1]
		first := math.Ceil((t.at[i-1]+from*length)/step - 0.5)
		for s := (first + 0.5) * step; s < t.at[i-1]+to*length; s += step {
			visit(t.normal(s))
		}
	}
}
