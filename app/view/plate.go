package view

import (
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A plate is a scene with what every part of its drawing asks for, so that it is
// worked out once however many pieces the map is drawn in.
type plate struct {
	*Scene
	x *index
	// features are in drawing order; painted holds those of each painter.
	features []drawn
	painted  [][]drawn
	// parts says which islands a channel runs through.
	parts map[plan.ID]bool
	// stances says how what lies across a channel stands.
	stances map[plan.ID]stance
}

// A drawn feature knows the ground that it covers and how far beyond that its
// width reaches [m]; hash tells what is drawn of it.
type drawn struct {
	plan.Feature
	bound  orb.Bound
	beyond float64
	hash   uint64
}

func newPlate(s *Scene) *plate {
	p := &plate{Scene: s, x: s.index(), painted: make([][]drawn, len(painters)), parts: map[plan.ID]bool{}}
	var channels []plan.Feature
	features := s.features()
	p.stances = s.stances(features)
	for _, f := range features {
		d := drawn{Feature: f, bound: f.Geometry.Bound(), beyond: min(f.Width(), widest)}
		if f.Kind == plan.Island {
			d.beyond = min(bankWidth(f), widest)
		}
		var h hash
		h.feature(f)
		if at, ok := p.stances[f.ID]; ok {
			d.beyond = max(at.left, at.right)
			h.stance(at)
		}
		d.hash = uint64(h)
		p.features = append(p.features, d)
		for i, painter := range painters {
			if slices.Contains(painter.kinds, f.Kind) {
				p.painted[i] = append(p.painted[i], d)
			}
		}
		if f.Kind == plan.Channel {
			channels = append(channels, f)
		}
	}
	for _, f := range p.features {
		if f.Kind == plan.Island {
			p.parts[f.ID] = parted(f.Feature, channels)
		}
	}
	return p
}

// prepare makes a canvas ready to draw a plate.
func (k *canvas) prepare(p *plate) {
	k.dug, k.parts, k.stances = p.x.cut.deepest > 0, p.parts, p.stances
}

// seesDrawn reports whether any of a feature, its symbol or its name's room may lie
// in the picture.
func (k *canvas) seesDrawn(f drawn) bool {
	return k.sees(f.bound, farthest*k.px+f.beyond*k.camera.Scale)
}

// inView returns the features that may lie in the picture.
func (k *canvas) inView(features []drawn) []plan.Feature {
	var seen []plan.Feature
	for _, f := range features {
		if k.seesDrawn(f) {
			seen = append(seen, f.Feature)
		}
	}
	return seen
}
