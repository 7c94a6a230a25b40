package soakin

import (
	"context"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/compare"
	"runnel/analysis/fate"
	"runnel/analysis/mound"
	"runnel/analysis/pool"
	"runnel/analysis/runoff"
	"runnel/analysis/season"
	"runnel/analysis/soil"
	"runnel/geo/plan"
)

// A Setup is what of an account hangs on the drawing and the soil alone.
type Setup struct {
	Scheme plan.SchemeID
	Name   string
	// Measured is the scheme as it is drawn.
	Measured *compare.Account
	Pools    pool.Set
	// Catchments are the ground whose water comes to each pool; those of drains, which
	// carry it off, are empty.
	Catchments []fate.Catchment
	Problems   []channel.Problem

	// site is what it was made of, surface what its rain meets, shed where its water leads, and of
	// which pool each piece of the way it leads to is.
	site    *plan.Site
	surface *runoff.Surface
	shed    *fate.Watershed
	of      []int
	// dry are the pools that no water comes to.
	dry []channel.Problem
	// mound is how the water table under the pools answers, nil where that is not known;
	// everywhere is the same with the places that are told, misfit how far the fit is off.
	mound      *season.Mound
	everywhere [][][]float64
	told       []place
	misfit     float64
	aquifer    plan.Aquifer
}

// feature finds a channel or a drain that is laid out.
func (u *Setup) feature(id plan.ID) (plan.Feature, bool) {
	for _, f := range u.Measured.Network.Features() {
		if f.ID == id {
			return f, true
		}
	}
	return plan.Feature{}, false
}

// NewSetup sets up a scheme that was measured on the same site. From a setup of it before, nil
// for none, it takes over where the water leads, where only soils or weather have changed since.
func NewSetup(ctx context.Context, s *plan.Site, measured *compare.Account, before *Setup) (*Setup, error) {
	u := &Setup{Scheme: measured.Scheme, Name: measured.Name, Measured: measured, site: s}
	soils, problems := soil.NewMap(s)
	u.Problems = problems
	var err error
	if u.Pools, err = pool.Of(ctx, s, measured.Network, soils); err != nil {
		return nil, err
	}
	u.Problems = append(u.Problems, u.Pools.Problems...)
	if before.leads(s, u.Scheme) && slices.EqualFunc(before.Pools.Pools, u.Pools.Pools, samePlace) {
		u.surface, u.shed, u.of = before.surface, before.shed, before.of
	} else if err := u.follow(ctx, s); err != nil {
		return nil, err
	}
	u.gather(s, soils)
	area := make([]float64, len(u.Catchments))
	for i, c := range u.Catchments {
		for _, g := range c.Ground {
			area[i] += g.Area
		}
	}
	u.dry = u.Pools.NeverFill(area)
	u.answer(s)
	return u, nil
}

// leads reports whether water leads in a site where it led in that of the setup.
func (u *Setup) leads(s *plan.Site, scheme plan.SchemeID) bool {
	if u == nil || u.Scheme != scheme {
		return false
	}
	a, b := u.site.Setting, s.Setting
	return a.Cover == b.Cover && a.Storm == b.Storm && a.SurveyError == b.SurveyError && compare.SameShape(u.site, s, scheme)
}

// samePlace reports whether two pools lie in one place.
func samePlace(p, q pool.Pool) bool { return slices.Equal(p.Pieces, q.Pieces) }

// follow finds where the water of the ground leads.
func (u *Setup) follow(ctx context.Context, s *plan.Site) error {
	ground := u.Measured.Proposed
	if ground.Len() == 0 {
		ground = s.Ground
	}
	var err error
	if u.surface, err = runoff.Of(ctx, s, ground); err != nil {
		return err
	}
	var courses []fate.Course
	courses, u.of = u.courses()
	in := fate.Input{Site: s, Scheme: u.Scheme, Surface: u.surface, Wet: u.Measured.Wet.Depth, Least: fate.LeastDepth(s.Setting)}
	u.shed, err = fate.NewWatershed(ctx, in, courses)
	return err
}

// gather finds the ground whose water comes to each pool, by its soils.
func (u *Setup) gather(s *plan.Site, soils *soil.Map) {
	u.Catchments = make([]fate.Catchment, len(u.Pools.Pools))
	for i, c := range u.shed.Catchments(s, func(p orb.Point) soil.Group { return soils.At(p, 0).Group }) {
		if p := u.of[i]; !u.Pools.Pools[p].Drain {
			u.Catchments[p] = joined(u.Catchments[p], c)
		}
	}
}

// courses are the middles of the pools' pieces, and which pool each is of.
func (u *Setup) courses() (courses []fate.Course, of []int) {
	for i, p := range u.Pools.Pools {
		for _, piece := range p.Pieces {
			a := orb.Point{piece.At[0] - piece.Along[0]*piece.Half, piece.At[1] - piece.Along[1]*piece.Half}
			b := orb.Point{piece.At[0] + piece.Along[0]*piece.Half, piece.At[1] + piece.Along[1]*piece.Half}
			courses, of = append(courses, fate.Course{Feature: p.Lines[0], Line: orb.LineString{a, b}}), append(of, i)
		}
	}
	return courses, of
}

// joined puts two catchments of one pool together; the longer way is the pool's.
func joined(a, b fate.Catchment) fate.Catchment {
	a.Ground = append(a.Ground, b.Ground...)
	a.Street, a.Water = a.Street+b.Street, a.Water+b.Water
	if b.Length > a.Length {
		a.Length, a.Fall = b.Length, b.Fall
	}
	return a
}

func rects(pieces []pool.Piece) []mound.Rect {
	list := make([]mound.Rect, len(pieces))
	for i, p := range pieces {
		list[i] = mound.Rect{At: p.At, Along: p.Along, HalfLength: p.Half, HalfWidth: p.Width}
	}
	return list
}
