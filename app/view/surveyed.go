package view

import (
	"context"
	"image"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// A Surveyed is what was measured of a ground, as it is looked over before and after
// the ground is made of it.
type Surveyed struct {
	Survey survey.Survey
	// Ground is the ground that was made; nil for none. Bare hides the measurements.
	Ground *Scene
	Bare   bool
	// Low and High are the heights at the ends of the colours [m].
	Low, High float64
	// Marks number places; the one that is Chosen is drawn larger. 0 is none.
	Marks  []orb.Point
	Chosen int
	// Lit are the places of lines that stand out, and Stroke a line that is drawn
	// across them.
	Lit    []int
	Stroke orb.LineString
	// Tags stand beside where the stroke crosses lines.
	Tags []Tag
	// Plan is what is drawn on the site, which shows through faintly.
	Plan []plan.Feature

	bounds []orb.Bound // of the lines
}

// NewSurveyed takes the heights at the ends of the colours from the survey.
func NewSurveyed(s survey.Survey) *Surveyed {
	v := &Surveyed{Survey: s, Low: math.Inf(1), High: math.Inf(-1)}
	see := func(z float64) {
		if !math.IsNaN(z) {
			v.Low, v.High = min(v.Low, z), max(v.High, z)
		}
	}
	for _, l := range s.Lines {
		v.bounds = append(v.bounds, l.At.Bound())
		for _, z := range l.Z {
			see(z)
		}
	}
	for _, p := range s.Spots {
		see(p.Z)
	}
	return v
}

// BareScene is the relief and the contours of a ground alone.
func BareScene(ctx context.Context, g grid.Ground, u Units) (*Scene, error) {
	s := &Scene{Ground: g, Show: Shade | Contours, Units: u}
	if err := steps(ctx, s.relieve, s.contour); err != nil {
		return nil, err
	}
	s.Prepare()
	return s, nil
}

// DrawSurveyed draws a survey on an image of w by h device pixels. It returns ctx's
// error soon after ctx ends.
func DrawSurveyed(ctx context.Context, s *Surveyed, c Camera, size image.Point, p Palette) (*image.RGBA, error) {
	if err := c.check(size.X, size.Y); err != nil {
		return nil, err
	}
	dst := image.NewRGBA(image.Rectangle{Max: size})
	if s.Ground != nil {
		drawn, err := Draw(ctx, s.Ground, c, size.X, size.Y, p)
		if err != nil {
			return nil, err
		}
		dst = drawn
	}
	k := newCanvas(dst, c, p)
	if s.Ground == nil {
		k.clearTo(p.Paper)
	}
	if err := s.drawPlan(ctx, k); err != nil {
		return nil, err
	}
	if !s.Bare {
		if err := steps(ctx, k.drawn(s.drawLevels), k.drawn(s.drawUses), k.drawn(s.drawSpots)); err != nil {
			return nil, err
		}
	}
	s.drawLit(k)
	s.drawMarks(k)
	return dst, ctx.Err()
}

// drawn is a step that draws on the canvas.
func (k *canvas) drawn(draw func(context.Context, *canvas) error) func(context.Context) error {
	return func(ctx context.Context) error { return draw(ctx, k) }
}

// level is the place of a height among the colours; -1 where it is not known.
func (s *Surveyed) level(z float64) int {
	switch {
	case math.IsNaN(z):
		return -1
	case !(s.High > s.Low):
		return surveyColours / 2
	}
	return int(max(0, min(surveyColours-1, (z-s.Low)/(s.High-s.Low)*surveyColours)))
}

// looseLine is how a contour without a height is drawn [px].
var looseLine = Pen{Width: 2.2, Dash: []float64{7, 3}}

// drawLevels draws the contours, those of one colour together, and over them those
// that have no height.
func (s *Surveyed) drawLevels(ctx context.Context, k *canvas) error {
	var sorted [surveyColours + 1][]survey.Line
	for i, l := range s.Survey.Lines {
		if l.Use == survey.Contour && !l.Out && k.sees(s.bounds[i], 4) {
			place := s.level(meanHeight(l))
			if place < 0 {
				place = surveyColours
			}
			sorted[place] = append(sorted[place], l)
		}
	}
	colours := k.look.surveyRamp()
	for place, lines := range sorted {
		pen := Pen{Width: 1.5 * k.px}
		if place == surveyColours {
			pen = looseLine.scaled(k.px)
			pen.Colour = k.look.Accent
		} else {
			pen.Colour = colours[place]
		}
		if err := k.together(ctx, lines, pen); err != nil {
			return err
		}
	}
	return nil
}

// together strokes lines as one, so that where they cross they are no darker.
func (k *canvas) together(ctx context.Context, lines []survey.Line, pen Pen) error {
	for i, l := range lines {
		if i%64 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		k.stroke(k.line(l.At), pen, add)
	}
	k.ink(pen.Colour)
	return nil
}

// drawUses draws breaklines, kerbs and edges, and what is left out.
func (s *Surveyed) drawUses(ctx context.Context, k *canvas) error {
	var sorted [survey.Edge + 2][]survey.Line
	for _, l := range s.Survey.Lines {
		switch {
		case l.Out:
			sorted[survey.Edge+1] = append(sorted[survey.Edge+1], l)
		case l.Use != survey.Contour:
			sorted[l.Use] = append(sorted[l.Use], l)
		}
	}
	for use, lines := range sorted {
		if err := k.together(ctx, lines, k.look.UsePen(survey.Use(use))); err != nil {
			return err
		}
	}
	return nil
}

// fewSpots is how many spots in sight are drawn as discs; more of them are specks.
const fewSpots = 20000

// drawSpots draws the spot heights.
func (s *Surveyed) drawSpots(ctx context.Context, k *canvas) error {
	seen := 0
	for _, p := range s.Survey.Spots {
		if k.sees(orb.Bound{Min: p.At, Max: p.At}, 3) {
			seen++
		}
	}
	colours, radius := k.look.surveyRamp(), 2.6*k.px
	if seen > fewSpots/20 {
		radius = 1.8 * k.px
	}
	for i, p := range s.Survey.Spots {
		if i%4096 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if !k.sees(orb.Bound{Min: p.At, Max: p.At}, 3) {
			continue
		}
		colour := k.look.Accent
		if place := s.level(p.Z); place >= 0 {
			colour = colours[place]
		}
		at := k.point(p.At)
		switch {
		case p.Out:
			k.saltire(at, 3.5*k.px, k.look.Muted)
		case seen > fewSpots:
			k.speck(at, colour)
		default:
			k.fill([]orb.Ring{circle(at, radius)}, colour)
		}
	}
	return nil
}

// speck colours one pixel.
func (k *canvas) speck(at orb.Point, c Colour) {
	p := image.Pt(int(at[0]), int(at[1]))
	if p.In(k.dst.Rect) {
		k.dst.SetRGBA(p.X, p.Y, rgba(c))
	}
}

// saltire draws a cross that lies.
func (k *canvas) saltire(at orb.Point, arm float64, c Colour) {
	pen := Pen{Width: 1.3 * k.px}
	k.stroke([]orb.Point{{at[0] - arm, at[1] - arm}, {at[0] + arm, at[1] + arm}}, pen, add)
	k.stroke([]orb.Point{{at[0] - arm, at[1] + arm}, {at[0] + arm, at[1] - arm}}, pen, add)
	k.ink(c)
}

// drawLit draws the lines that stand out and the stroke across them.
func (s *Surveyed) drawLit(k *canvas) {
	for _, i := range s.Lit {
		if i < 0 || i >= len(s.Survey.Lines) {
			continue
		}
		line := k.line(s.Survey.Lines[i].At)
		k.draw(line, Pen{Colour: k.look.Paper, Width: 8 * k.px})
		k.draw(line, Pen{Colour: k.look.Ink, Width: 3.6 * k.px})
	}
	if len(s.Stroke) > 1 {
		line := k.line(s.Stroke)
		k.draw(line, Pen{Colour: k.look.Paper, Width: 4.5 * k.px})
		k.draw(line, Pen{Colour: k.look.Ink, Width: 2 * k.px})
		k.disc(line[0], 4*k.px, Style{Body: k.look.Paper, Edge: Pen{Colour: k.look.Ink, Width: 2 * k.px}})
	}
	s.drawTags(k)
}

// drawMarks numbers the places, the chosen one last.
func (s *Surveyed) drawMarks(k *canvas) {
	for i, at := range s.Marks {
		if i+1 != s.Chosen {
			k.mark(k.point(at), i+1, 1)
		}
	}
	if s.Chosen > 0 && s.Chosen <= len(s.Marks) {
		at := k.point(s.Marks[s.Chosen-1])
		k.disc(at, 15*k.px, Style{Body: faint(k.look.Caution.Body, 0.25), Edge: Pen{Colour: k.look.Caution.Body, Width: 1.6 * k.px}})
		k.mark(at, s.Chosen, 1.2)
	}
}

// DrawStroke draws a line that is being drawn over a picture.
func DrawStroke(dst *image.RGBA, c Camera, stroke orb.LineString, p Palette) {
	s := Surveyed{Stroke: stroke}
	k := borrowCanvas(dst, c, p)
	s.drawLit(k)
	k.giveBack()
}
