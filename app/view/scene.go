package view

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/caution"
	"runnel/analysis/compare"
	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/analysis/terrain"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Scene is everything that a map shows. The zero Scene is bare paper.
//
// A scene may be copied, to show other layers say; what is in it must not be
// changed once it has been handed over. Prepare must be called again when any
// field but Show, Units and Site is set.
type Scene struct {
	Site   *plan.Site
	Scheme plan.SchemeID
	// Ground is the ground as shown, with the scheme's earthworks if it has any.
	Ground grid.Ground
	// Shade is the ground in relief: 1 dark to 255 bright, 0 not known.
	Shade    grid.Grid[uint8]
	Contours []terrain.Contour
	// Interval between contours [m].
	Interval float64
	// Area is what drains through each cell [m²] and Dir the way it leaves.
	Area grid.Grid[float64]
	Dir  grid.Grid[grid.Dir]
	// Hollows are sorted by volume, biggest first.
	Hollows []hollow.Hollow
	// Wet is the depth of standing water [m]; NaN where it is dry.
	Wet      grid.Ground
	Cautions []caution.Caution
	Show     Layers
	// Units are those in which levels and depths are written.
	Units Units

	prepared *index
}

// NewScene works out from a site all that its map shows.
func NewScene(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (*Scene, error) {
	account, err := compare.Measure(ctx, s, scheme, compare.Options{})
	if err != nil {
		return nil, err
	}
	return SceneOf(ctx, s, &account)
}

// SceneOf works out what the map shows of a scheme that has been measured.
func SceneOf(ctx context.Context, s *plan.Site, account *compare.Account) (*Scene, error) {
	ground := account.Proposed
	if ground.Len() == 0 {
		ground = s.Ground
	}
	if err := ground.Check(); err != nil {
		return nil, fmt.Errorf("draw the site: %w", err)
	}
	scene := &Scene{
		Site: s, Scheme: account.Scheme, Ground: ground,
		Wet: account.Wet.Depth, Cautions: account.Cautions, Show: AllLayers,
	}
	if err := steps(ctx, scene.shape, scene.drain); err != nil {
		return nil, err
	}
	scene.Prepare()
	return scene, nil
}

// shape works out the relief and the contours.
func (s *Scene) shape(ctx context.Context) (err error) {
	if s.Shade, err = terrain.Hillshade(ctx, s.Ground, terrain.ShadeOptions{}); err != nil {
		return err
	}
	low, high, known := grid.Extent(s.Ground)
	if known == 0 {
		return nil
	}
	s.Interval = terrain.Interval(low, high)
	s.Contours, err = terrain.Contours(ctx, s.Ground, s.Interval)
	return err
}

// drain works out the water paths and the hollows.
func (s *Scene) drain(ctx context.Context) error {
	filled, err := flow.Fill(ctx, s.Ground)
	if err != nil {
		return err
	}
	if s.Dir, err = flow.Directions(ctx, s.Ground, filled); err != nil {
		return err
	}
	if s.Area, err = flow.Accumulate(ctx, s.Dir, nil); err != nil {
		return err
	}
	s.Hollows, err = hollow.Find(ctx, s.Ground, filled)
	return err
}

// IntervalText says how far apart the contours are, such as "Contours every
// 0.2 m"; it is empty where there are none. They lie at whole steps in metres,
// which in feet is a broken number.
func (s *Scene) IntervalText() string {
	if len(s.Contours) == 0 {
		return ""
	}
	if metres, sign := s.Units.length(); s.Units != Metres {
		return fmt.Sprintf("Contours every %.2f %s", s.Interval/metres, sign)
	}
	return fmt.Sprintf("Contours every %s m", levelText(s.Interval, s.Interval))
}

// Prepare works out what drawing asks for over and over, so that it is not
// worked out at every Draw.
func (s *Scene) Prepare() { s.prepared = newIndex(s) }

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
