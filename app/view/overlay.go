package view

import (
	"image"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// An Overlay is what is drawn over the map while a person works on it. The zero
// Overlay draws nothing.
type Overlay struct {
	// Selected is the feature that is selected, Under the one under the
	// pointer; 0 for none. Also lists what is selected with it.
	Selected, Under plan.ID
	Also            []plan.ID
	// Sketch holds the points of what is being drawn, up to the last one set.
	// Closed joins the last to the first.
	Sketch orb.LineString
	Closed bool
	// Marks are the points of the sketch that were put down.
	Marks []orb.Point
	// Rubber is the pointer, to which the sketch's next side is drawn.
	Rubber *orb.Point
	// Cue is what the pointer is drawn to.
	Cue Cue
	// Frame is the box round what is selected, Turn the handle that turns it, Box
	// the one that is drawn to select.
	Frame, Box *orb.Bound
	Turn       *orb.Point
	// Handles are points that can be dragged; Hot is the place in the list of
	// the one under the pointer, -1 for none.
	Handles []orb.Point
	Hot     int
	// Middles are the middles of sides, where a point can be put in.
	Middles []orb.Point
	// Drop is the path of a drop that falls at its first point: its ways over the
	// ground in turn, between which it is in a culvert.
	Drop []orb.LineString
	// DropStays is set when the path ends on the ground shown, clear when it
	// leaves it.
	DropStays bool
	// Outline is the edge of what a list points at, such as a hollow.
	Outline orb.MultiPolygon
	// Region marks cells of the ground, such as all that drain to one place.
	Region *grid.Grid[bool]
	// Section is the line of a cross-section; Station the place on a channel
	// that other panels point at.
	Section orb.LineString
	Station *orb.Point
	// Pins mark exact places by name.
	Pins []Pin
}

// DrawOverlay draws an overlay onto a picture composed by Draw with the same
// camera.
func DrawOverlay(dst *image.RGBA, s *Scene, o Overlay, c Camera, p Palette) {
	if dst.Rect.Empty() || c.check(dst.Rect.Dx(), dst.Rect.Dy()) != nil {
		return
	}
	k := borrowCanvas(dst, c, p)
	defer k.giveBack()
	if s != nil && s.Site != nil {
		k.highlight(s, o.Under, 0.5)
		k.highlight(s, o.Selected, 1)
		for _, id := range o.Also {
			k.highlight(s, id, 1)
		}
	}
	k.drawRegion(o.Region)
	k.drawOutline(o.Outline)
	k.drawDrop(o)
	k.drawSection(o)
	k.drawSketch(o)
	k.drawFrames(o)
	k.drawHandles(o)
	k.drawCue(o.Cue)
	k.drawPins(o.Pins)
}

// highlight draws a glow and a bright line round a feature.
func (k *canvas) highlight(s *Scene, id plan.ID, strength float64) {
	f, ok := s.Site.Plan.Find(id)
	if id == 0 || !ok || !drawable(f) {
		return
	}
	glow := Pen{Colour: faint(k.look.Accent, 0.3*strength), Width: 8 * k.px}
	edge := Pen{Colour: faint(k.look.Accent, strength), Width: 2 * k.px}
	if plan.SpecOf(f.Kind).Shape == plan.PointShape {
		p := k.point(f.Point())
		ring := circle(p, max(k.look.Kinds[f.Kind].Least+5*k.px, min(k.widthOf(f)/2, 4096)))
		k.draw(closed(ring), glow)
		k.draw(closed(ring), edge)
		return
	}
	if f.Kind == plan.Channel {
		glow.Width /= 2 // beds are narrow
		k.highlightChannel(s, f, []Pen{glow, edge})
		return
	}
	lines := plan.Lines(f.Geometry)
	width := k.widthOf(f)
	for _, pen := range []Pen{glow, edge} {
		for _, ground := range lines {
			line := k.line(ground)
			k.stroke(line, Pen{Width: width + pen.Width}, add)
			if width > 4*k.px {
				k.stroke(line, Pen{Width: width - pen.Width}, cut)
			}
		}
		k.ink(pen.Colour)
	}
}

// drawRegion washes the pixels whose middle lies in a marked cell.
func (k *canvas) drawRegion(region *grid.Grid[bool]) {
	if region == nil {
		return
	}
	wash := faint(k.look.Drop, 0.28)
	bound := k.dst.Rect
	for py := bound.Min.Y; py < bound.Max.Y; py++ {
		for px := bound.Min.X; px < bound.Max.X; px++ {
			x, y, ok := region.Cell(k.camera.ToGround(float64(px)+0.5, float64(py)+0.5))
			if ok && region.At(x, y) {
				blend(k.dst.Pix[k.dst.PixOffset(px, py):], wash, 255)
			}
		}
	}
}

// drawOutline draws a glow and a bright line along the edges of cells, rounded.
func (k *canvas) drawOutline(area orb.MultiPolygon) {
	for _, pen := range []Pen{{Colour: faint(k.look.Accent, 0.3), Width: 8 * k.px}, {Colour: k.look.Accent, Width: 2.2 * k.px}} {
		for _, polygon := range rounded(area) {
			for _, ring := range k.rings(polygon) {
				k.stroke(ring, pen, add)
			}
		}
		k.ink(pen.Colour)
	}
}

// drawDrop draws where a drop runs: bright on a light casing, dotted through
// culverts, a drop of water at its start, and at its end a ring where it stays or
// an arrow where it leaves.
func (k *canvas) drawDrop(o Overlay) {
	var last []orb.Point
	for _, leg := range o.Drop {
		if len(leg) < 2 {
			continue
		}
		line := smooth(k.line(settle(leg)), 1)
		if last != nil {
			k.drawPiped(last[len(last)-1], line[0])
		}
		k.draw(line, Pen{Colour: faint(k.look.Paper, 0.85), Width: 5.5 * k.px})
		k.draw(line, Pen{Colour: k.look.Drop, Width: 2.8 * k.px})
		k.every(newTrack(line), 70*k.px, func(p orb.Point, nx, ny float64) { k.arrowhead(p, -ny, nx, 4*k.px) })
		k.ink(k.look.Paper)
		last = line
	}
	if last == nil {
		return
	}
	t := newTrack(last)
	end, nx, ny := t.normal(t.length())
	if o.DropStays {
		k.disc(end, 5.5*k.px, Style{Body: k.look.Paper, Edge: Pen{Colour: k.look.Drop, Width: 2.6 * k.px}})
	} else {
		k.arrow(end, [2]float64{-ny, nx}, 13*k.px, k.look.Drop)
	}
	k.droplet(k.point(o.Drop[0][0]))
}

// drawPiped draws a drop's way through a culvert.
func (k *canvas) drawPiped(from, to orb.Point) {
	line := []orb.Point{from, to}
	k.draw(line, Pen{Colour: faint(k.look.Paper, 0.85), Width: 5.5 * k.px})
	k.draw(line, Pen{Colour: k.look.Drop, Width: 2.8 * k.px, Dash: []float64{2.8 * k.px, 4 * k.px}})
}

// arrowhead merges a small open arrow that points along (fx, fy).
func (k *canvas) arrowhead(p orb.Point, fx, fy, size float64) {
	k.stroke([]orb.Point{
		{p[0] - fx*size/2 - fy*size/2, p[1] - fy*size/2 + fx*size/2},
		{p[0] + fx*size/2, p[1] + fy*size/2},
		{p[0] - fx*size/2 + fy*size/2, p[1] - fy*size/2 - fx*size/2},
	}, Pen{Width: 1.3 * k.px}, add)
}

// arrow draws a solid arrow of a length [px] along a direction, its point at p.
func (k *canvas) arrow(p orb.Point, along [2]float64, back float64, c Colour) {
	fx, fy, half := along[0], along[1], back/2
	ring := orb.Ring{p,
		{p[0] - fx*back - fy*half, p[1] - fy*back + fx*half},
		{p[0] - fx*back*0.7, p[1] - fy*back*0.7},
		{p[0] - fx*back + fy*half, p[1] - fy*back - fx*half}}
	k.symbol(ring, Style{Body: c, Edge: Pen{Colour: k.look.Paper, Width: 1.5 * k.px}})
}

// droplet draws a drop of water whose round foot stands where it fell.
func (k *canvas) droplet(p orb.Point) {
	r := 5.5 * k.px
	ring := orb.Ring{}
	const n = 36
	for i := range n {
		angle := 2 * math.Pi * float64(i) / n
		sin, cos := math.Sincos(angle)
		// The classic teardrop: the half width narrows to nothing at the tip.
		ring = append(ring, orb.Point{p[0] + r*sin*math.Pow(math.Sin(angle/2), 1.4)*1.1, p[1] - 0.5*r - 1.5*r*cos})
	}
	k.symbol(ring, Style{Body: k.look.Drop, Edge: Pen{Colour: k.look.Paper, Width: 1.6 * k.px}})
	k.fill([]orb.Ring{circle(orb.Point{p[0] - 0.3*r, p[1] + 0.25*r}, 0.24*r)}, faint(k.look.Paper, 0.85))
}

func (k *canvas) drawSection(o Overlay) {
	if len(o.Section) > 1 {
		line := k.line(o.Section)
		k.draw(line, Pen{Colour: faint(k.look.Paper, 0.8), Width: 4 * k.px})
		k.draw(line, Pen{Colour: k.look.Accent, Width: 1.8 * k.px})
		t := newTrack(line)
		k.across(t, 0, 5*k.px, 1.8*k.px)
		k.across(t, t.length(), 5*k.px, 1.8*k.px)
		k.ink(k.look.Accent)
	}
	if o.Station != nil {
		k.disc(k.point(*o.Station), 5*k.px, Style{Body: k.look.Accent, Edge: Pen{Colour: k.look.Paper, Width: 1.8 * k.px}})
	}
}

// drawSketch draws the sides that are set, whole, and those still loose, broken.
func (k *canvas) drawSketch(o Overlay) {
	line := k.line(o.Sketch)
	if n := len(line); n > 0 {
		if o.Closed && n > 2 {
			k.fill([]orb.Ring{line}, faint(k.look.Accent, 0.12))
		}
		k.draw(line, Pen{Colour: faint(k.look.Paper, 0.8), Width: 4.5 * k.px})
		k.draw(line, Pen{Colour: k.look.Accent, Width: 2.2 * k.px})
		loose := Pen{Colour: k.look.Accent, Width: 1.6 * k.px, Dash: []float64{6 * k.px, 4 * k.px}}
		last := line[n-1]
		if o.Rubber != nil {
			p := k.point(*o.Rubber)
			k.stroke([]orb.Point{last, p}, loose, add)
			last = p
		}
		if o.Closed && last != line[0] {
			k.stroke([]orb.Point{last, line[0]}, loose, add)
		}
		k.ink(loose.Colour)
		for _, p := range o.Marks {
			k.disc(k.point(p), 3.2*k.px, Style{Body: k.look.Paper, Edge: Pen{Colour: k.look.Accent, Width: 1.8 * k.px}})
		}
	}
}

func (k *canvas) drawHandles(o Overlay) {
	for _, ground := range o.Middles {
		k.disc(k.point(ground), 2.6*k.px, Style{Body: k.look.Paper, Edge: Pen{Colour: k.look.Accent, Width: 1.1 * k.px}})
	}
	const apart = 12 // that a line of many points stays to be seen under its handles
	last := orb.Point{math.Inf(-1), math.Inf(-1)}
	for i, ground := range o.Handles {
		p, half := k.point(ground), 3.4*k.px
		if i != o.Hot && planar.Distance(p, last) < apart*k.px {
			continue
		}
		last = p
		style := Style{Body: k.look.Paper, Edge: Pen{Colour: k.look.Accent, Width: 1.6 * k.px}}
		if i == o.Hot {
			half = 5.5 * k.px
			style.Body = k.look.Accent
			style.Edge.Colour = k.look.Paper
		}
		b := square(p[0], p[1], half)
		ring := b.ToRing()
		k.fill([]orb.Ring{ring}, style.Body)
		k.draw(ring, style.Edge)
	}
}
