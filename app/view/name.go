package view

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// namers place the names of each shape of feature, in order of precedence.
var namers = []struct {
	shape plan.Shape
	name  func(k *canvas, f plan.Feature) []label
}{
	{plan.PointShape, (*canvas).namePoint},
	{plan.LineShape, (*canvas).nameLine},
	{plan.AreaShape, (*canvas).nameInside},
}

func (k *canvas) lettering(f plan.Feature) lettering {
	return lettering{size: k.look.Type.Text, weight: mediumWeight, colour: k.look.Kinds[f.Kind].Text, halo: faint(k.look.Paper, 0.86)}
}

// reserve takes the room of a point's symbol.
func (k *canvas) reserve(f plan.Feature) {
	if plan.SpecOf(f.Kind).Shape == plan.PointShape && f.Kind != plan.Tree {
		p := k.point(f.Point())
		k.taken.take(square(p[0], p[1], k.look.Kinds[f.Kind].Least))
	}
}

// keepClear takes the room of trees, roofs and lines with a width, which contour labels
// are not to be written over.
func (k *canvas) keepClear(f plan.Feature) {
	switch {
	case f.Kind == plan.Tree:
		p := k.point(f.Point())
		k.taken.take(square(p[0], p[1], 0.4*k.widthOf(f)))
	case f.Kind == plan.Roof:
		for _, ring := range f.Area() {
			k.taken.takeLine(k.line(ring), 2*occupied)
		}
	case plan.SpecOf(f.Kind).Shape == plan.LineShape:
		k.taken.takeLine(k.line(f.Line()), max(2*occupied, k.widthOf(f)))
	}
}

// namePoint writes beside the symbol: right, left, above or below.
func (k *canvas) namePoint(f plan.Feature) []label {
	if !k.sees(f.Geometry.Bound(), 0) {
		return nil
	}
	look := k.lettering(f)
	line := k.letters.set(f.Name, look)
	p, gap := k.point(f.Point()), k.look.Kinds[f.Kind].Least+4*k.px
	return k.firstFree(line, look, beside(p, gap, line.width, look.size))
}

// beside lists the places for a level line of text round a symbol.
func beside(p orb.Point, gap, width, size float64) []orb.Point {
	middle := p[1] + (ascent-descent)/2*size
	return []orb.Point{
		{p[0] + gap, middle}, {p[0] - gap - width, middle},
		{p[0] - width/2, p[1] - gap - descent*size}, {p[0] - width/2, p[1] + gap + ascent*size},
		{p[0] + gap, p[1] - gap}, {p[0] - gap - width, p[1] - gap},
		{p[0] + gap, p[1] + gap + ascent*size}, {p[0] - gap - width, p[1] + gap + ascent*size},
	}
}

func (k *canvas) firstFree(line letters, look lettering, places []orb.Point) []label {
	for _, place := range []func(orb.Bound) orb.Point{asItIs, k.inward} {
		for _, q := range places {
			b := box(line, look.size, q[0], q[1])
			by := place(b)
			b.Min, b.Max = orb.Point{b.Min[0] + by[0], b.Min[1] + by[1]}, orb.Point{b.Max[0] + by[0], b.Max[1] + by[1]}
			if k.uncut(b) && k.taken.free(b) {
				k.taken.take(b)
				return []label{k.upright(line, look, q[0]+by[0], q[1]+by[1])}
			}
		}
	}
	return nil
}

func asItIs(orb.Bound) orb.Point { return orb.Point{} }

// inward is how far a box that lies across the edge of the view, by a half of it at
// most, is moved so as to lie wholly inside.
func (k *canvas) inward(b orb.Bound) (by orb.Point) {
	for axis := range by {
		if lacks := k.view.Min[axis] - b.Min[axis]; lacks > 0 && lacks <= (b.Max[axis]-b.Min[axis])/2 {
			by[axis] = lacks
		}
		if over := b.Max[axis] - k.view.Max[axis]; over > 0 && over <= (b.Max[axis]-b.Min[axis])/2 {
			by[axis] = -over
		}
	}
	return by
}

// uncut reports whether a box does not lie across the edge of the view.
func (k *canvas) uncut(b orb.Bound) bool {
	return k.view.Min == k.view.Max || !k.view.Intersects(b) || k.view.Contains(b.Min) && k.view.Contains(b.Max)
}

// nameInside writes inside an area where the name fits, on one line or two.
func (k *canvas) nameInside(f plan.Feature) []label {
	look := k.lettering(f)
	rings := k.rings(f.Area())
	if !k.sees(f.Area().Bound(), 0) {
		return nil
	}
	for _, text := range breaks(f.Name) {
		if labels := k.inside(text, look, rings); labels != nil {
			return labels
		}
	}
	return nil
}

// An area is named beside it only when it is of a size that a reader takes in
// at a glance [px]: a speck is not worth a name, and a name beside a large area
// seems to belong to its neighbour.
const (
	namedFrom = 22
	namedTo   = 170
)

// nameBeside writes in small letters below or above an area.
func (k *canvas) nameBeside(f plan.Feature) []label {
	b := f.Area().Bound()
	x0, y0 := k.camera.ToScreen(orb.Point{b.Min[0], b.Max[1]})
	x1, y1 := k.camera.ToScreen(orb.Point{b.Max[0], b.Min[1]})
	if min(x1-x0, y1-y0) < namedFrom*k.px || max(x1-x0, y1-y0) > namedTo*k.px {
		return nil
	}
	look := k.lettering(f)
	look.size = k.look.Type.Small
	line := k.letters.set(f.Name, look)
	x := (x0 + x1 - line.width) / 2
	return k.firstFree(line, look, []orb.Point{{x, y1 + look.size*1.1}, {x, y0 - look.size*0.5}})
}

// breaks returns a name on one line, and on two where it has a space near the middle.
func breaks(name string) [][]string {
	ways := [][]string{{name}}
	best := -1
	for i, r := range name {
		if r == ' ' && (best < 0 || abs(2*i-len(name)) < abs(2*best-len(name))) {
			best = i
		}
	}
	if best > 0 {
		ways = append(ways, []string{name[:best], strings.TrimSpace(name[best:])})
	}
	return ways
}

func abs(i int) int { return max(i, -i) }

// inside sets lines of text at the widest place of an area that holds them.
func (k *canvas) inside(text []string, look lettering, rings []orb.Ring) []label {
	var lines []letters
	width := 0.0
	for _, t := range text {
		lines = append(lines, k.letters.set(t, look))
		width = max(width, lines[len(lines)-1].width)
	}
	leading := 1.2 * look.size
	height := leading*float64(len(lines)-1) + look.size
	middle, ok := k.roomiest(rings, width+4*k.px, height)
	if !ok {
		return nil
	}
	var labels []label
	for i, line := range lines {
		x := middle[0] - line.width/2
		y := middle[1] - height/2 + ascent*look.size + float64(i)*leading
		k.taken.take(box(line, look.size, x, y))
		labels = append(labels, k.upright(line, look, x, y))
	}
	return labels
}

// roomiest finds the middle of the widest level strip of some height inside
// rings, if it is wide enough and free.
func (k *canvas) roomiest(rings []orb.Ring, width, height float64) (orb.Point, bool) {
	b := rings[0].Bound()
	top, bottom := max(b.Min[1], 0), min(b.Max[1], float64(k.h))
	var best orb.Point
	widest := width
	const tries = 9
	for i := range tries {
		y := top + (bottom-top)*(float64(i)+0.5)/tries
		spans := overlap(crossings(rings, y-height/2), crossings(rings, y+height/2))
		for _, span := range overlap(spans, crossings(rings, y)) {
			from, to := max(span[0], 0), min(span[1], float64(k.w))
			mid := (from + to) / 2
			room := orb.Bound{Min: orb.Point{mid - width/2, y - height/2}, Max: orb.Point{mid + width/2, y + height/2}}
			// A place near the middle wins over one that is a little wider.
			off := math.Abs(y-(top+bottom)/2) / max(bottom-top, 1)
			if to-from >= width && (to-from)*(1-0.5*off) > widest*0.75 && k.taken.free(room) && k.uncut(room) {
				best, widest = orb.Point{mid, y}, (to-from)*(1-0.5*off)/0.75
			}
		}
	}
	return best, best != orb.Point{}
}

// crossings returns the spans of the level line y that lie inside rings.
func crossings(rings []orb.Ring, y float64) [][2]float64 {
	var at []float64
	for _, ring := range rings {
		for i := 1; i < len(ring); i++ {
			a, b := ring[i-1], ring[i]
			if (a[1] <= y) != (b[1] <= y) {
				at = append(at, a[0]+(y-a[1])/(b[1]-a[1])*(b[0]-a[0]))
			}
		}
	}
	slices.Sort(at)
	var spans [][2]float64
	for i := 1; i < len(at); i += 2 {
		spans = append(spans, [2]float64{at[i-1], at[i]})
	}
	return spans
}

// overlap returns what two sets of spans share.
func overlap(a, b [][2]float64) [][2]float64 {
	var both [][2]float64
	for _, s := range a {
		for _, t := range b {
			if from, to := max(s[0], t[0]), min(s[1], t[1]); from < to {
				both = append(both, [2]float64{from, to})
			}
		}
	}
	return both
}

// nameLine writes along the line, above it or within its width; beside its
// middle where it is too crooked.
func (k *canvas) nameLine(f plan.Feature) []label {
	look := k.lettering(f)
	look.size = (k.look.Type.Small + k.look.Type.Text) / 2
	line := k.letters.set(f.Name, look)
	width := k.widthOf(f)
	rise := max(width/2, k.look.Kinds[f.Kind].Least) + (descent+0.12)*look.size
	if width > 2*look.size {
		rise = -(ascent - descent) / 2 * look.size
	}
	tracks := k.visible(smooth(k.line(f.Line()), 2))
	for _, t := range tracks {
		if t.length() < line.width {
			break
		}
		for _, share := range []float64{0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9} {
			for _, side := range []float64{rise, -rise - (ascent-0.1)*look.size} {
				if l, ok := k.alongTrack(t, line, look, spot{share * t.length(), side}); ok {
					return []label{l}
				}
			}
		}
	}
	if len(tracks) == 0 || tracks[0].length() < line.width/2 {
		return nil
	}
	middle := tracks[0].point(tracks[0].length() / 2)
	places := beside(middle, max(width/2, k.look.Kinds[f.Kind].Least)+4*k.px, line.width, look.size)
	return k.firstFree(line, look, slices.DeleteFunc(places, func(q orb.Point) bool {
		return k.onIslet(box(line, look.size, q[0], q[1]))
	}))
}
