package view

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/bits"
	"weak"

	"github.com/paulmach/orb"

	"runnel/analysis/terrain"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// An imprint tells apart what scenes look like on the map, all but what is laid
// over it. Tiles are known by it, so that whatever a layer draws from belongs in
// it: large things that are never changed once made by which they are, small ones
// by what they hold. It does not keep them from being freed.
type imprint struct {
	show             Layers
	look             uint64
	features, rest   uint64
	interval         float64
	ground, surveyed weak.Pointer[float32]
	wet, days        weak.Pointer[float32]
	shade            weak.Pointer[uint8]
	contours         weak.Pointer[terrain.Contour]
	drainage         weak.Pointer[Drainage]
	ponding          weak.Pointer[Ponding]
	storm            weak.Pointer[Storm]
	sure             weak.Pointer[Sureness]
	heights, slopes  weak.Pointer[Tint]
	doubt            weak.Pointer[Doubt]
	arrivals         weak.Pointer[Arrivals]
	patches          weak.Pointer[survey.Patch]
}

// over are the layers that are laid over the map and are no part of its tiles.
const over = Labels | Cautions

func (p *plate) imprint(look Palette) imprint {
	s := p.Scene
	m := imprint{
		show: s.Show.Without(over), look: lookHash(look), interval: s.Interval,
		ground: first(s.Ground.V), wet: first(s.Wet.V), days: first(s.Days.V), shade: first(s.Shade.V), contours: first(s.Contours),
		drainage: weak.Make(s.Drainage), ponding: weak.Make(s.Ponding), storm: weak.Make(s.Storm), sure: weak.Make(s.Sure),
		heights: weak.Make(s.Heights), slopes: weak.Make(s.Slopes), doubt: weak.Make(s.Doubt), arrivals: weak.Make(s.Arrivals),
		patches: first(s.patches()),
	}
	var h hash
	for _, f := range p.features {
		h.word(f.hash)
	}
	m.features, h = uint64(h), 0
	if s.Site != nil {
		m.surveyed = first(s.Site.Ground.V)
	}
	for _, u := range s.Underlays {
		h.text(fmt.Sprint(u.ID, u.Opacity, u.Hidden, u.Frame))
	}
	if s.Ghost != nil {
		for _, f := range s.Ghost.features {
			h.feature(f)
		}
	}
	for _, t := range s.Trails {
		h.word(uint64(t.Number))
		for _, line := range t.Lines {
			h.points(line)
		}
	}
	m.rest = uint64(h)
	return m
}

// words tells apart what is laid over the map of scenes with one imprint.
func (p *plate) words() uint64 {
	h := hash(p.Show)
	h.word(uint64(p.Units))
	for _, f := range p.features {
		h.text(f.Name)
	}
	for _, c := range p.Cautions {
		h.points([]orb.Point{c.At})
	}
	h.points(p.Faults)
	return uint64(h)
}

func first[T any](of []T) weak.Pointer[T] {
	if len(of) == 0 {
		return weak.Pointer[T]{}
	}
	return weak.Make(&of[0])
}

func lookHash(p Palette) uint64 {
	h := fnv.New64a()
	fmt.Fprint(h, p)
	return h.Sum64()
}

// A hash takes words one after another.
type hash uint64

func (h *hash) word(v uint64) {
	*h = hash(bits.RotateLeft64(uint64(*h)^v, 29) * 0x9E3779B97F4A7C15)
}

func (h *hash) text(t string) {
	f := fnv.New64a()
	f.Write([]byte(t))
	h.word(f.Sum64())
}

func (h *hash) points(line []orb.Point) {
	h.word(uint64(len(line)))
	for _, p := range line {
		h.word(math.Float64bits(p[0]))
		h.word(math.Float64bits(p[1]))
	}
}

// feature takes all of a feature but its name, which is laid over the map.
func (h *hash) feature(f plan.Feature) {
	h.word(uint64(f.ID))
	h.word(uint64(f.Kind))
	switch g := f.Geometry.(type) {
	case orb.Point:
		h.points([]orb.Point{g})
	default:
		for _, line := range plan.Lines(g) {
			h.points(line)
		}
	}
	var fields uint64 // in no order
	for name, v := range f.Fields {
		var one hash
		one.text(name)
		one.word(math.Float64bits(v.Number))
		one.text(v.Text)
		fields += uint64(one)
	}
	h.word(fields)
}

// stance takes how a thing lies across a channel.
func (h *hash) stance(s stance) {
	h.points([]orb.Point{s.on, {s.ux, s.uy}, {s.left, s.right}})
}

// A patch is ground that may be drawn otherwise, and how far beyond it that may
// reach [m].
type patch struct {
	bound  orb.Bound
	beyond float64
}

// patches returns where the map of another scene differs, if that is known: where
// features have come, gone or changed, and nothing else.
func (e *edition) patches(other *edition) (where []patch, known bool) {
	mark := e.mark
	mark.features = other.mark.features
	if mark != other.mark {
		return nil, false
	}
	type place struct {
		at    int
		hash  uint64
		parts bool
	}
	were := make(map[plan.ID]place, len(e.plate.features))
	for i, f := range e.plate.features {
		were[f.ID] = place{i, f.hash, e.plate.parts[f.ID]}
	}
	last := -1
	for _, f := range other.plate.features {
		was, ok := were[f.ID]
		if ok && was.hash == f.hash && was.parts == other.plate.parts[f.ID] && was.at > last {
			last = was.at
			delete(were, f.ID)
			continue
		}
		where = append(where, patch{f.bound, f.beyond})
	}
	for _, was := range were {
		f := e.plate.features[was.at]
		where = append(where, patch{f.bound, f.beyond})
	}
	return where, true
}

// touch reports whether any of some patches reaches into a tile.
func touch(where []patch, key tileKey, px float64) bool {
	k := canvas{stencil: &stencil{w: tileSide, h: tileSide}, camera: cameraAt(key.level, key.bounds().Min)}
	for _, p := range where {
		if k.sees(p.bound, farthest*px+p.beyond*k.camera.Scale) {
			return true
		}
	}
	return false
}
