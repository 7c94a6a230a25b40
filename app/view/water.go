package view

import (
	"context"
	"math"

	"github.com/paulmach/orb"
)

// finest is the drainage area [px² of the screen] from which a water path is
// drawn: seen from far only the large ones are, and more as one comes near.
const finest = 52 * 52

// classes is how many widths and colours water paths are drawn in.
const classes = 12

// drawPaths draws water paths from the small to the large, wider with the root
// of what drains through them; narrow where how sure they are is to be seen beside
// them.
func (k *canvas) drawPaths(ctx context.Context, s *Scene) error {
	d := s.Drainage
	if d == nil || len(d.reaches) == 0 {
		return nil
	}
	least := finest * k.px * k.px / (k.camera.Scale * k.camera.Scale)
	look := k.look.Paths
	if s.Sure != nil && s.Show.Has(Certainty) {
		look.Thick = look.Thin
	}
	scale := newFlowScale(look, least, d.reaches[0].largest())
	var byClass [classes][][]orb.Point
	for i, r := range d.reaches {
		if i%256 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if r.largest() < least {
			break
		}
		if k.sees(r.bound, k.look.Paths.Thick) {
			k.sortReach(r, scale, &byClass)
		}
	}
	for class, lines := range byClass {
		pen := scale.pen(class)
		for _, line := range lines {
			k.stroke(line, pen, add)
		}
		k.ink(pen.Colour)
	}
	return nil
}

// rounding is how far [px] beyond a path's points its rounded line may depend on them.
const rounding = 64

// sortReach cuts a reach into pieces of one class each. Drained area grows along it,
// so that a class is one piece.
func (k *canvas) sortReach(r reach, scale flowScale, byClass *[classes][][]orb.Point) {
	apart := r.step * k.camera.Scale
	for start, last := r.from(scale.least), len(r.line)-1; start < last; {
		class := scale.class(r.area[start])
		end := last
		if class < classes-1 {
			end = min(last, max(start+1, r.from(scale.least*math.Pow(scale.most/scale.least, float64(class+1)/classes))))
		}
		for _, run := range k.runs(r.line, r.between(start, end), rounding*k.px+4*apart) {
			if apart > 3 {
				run = smooth(run, 2)
			}
			byClass[class] = append(byClass[class], run)
		}
		start = end
	}
}

// A flowScale grades water paths between the least that is drawn and the most
// that drains through any.
type flowScale struct {
	Flow
	least, most float64
}

func newFlowScale(f Flow, least, most float64) flowScale {
	return flowScale{Flow: f, least: least, most: max(most, least*1.01)}
}

func (s flowScale) class(area float64) int {
	t := math.Log(max(area, s.least)/s.least) / math.Log(s.most/s.least)
	return int(max(0, min(classes-1, t*classes)))
}

// pen returns the class's pen: its colour goes by the logarithm of the area, so
// that each step up a valley tells, its width by the root.
func (s flowScale) pen(class int) Pen {
	t := (float64(class) + 0.5) / classes
	root := math.Sqrt(s.least/s.most) * math.Pow(s.most/s.least, t/2)
	return Pen{Colour: mix(s.Small, s.Large, t), Width: s.Thin + (s.Thick-s.Thin)*root}
}

// leastHollow is the area on the screen [px²] from which a hollow is drawn.
const leastHollow = 40

// drawHollows hatches the hollows and rings them, but for those in which water
// is shown to stand.
func (k *canvas) drawHollows(ctx context.Context, s *Scene) error {
	if s.Ponding == nil {
		return nil
	}
	style := k.look.Hollow
	var shapes []hollowShape
	for i, h := range s.Ponding.shapes {
		if i%256 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		size := (h.bound.Max[0] - h.bound.Min[0]) * (h.bound.Max[1] - h.bound.Min[1]) * k.camera.Scale * k.camera.Scale
		if size >= leastHollow*k.px*k.px && k.sees(h.bound, 4) && !s.wetAt(h.deepest) {
			shapes = append(shapes, h)
		}
	}
	areas := k.ringsOf(shapes)
	for _, rings := range areas {
		k.area(rings, add)
	}
	k.wash(style.Body)
	k.washHatch(style.Hatch)
	k.clear()
	for _, rings := range areas {
		for _, ring := range rings {
			k.stroke(ring, style.Edge, add)
		}
	}
	k.ink(style.Edge.Colour)
	return nil
}

// ringsOf returns the areas of hollows as they are seen.
func (k *canvas) ringsOf(shapes []hollowShape) [][]orb.Ring {
	var areas [][]orb.Ring
	for _, h := range shapes {
		for _, polygon := range h.area {
			areas = append(areas, k.rings(polygon))
		}
	}
	return areas
}
