package view

import (
	"context"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A Tag is a word beside a place of a survey.
type Tag struct {
	At   orb.Point
	Word string
}

// drawPlan draws faintly what is drawn on the site, so that a ground is seen under it
// before it is brought in.
func (s *Surveyed) drawPlan(ctx context.Context, k *canvas) error {
	if len(s.Plan) == 0 {
		return nil
	}
	for i, f := range s.Plan {
		if i%64 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if !drawable(f) || !k.sees(f.Geometry.Bound(), farthest*k.px+k.widthOf(f)) {
			continue
		}
		for _, line := range k.outlines(f) {
			k.stroke(line, Pen{Width: 1.1 * k.px}, add)
		}
	}
	k.ink(faint(k.look.Ink, 0.45))
	return nil
}

// outlines are the lines in which a thing is drawn faintly.
func (k *canvas) outlines(f plan.Feature) (lines [][]orb.Point) {
	switch g := f.Geometry.(type) {
	case orb.Point:
		return [][]orb.Point{closed(circle(k.point(g), max(2.5*k.px, k.widthOf(f)/2)))}
	case orb.LineString:
		return k.sides(k.line(g), k.widthOf(f))
	case orb.Polygon:
		for _, ring := range k.rings(g) {
			lines = append(lines, closed(ring))
		}
	}
	return lines
}

// drawTags writes words beside their places, each on paper of its own. One that would
// lie over another is left out.
func (s *Surveyed) drawTags(k *canvas) {
	look := lettering{size: k.look.Type.Small, weight: mediumWeight, colour: k.look.Ink}
	var taken []orb.Bound
	for _, t := range s.Tags {
		word, at := k.letters.set(t.Word, look), k.point(t.At)
		x, y := at[0]+7*k.px, at[1]+0.36*look.size
		room := box(word, look.size, x, y).Pad(2 * k.px)
		if overAny(room, taken) {
			continue
		}
		taken = append(taken, room)
		k.plate(room)
		k.disc(at, 2.6*k.px, Style{Body: k.look.Ink})
		k.drawLabels([]label{k.upright(word, look, x, y)})
	}
}

func overAny(b orb.Bound, others []orb.Bound) bool {
	for _, o := range others {
		if b.Intersects(o) {
			return true
		}
	}
	return false
}
