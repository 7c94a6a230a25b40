package view

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"
	"golang.org/x/sync/errgroup"

	"runnel/analysis/caution"
	"runnel/analysis/compare"
	"runnel/analysis/runoff"
	"runnel/analysis/terrain"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Scene is everything that a map shows. The zero Scene is bare paper.
//
// A scene may be copied, to show other layers say; what is in it must not be
// changed once it has been handed over. Prepare must be called again when any
// field up to Wet but Site is set.
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
	// Stale is set while the contours are those of a ground before; names stay where
	// they are meanwhile.
	Stale bool
	// Drainage is where the water of the ground goes and Ponding where it ponds; nil
	// where that is not known.
	Drainage *Drainage
	Ponding  *Ponding
	// Wet is the depth of the water that stands in the scheme [m]; NaN where it is
	// dry.
	Wet grid.Ground
	// Days is how many days a year each cell is under water, NaN where it stays dry; none
	// where that is not known. WithDays sets it.
	Days grid.Ground
	// Storm is what a storm leaves standing, Trails where the water of roofs and
	// paving runs, Sure how sure it is that water runs there; each may be none.
	Storm  *Storm
	Trails []Trail
	Sure   *Sureness
	// Heights and Slopes colour the ground; nil where they have not been asked for.
	Heights, Slopes *Tint
	// Doubt is how well the surveyed ground is known; nil where it has not been asked for.
	Doubt    *Doubt
	Cautions []caution.Caution
	// Faults are the places at which what is drawn cannot be measured as it is.
	Faults []orb.Point
	Show   Layers
	// Underlays are the images under the map, the lowest first.
	Underlays []plan.Underlay
	// Ghost is another scheme that shows through; nil for none.
	Ghost *Ghost
	// Arrivals are shapes that may come in; nil for none.
	Arrivals *Arrivals
	// Units are those in which levels and depths are written; the contours lie at
	// round levels in those that they were made in.
	Units Units

	// banks is how far off a channel's line the tops of its banks are, left and right, at
	// what lies across it [m]; what is not in it is drawn by the channel's own section.
	banks map[plan.ID][2]float64

	prepared *index
	// before is the scene that the relief is taken over from, but for some rows; nil
	// for none.
	before   *Scene
	reshaded band
	// drained is what the rain meets on the scene before, where that differs in the
	// heights of the ground alone; nil where not.
	drained *runoff.Surface
	// exaggeration of heights in the relief; nought where it is not known.
	exaggeration float64
}

// NewScene works out from a site all that its map shows.
func NewScene(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (*Scene, error) {
	account, err := compare.Measure(ctx, s, scheme, compare.Options{})
	if err != nil {
		return nil, err
	}
	return Maker{}.Scene(ctx, s, &account)
}

// FirstLook is the bare ground of a site with what is drawn on it: what can be
// shown at once while the rest is worked out.
func FirstLook(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (*Scene, error) {
	scene := &Scene{Site: s, Scheme: scheme, Ground: s.Ground, Underlays: s.Underlays, Show: AllLayers}
	if err := scene.relieve(ctx); err != nil {
		return nil, err
	}
	scene.Prepare()
	return scene, nil
}

// A Maker makes scenes. The zero Maker makes them whole.
type Maker struct {
	// Before is a scene from which what has stayed the same is taken.
	Before *Scene
	// Show is what is wanted; 0 stands for all. What only other layers show may be
	// left out.
	Show Layers
	// Units are those in which the contours lie at round levels.
	Units Units
	// Routes may remember how the ground before was routed.
	Routes *Routes
	// Hasty leaves the contours and the colours of the ground as they were before: they
	// take as long as the rest. Then the scene is Stale.
	Hasty bool
}

// Scene works out what the map shows of a scheme that has been measured.
func (m Maker) Scene(ctx context.Context, s *plan.Site, account *compare.Account) (*Scene, error) {
	ground := account.Proposed
	if ground.Len() == 0 {
		ground = s.Ground
	}
	if err := ground.Check(); err != nil {
		return nil, fmt.Errorf("draw the site: %w", err)
	}
	scene := &Scene{
		Site: s, Scheme: account.Scheme, Ground: ground,
		Wet: account.Wet.Depth, Cautions: account.Cautions, Show: AllLayers, Units: m.Units,
		Underlays: s.Underlays,
	}
	for _, p := range account.Problems {
		if p.At != (orb.Point{}) {
			scene.Faults = append(scene.Faults, p.At)
		}
	}
	scene.banks = banksAcross(s, account)
	scene.inherit(m.Before)
	if m.Hasty && scene.before != nil && m.Before.Ground.Frame == ground.Frame {
		scene.Contours, scene.Interval, scene.Stale = m.Before.Contours, m.Before.Interval, len(m.Before.Contours) > 0
		scene.Heights, scene.Slopes = m.Before.Heights, m.Before.Slopes
	}
	water := []func(context.Context) error{func(ctx context.Context) error { return scene.drain(ctx, m.Routes) }}
	if m.Show == 0 || m.Show.HasAny(pondLayers) {
		water = append(water, scene.fill)
	}
	shape := func(ctx context.Context) error { return steps(ctx, scene.shape, scene.tint(m.Show)) }
	group, each := errgroup.WithContext(ctx)
	group.Go(func() error { return shape(each) })
	group.Go(func() error { return steps(each, water...) })
	if err := group.Wait(); err != nil {
		return nil, err
	}
	scene.prepared = newIndex(scene, m.Before)
	scene.before, scene.drained = nil, nil // which would hold on to all the scenes before it
	return scene, ctx.Err()
}

// Settled returns a stale scene with the contours and colours of its own ground.
func (s *Scene) Settled(ctx context.Context) (*Scene, error) {
	other := *s
	other.Contours, other.Heights, other.Slopes, other.Stale = nil, nil, nil, false
	if err := steps(ctx, other.contour, other.tint(s.tints())); err != nil {
		return nil, err
	}
	x := *s.index()
	x.contours = nil
	x.indexContours(&other)
	other.prepared = &x
	return &other, nil
}

// pondLayers are those that need to know where water ponds.
const pondLayers = Hollows | Stormwater | Fates

// Lacks reports whether a scene was made without what some layers show.
func (s *Scene) Lacks(show Layers) bool {
	return s.Ponding == nil && show.HasAny(pondLayers) ||
		!s.tints().Has(show&Tints)
}

// inherit takes from a scene before what has stayed the same.
func (s *Scene) inherit(before *Scene) {
	if before == nil {
		return
	}
	if before.Doubt != nil && before.Doubt.of.is(doubtedOf(s.Site)) {
		s.Doubt = before.Doubt
	}
	if !sameHeights(before.Ground, s.Ground) {
		s.before = before
		if before.Drainage != nil && before.Ground.Frame == s.Ground.Frame && sameWater(before.Site, s.Site) {
			s.drained = before.Drainage.Surface
		}
		return
	}
	s.Shade, s.exaggeration = before.Shade, before.exaggeration
	if !before.Stale {
		s.Heights, s.Slopes = before.Heights, before.Slopes
	}
	if !before.Stale && before.Units == s.Units {
		s.Contours, s.Interval = before.Contours, before.Interval
	}
	if before.Drainage == nil || !sameWater(before.Site, s.Site) {
		return
	}
	s.Drainage = before.Drainage
	if before.Ponding != nil && before.Ponding.Least == leastOf(s.Site.Setting, s.Ground.Frame) {
		s.Ponding = before.Ponding
	}
}

// sameRelief reports whether two scenes have one relief.
func (s *Scene) sameRelief(t *Scene) bool {
	return len(s.Shade.V) > 0 && len(t.Shade.V) > 0 && &s.Shade.V[0] == &t.Shade.V[0]
}

// shape works out the relief and the contours, where they are not known.
func (s *Scene) shape(ctx context.Context) error {
	return steps(ctx, s.relieve, s.contour)
}

func (s *Scene) contour(ctx context.Context) (err error) {
	low, high, known := grid.Extent(s.Ground)
	if known == 0 || len(s.Contours) > 0 {
		return nil
	}
	unit, _ := s.Units.length()
	s.Interval = terrain.Interval(low/unit, high/unit) * unit
	s.Contours, err = terrain.Contours(ctx, s.Ground, s.Interval)
	return err
}

// drain works out where the water goes, where that is not known.
func (s *Scene) drain(ctx context.Context, r *Routes) (err error) {
	if s.Drainage == nil {
		s.Drainage, err = drainageBy(ctx, r, s, s.drained)
	}
	return err
}

// fill works out where it ponds, where that is not known.
func (s *Scene) fill(ctx context.Context) (err error) {
	if s.Ponding == nil {
		s.Ponding, err = NewPonding(ctx, s.Drainage, s.Site.Setting)
	}
	return err
}

// IntervalText says how far apart the contours are, such as "Contours every
// 0.2 m"; it is empty where there are none.
func (s *Scene) IntervalText() string {
	if len(s.Contours) == 0 {
		return ""
	}
	return fmt.Sprintf(everyContour, s.intervalFigure())
}

// everyContour is what the legend calls contours.
const everyContour = "Contours every %s"

func (s *Scene) intervalFigure() string {
	metres, sign := s.Units.length()
	return levelText(s.Interval/metres, s.Interval/metres) + " " + sign
}

// Prepare works out what drawing asks for over and over, so that it is not
// worked out at every Draw.
func (s *Scene) Prepare() { s.prepared = newIndex(s, nil) }
