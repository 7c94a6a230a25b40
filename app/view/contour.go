package view

import (
	"context"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// tooClose is the mean distance between contours [px] below which they would
// run together: then only every fifth is drawn, and none when those do.
const tooClose = 6

// contourSet says which contours the scale leaves room for.
func (k *canvas) contourSet(x *index) (light, heavy bool) {
	apart := x.spacing * k.camera.Scale / k.px
	return apart >= tooClose, apart*5 >= tooClose
}

// drawContours draws the light lines, then the heavy ones, less what gaps cuts
// out of them.
func (k *canvas) drawContours(ctx context.Context, x *index, gaps *stencil) error {
	light, heavy := k.contourSet(x)
	for _, pass := range []struct {
		shown, heavy bool
		pen          Pen
	}{{light, false, k.look.Contour}, {heavy, true, k.look.Index}} {
		if !pass.shown {
			continue
		}
		for i, c := range x.contours {
			if i%256 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			if c.heavy == pass.heavy && k.worthDrawing(c.bound) {
				for _, run := range k.contour(c) {
					k.stroke(run, pass.pen, add)
				}
			}
		}
		k.take(gaps)
		k.ink(pass.pen.Colour)
	}
	return nil
}

// contourGaps covers where contours are left out: where their levels are
// written, and between the banks of channels and drains, where they would run
// together.
func (k *canvas) contourGaps(p *plate, labels []label) *stencil {
	var gapped []drawn
	for _, f := range p.features {
		if p.Show.Has(Drawn) && (f.Kind == plan.Channel || f.Kind == plan.Drain) && k.seesDrawn(f) {
			gapped = append(gapped, f)
		}
	}
	if len(gapped)+len(labels) == 0 {
		return &stencil{}
	}
	gaps := newStencil(k.w, k.h)
	for _, l := range labels {
		gaps.stroke(l.gap, l.gapPen(), add)
	}
	for _, f := range gapped {
		gaps.stroke(k.line(f.Line()), Pen{Width: k.widthOf(f.Feature)}, add)
	}
	return gaps
}

// worthDrawing reports whether a line is in the picture and larger than a speck.
func (k *canvas) worthDrawing(b orb.Bound) bool {
	const speck = 4
	size := max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) * k.camera.Scale
	return size > speck*k.px && k.sees(b, 4)
}

// contour returns the runs of a contour in which it may be in the picture.
func (k *canvas) contour(c contourLine) [][]orb.Point { return k.runs(c.line, c.parts, 8) }

// Labels on one contour stand at least labelEvery apart and labelFirst from where it
// enters the picture; those of neighbouring contours labelApart [px].
const (
	labelEvery = 420
	labelFirst = 90
	labelApart = 56
)

// openFor reports whether a level may be written at a place: not too near another,
// nor where levels were arranged before.
func (k *canvas) openFor(at orb.Point) bool {
	if k.before.window.Contains(at) {
		return false
	}
	for _, q := range k.levels {
		if apart(at, q) < labelApart*k.px {
			return false
		}
	}
	return true
}

// contourLabels write the levels of the heavy contours along them. Where there
// are few heavy ones, as on flat ground, the others are labelled too.
func (k *canvas) contourLabels(p *plate) []label {
	light, heavy := k.contourSet(p.x)
	var labels []label
	for _, only := range []bool{true, false} {
		if only && !heavy || !only && (!light || len(labels) >= 4) {
			continue
		}
		for _, c := range p.x.contours {
			if c.heavy == only && k.sees(c.bound, 0) {
				labels = append(labels, k.levelLabels(p, c)...)
			}
		}
	}
	return labels
}

// levelLettering is how levels are written; the gap in the line does most of
// what a halo does for other labels.
func (k *canvas) levelLettering() lettering {
	colour := mix(k.look.Index.Colour, k.look.Ink, 0.35)
	colour.A = 255
	return lettering{size: k.look.Type.Small, colour: colour, halo: faint(k.look.Paper, 0.35)}
}

func (k *canvas) levelLabels(p *plate, c contourLine) []label {
	var labels []label
	s := p.Scene
	look := k.levelLettering()
	unit, _ := s.Units.length()
	line := k.letters.set(k.look.Tongue.write(levelText(c.level/unit, s.Interval/unit)), look)
	for _, t := range k.visible(k.contour(c)...) {
		if t.length() < 2.5*line.width {
			break
		}
		for at := min(labelFirst*k.px, t.length()/2); at < t.length(); {
			l, ok := label{}, false
			if k.openFor(t.point(at)) && k.dryAlong(s, p.x, [3]orb.Point{t.point(at - line.width/2), t.point(at), t.point(at + line.width/2)}) &&
				k.roomBetween(s, k.ground(t.point(at)), look.size) {
				l, ok = k.alongTrack(t, line, look, spot{at, -(ascent - descent) / 2 * look.size})
			}
			if !ok {
				at += 24 * k.px
				continue
			}
			l.gap = t.part(at-line.width/2-2*k.px, at+line.width/2+2*k.px)
			labels = append(labels, l)
			k.levels = append(k.levels, t.point(at))
			at += labelEvery * k.px
		}
	}
	return labels
}

// dryAlong reports whether places on the screen are neither dug nor under water.
func (k *canvas) dryAlong(s *Scene, x *index, places [3]orb.Point) bool {
	for _, p := range places {
		if ground := k.ground(p); x.cut.holds(ground) || s.wetAt(ground) {
			return false
		}
	}
	return true
}

// roomBetween reports whether contours lie far enough apart at a place for a
// level to be written between them.
func (k *canvas) roomBetween(s *Scene, p orb.Point, size float64) bool {
	step := 0.6 * size / k.camera.Scale
	rise := func(dx, dy float64) float64 {
		return grid.Sample(s.Ground, orb.Point{p[0] + dx, p[1] + dy}) - grid.Sample(s.Ground, orb.Point{p[0] - dx, p[1] - dy})
	}
	slope := math.Hypot(rise(step, 0), rise(0, step)) / (2 * step)
	return !(slope*2*step > 1.2*s.Interval)
}

// levelText writes a level with as many decimals as the interval has.
func levelText(level, interval float64) string {
	decimals := 0
	if interval > 0 {
		decimals = int(max(0, min(3, math.Ceil(-math.Log10(interval)-1e-9))))
	}
	return strconv.FormatFloat(level, 'f', decimals, 64)
}
