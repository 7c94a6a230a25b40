package view

import (
	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// features lists what is drawn, in drawing order; what is not a sound feature
// is left out.
func (s *Scene) features() []plan.Feature {
	if s.Site == nil {
		return nil
	}
	var sound []plan.Feature
	for _, f := range s.Site.Plan.In(s.Scheme) {
		if drawable(f) {
			sound = append(sound, f)
		}
	}
	return sound
}

// drawable reports whether a feature has a known kind and the shape of that
// kind, with real coordinates.
func drawable(f plan.Feature) bool {
	if f.Kind == plan.NoKind || int(f.Kind) > len(plan.Specs()) {
		return false
	}
	ok := false
	switch g := f.Geometry.(type) {
	case orb.Point:
		ok = plan.SpecOf(f.Kind).Shape == plan.PointShape
	case orb.LineString:
		ok = plan.SpecOf(f.Kind).Shape == plan.LineShape && len(g) > 1
	case orb.Polygon:
		ok = plan.SpecOf(f.Kind).Shape == plan.AreaShape && len(g) > 0 && len(g[0]) > 2
	}
	for _, line := range plan.Lines(f.Geometry) {
		for _, p := range line {
			ok = ok && finite(p)
		}
	}
	return ok
}

// Bound returns the ground that the scene covers: its ground, or what is drawn
// where there is no ground.
func (s *Scene) Bound() orb.Bound {
	if s.Ground.Len() > 0 {
		return s.Ground.Bound()
	}
	var all orb.Collection
	for _, f := range s.features() {
		all = append(all, f.Geometry)
	}
	if len(all) == 0 {
		return orb.Bound{}
	}
	return all.Bound()
}
