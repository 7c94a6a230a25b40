package soakin

import (
	"context"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"golang.org/x/sync/errgroup"

	"runnel/analysis/hydrograph"
	"runnel/analysis/pool"
	"runnel/analysis/route"
	"runnel/geo"
	"runnel/geo/plan"
)

// A Storm is how the design storm goes through a scheme.
type Storm struct {
	// Rain [mm] falls in Hours [h] as Shape has it.
	Rain, Hours float64
	Shape       string
	// Inflows are what comes to each pool of a channel, Hyetograph the rain of each step [mm].
	Inflows    []Inflow
	Hyetograph []float64
	// Likely is the storm through the pools as is likely; Slow on wet ground over a bed of the low conductivity, Fast on
	// dry ground over one of the high.
	Likely, Slow, Fast route.Result
	// Empty is the range of hours until each pool stands empty, +Inf where it does not within Longest.
	Empty []geo.Range
	// Overflows are the ways of the water that leaves over brims and spillways.
	Overflows []Overflow
}

// Longest is how long the storm's water is followed [h].
const Longest = 240

// An Inflow is what the storm brings to one pool.
type Inflow struct {
	Pool  int
	Title string
	// Area is the contributing ground, Hard what of it is roof or paving, Street what is street [m²].
	Area, Hard, Street float64
	// CurveNumber is the weighted mean, Concentration the time of concentration [h], Volume what runs off [m³].
	CurveNumber, Concentration, Volume float64
	// Peak is that of the unit hydrograph's flow, Rational that of the rational method [m³/s].
	Peak, Rational float64
}

// An Overflow is the way of water that leaves a pool.
type Overflow struct {
	Pool   int
	Title  string
	Outlet pool.Outlet
	// Peak [m³/s] and Volume [m³] in the storm as is likely, Most the volume on wet ground over a slow bed.
	Peak, Volume, Most float64
	Path               orb.LineString
	// Building is the nearest to the path, Away how far from it [m]; +Inf where there is none.
	Building plan.Feature
	Away     float64
}

// rain leads the design storm through the pools.
func (a *Account) rain(ctx context.Context, s *plan.Site) error {
	set := s.Setting
	a.Storm = Storm{Rain: set.Storm, Hours: set.StormHours, Shape: set.Distribution}
	if a.model == nil {
		a.withhold("storm", "The design storm is not told, for there is no water to lead it through.")
		return nil
	}
	shape, err := hydrograph.ShapeNamed(set.Distribution, set.StormTable)
	if err != nil {
		a.withhold("storm", "%s", err)
		return nil
	}
	if !(set.Storm > 0 && set.StormHours > 0) {
		a.withhold("storm", "The design storm has %g mm in %g h, so none is told; set its rain and how long it falls.", set.Storm, set.StormHours)
		return nil
	}
	storm := hydrograph.Storm{Depth: set.Storm, Hours: set.StormHours, Shape: shape}
	if told := shape.Told(set.StormHours); told != "" {
		a.Notes = append(a.Notes, told)
	}
	a.Storm.Hyetograph = storm.Steps(stormStep)
	for i, p := range a.Setup.Pools.Pools {
		if !p.Drain && len(a.Setup.Catchments[i].Ground) > 0 {
			a.Storm.Inflows = append(a.Storm.Inflows, a.inflow(i, storm))
		}
	}
	if err := a.routeAll(ctx, set.Clogging.Remains, storm); err != nil {
		return err
	}
	return a.follow(ctx, s)
}

// stormStep is the time between the storm's figures [s].
const (
	stormStep     = 60
	secondsAnHour = 3600
)

// inflow works out what the storm brings to one pool.
func (a *Account) inflow(i int, storm hydrograph.Storm) Inflow {
	c := a.Setup.Catchments[i]
	in := Inflow{Pool: i, Title: a.Setup.Pools.Pools[i].Title, Street: c.Street}
	for _, g := range c.Ground {
		in.Area += g.Area
		if g.Hard {
			in.Hard += g.Area
		}
	}
	in.CurveNumber = hydrograph.Composite(c.Ground)
	in.Concentration = hydrograph.Concentration(c.Length, c.Fall)
	for _, q := range hydrograph.Of(c.Ground, in.Concentration, storm, stormStep) {
		in.Volume += q * stormStep
		in.Peak = max(in.Peak, q)
	}
	in.Rational = hydrograph.RationalOf(c.Ground, in.Concentration, storm)
	return in
}

// routeAll leads the storm through as is likely, and at both ends: wet ground that sheds the
// most over a bed that takes in the least, and dry ground over the fastest bed.
func (a *Account) routeAll(ctx context.Context, clogged float64, storm hydrograph.Storm) error {
	group, ctx := errgroup.WithContext(ctx)
	for _, c := range []struct {
		rate     func(geo.Range) float64
		moisture func(cn float64) float64
		to       *route.Result
	}{
		{func(r geo.Range) float64 { return r.Low }, hydrograph.Wet, &a.Storm.Slow},
		{func(r geo.Range) float64 { return r.Likely }, func(cn float64) float64 { return cn }, &a.Storm.Likely},
		{func(r geo.Range) float64 { return r.High }, hydrograph.Dry, &a.Storm.Fast},
	} {
		group.Go(func() (err error) {
			*c.to, err = route.Run(ctx, a.through(c.rate, c.moisture, clogged, storm))
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return err
	}
	for i := range a.Setup.Pools.Pools {
		a.Storm.Empty = append(a.Storm.Empty, geo.Range{Low: a.Storm.Fast.Pools[i].Empty, Likely: a.Storm.Likely.Pools[i].Empty, High: a.Storm.Slow.Pools[i].Empty})
	}
	return nil
}

// through is the storm as it comes to the pools with one rate of each soil and one moisture of the ground.
func (a *Account) through(rate func(geo.Range) float64, moisture func(cn float64) float64, clogged float64, storm hydrograph.Storm) route.Input {
	in := route.Input{Pools: a.Setup.Pools.Pools, Step: stormStep, Longest: Longest, Clogged: clogged, Runs: storm.Hours, Rain: a.Storm.Hyetograph}
	for i, p := range in.Pools {
		start := p.Running
		if p.Drain {
			start = p.Top().Level
		} else if !(p.RunDays.High > 0) {
			start = math.NaN()
		}
		in.Start, in.Conductivity = append(in.Start, start), append(in.Conductivity, rate(p.Soil.Ksat))
		c := a.Setup.Catchments[i]
		if p.Drain || len(c.Ground) == 0 {
			in.Inflow = append(in.Inflow, nil)
			continue
		}
		flow := hydrograph.MixOf(c.Ground).With(moisture).Flow(hydrograph.Concentration(c.Length, c.Fall), storm, stormStep)
		in.Inflow = append(in.Inflow, flow)
		in.Runs = max(in.Runs, float64(len(flow))*stormStep/secondsAnHour)
	}
	return in
}

// drip is a volume that is not worth following [m³].
const drip = 0.001

// follow finds the ways of the water that leaves over brims and spillways.
func (a *Account) follow(ctx context.Context, s *plan.Site) error {
	var down *downhill
	for i, p := range a.Storm.Slow.Pools {
		for k, most := range p.Outlets {
			out := a.Storm.Likely.Pools[i].Outlets[k]
			if !toGround(out) || most.Volume < drip || a.Setup.Pools.Pools[i].Drain {
				continue
			}
			if down == nil {
				var err error
				if down, err = newDownhill(ctx, a.Setup.surface); err != nil {
					return err
				}
			}
			o := Overflow{Pool: i, Title: p.Title, Outlet: out.Outlet, Peak: out.Peak, Volume: out.Volume, Most: most.Volume, Path: down.path(out.At), Away: math.Inf(1)}
			o.nearest(s, a.Scheme)
			a.Storm.Overflows = append(a.Storm.Overflows, o)
		}
	}
	return nil
}

// nearest finds the building nearest to the way.
func (o *Overflow) nearest(s *plan.Site, scheme plan.SchemeID) {
	for _, f := range s.Plan.Of(plan.Roof, scheme) {
		if f.Geometry == nil {
			continue
		}
		for _, p := range o.Path {
			if d := plan.Distance(f.Geometry, p); d < o.Away {
				o.Building, o.Away = f, d
			}
		}
	}
}

// Length is that of the way [m].
func (o Overflow) Length() float64 { return planar.Length(o.Path) }
