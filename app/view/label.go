package view

import (
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// A label is text whose every letter has its place.
type label struct {
	line  letters
	look  lettering
	poses []pose
	// gap is the stretch of contour that the label interrupts; empty for others.
	gap []orb.Point
	// name is the feature that it names, node the hollow whose depth it tells; 0 for
	// others.
	name plan.ID
	node int32
}

func (k *canvas) drawLabels(labels []label) {
	for _, l := range labels {
		i := -1
		k.writeGlyphs(l.line, l.look, func(g glyph) pose {
			i = (i + 1) % len(l.poses)
			return l.poses[i]
		})
	}
}

// upright returns a label in one straight level line from (x, y) on its baseline.
func (k *canvas) upright(line letters, look lettering, x, y float64) label {
	l := label{line: line, look: look}
	for _, g := range line.glyphs {
		l.poses = append(l.poses, upright(x+g.x, y))
	}
	return l
}

// box returns the room that a level line of text needs.
func box(line letters, size, x, y float64) orb.Bound {
	return orb.Bound{Min: orb.Point{x - 1, y - ascent*size - 1}, Max: orb.Point{x + line.width + 1, y + descent*size + 1}}
}

// An arranged map knows where all stands that is laid over it.
type arranged struct {
	labels []label
	signs  []sign
	badges []orb.Point
	// window is the picture that it was arranged for.
	window orb.Bound
}

// arrange finds room for every label, the most wanted first. What finds no
// room is left out. What stood in the arrangement before stays where it was.
func (k *canvas) arrange(p *plate) arranged {
	stand := arranged{labels: slices.Clone(k.before.labels), window: orb.Bound{Max: orb.Point{float64(k.w), float64(k.h)}}}
	k.named, k.deep, k.levels = map[plan.ID]bool{}, map[int32]bool{}, nil
	features := k.inView(p.features)
	if p.Show.Has(Drawn) {
		for _, f := range features {
			k.reserve(f)
		}
	}
	if p.Show.Has(Cautions) {
		stand.signs = k.signs(p.Scene)
		for _, g := range stand.signs {
			k.taken.take(square(g.at[0], g.at[1], k.look.Caution.Least+2*k.px))
		}
	}
	if p.Show.Has(Fates) {
		stand.badges = k.badges(p.Trails)
		for _, at := range stand.badges {
			k.taken.take(square(at[0], at[1], badgeSize*k.px))
		}
	}
	if !p.Show.Has(Labels) {
		stand.labels = nil
		return stand
	}
	for _, l := range stand.labels {
		k.keep(l)
	}
	stand.labels = append(stand.labels, k.newLabels(p, features)...)
	return stand
}

// newLabels arranges names first, then depths, then levels.
func (k *canvas) newLabels(p *plate, features []plan.Feature) []label {
	var labels []label
	if p.Show.Has(Drawn) {
		named, unnamed := k.nameAll(features)
		labels = named
		for _, f := range features {
			k.keepClear(f)
		}
		for _, f := range unnamed {
			labels = append(labels, titled(f, k.nameBeside(f))...)
		}
	}
	if p.Show.Has(Hollows) {
		labels = append(labels, k.hollowLabels(p.Scene)...)
	}
	if p.Show.Has(Contours) {
		labels = append(labels, k.contourLabels(p)...)
	}
	return labels
}

// keep takes the room of a label that stands already.
func (k *canvas) keep(l label) {
	for i, p := range l.poses {
		mid := p.place(l.line.glyphs[i].advance/2, -(ascent-descent)/2*l.look.size)
		k.taken.take(square(mid[0], mid[1], 0.5*l.look.size))
	}
	switch {
	case l.name != 0:
		k.named[l.name] = true
	case l.gap != nil:
		k.levels = append(k.levels, l.gap[len(l.gap)/2])
	default:
		k.deep[l.node] = true
	}
}

// titled gives labels the feature that they name.
func titled(f plan.Feature, labels []label) []label {
	for i := range labels {
		labels[i].name = f.ID
	}
	return labels
}

// nameAll names features, points first, then lines, then areas; areas whose
// names do not fit inside them are returned.
func (k *canvas) nameAll(features []plan.Feature) (labels []label, unnamed []plan.Feature) {
	for _, f := range features {
		if f.Kind == plan.Island && k.sees(f.Geometry.Bound(), 0) {
			k.islets = append(k.islets, k.rings(f.Area())[0])
		}
	}
	for _, place := range namers {
		for _, f := range features {
			if k.named[f.ID] || f.Name == "" || plan.SpecOf(f.Kind).Shape != place.shape || f.Kind == plan.Boundary || f.Kind == plan.Downpipe {
				continue
			}
			named := titled(f, place.name(k, f))
			if labels = append(labels, named...); len(named) == 0 && place.shape == plan.AreaShape {
				unnamed = append(unnamed, f)
			}
		}
	}
	return labels, unnamed
}

// A spot is where a word is set along a track: its middle, and how far the
// baseline is above the track [px].
type spot struct{ at, rise float64 }

// alongTrack sets a word along a track and takes its room, if there is room.
func (k *canvas) alongTrack(t track, line letters, look lettering, at spot) (label, bool) {
	poses, ok := t.bend(line, at.at, at.rise)
	if !ok || len(poses) == 0 {
		return label{}, false
	}
	boxes := make([]orb.Bound, len(poses))
	var whole orb.Bound
	for i, p := range poses {
		mid := p.place(line.glyphs[i].advance/2, -(ascent-descent)/2*look.size)
		boxes[i] = square(mid[0], mid[1], 0.5*look.size)
		room := square(mid[0], mid[1], 0.8*look.size) // whichever way the letter is turned
		if !k.taken.free(boxes[i]) || k.onIslet(boxes[i]) || !k.taken.within(room) {
			return label{}, false
		}
		if whole = whole.Union(room); i == 0 {
			whole = room
		}
	}
	if !k.uncut(whole) {
		return label{}, false
	}
	for _, b := range boxes {
		k.taken.take(b)
	}
	return label{line: line, look: look, poses: poses}, true
}

// onIslet reports whether a box touches an island. What is written along a line
// is not to lie across one: it would be read as the island's.
func (k *canvas) onIslet(b orb.Bound) bool {
	across := b.Max[0] - b.Min[0]
	parts := math.Ceil(across / (b.Max[1] - b.Min[1]))
	for _, ring := range k.islets {
		if !ring.Bound().Intersects(b) {
			continue
		}
		for i := range int(parts) + 1 {
			x := b.Min[0] + across*float64(i)/parts
			for _, y := range []float64{b.Min[1], b.Center()[1], b.Max[1]} {
				if planar.RingContains(ring, orb.Point{x, y}) {
					return true
				}
			}
		}
		if slices.ContainsFunc(ring, b.Contains) {
			return true
		}
	}
	return false
}

// visible returns the parts of lines in the picture, longest first.
func (k *canvas) visible(lines ...[]orb.Point) []track {
	var tracks []track
	picture := orb.Bound{Max: orb.Point{float64(k.w), float64(k.h)}}
	for _, line := range lines {
		for _, part := range clip.LineString(picture, line) {
			tracks = append(tracks, newTrack(part))
		}
	}
	slices.SortStableFunc(tracks, func(a, b track) int {
		switch {
		case a.length() > b.length():
			return -1
		case a.length() < b.length():
			return 1
		}
		return 0
	})
	return tracks
}

// hollowLabels write how deep the larger hollows are, or how deep a storm's water
// stands in them.
func (k *canvas) hollowLabels(s *Scene) []label {
	var labels []label
	if s.Ponding == nil {
		return nil
	}
	for _, h := range s.Ponding.Hollows {
		across := math.Sqrt(h.Area) * k.camera.Scale
		p := k.point(h.Deepest)
		if across < 40*k.px || k.deep[h.Node] || !k.taken.within(square(p[0], p[1], 0)) || s.wetAt(h.Deepest) {
			continue
		}
		depth, look := h.Depth, lettering{size: k.look.Type.Small, colour: k.look.Hollow.Text, halo: faint(k.look.Paper, 0.86)}
		if stands := s.Storm.At(h.Deepest); stands > 0 && s.Show.Has(Stormwater) {
			depth, look.colour = stands, k.look.Ink
		}
		line := k.letters.set(k.depthText(depth, s.Units), look)
		written := k.firstFree(line, look, []orb.Point{
			{p[0] - line.width/2, p[1] + look.size/3},
			{p[0] - line.width/2, p[1] + look.size*1.6}, {p[0] - line.width/2, p[1] - look.size}})
		for i := range written {
			written[i].node = h.Node
		}
		labels = append(labels, written...)
	}
	return labels
}

// wetAt reports whether water stands at a ground point.
func (s *Scene) wetAt(p orb.Point) bool {
	x, y, ok := s.Wet.Cell(p)
	return ok && s.Show.Has(Standing) && s.Wet.At(x, y) > 0
}

// depthText writes a depth [m] to two decimals, as tables of hollows have it.
func (k *canvas) depthText(depth float64, u Units) string {
	metres, sign := u.length()
	return k.trf("%s deep", k.look.Tongue.write(strconv.FormatFloat(depth/metres, 'f', 2, 64))+" "+sign)
}
