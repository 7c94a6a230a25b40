package ui

import (
	"context"
	"math"
	"slices"
	"sync/atomic"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/analysis/compare"
	"runnel/analysis/earthwork"
	"runnel/app/report"
	"runnel/geo/plan"
)

// A worked is something that is worked out of the figures for a page.
type worked interface {
	follow()
	current() bool
	stop()
	again()
	stopped() bool
}

// working reports whether what the part shows is overtaken and newer figures come, and
// given whether someone gave them up.
func (p *figurePage) working() (working, given bool) {
	if p.is.bare() {
		return false, false
	}
	for _, of := range p.now().works() {
		given = given || of.stopped()
		working = working || !of.current() && !of.stopped()
	}
	return working, given
}

func (p *figurePage) stopWork() {
	for _, of := range p.now().works() {
		if !of.current() {
			of.stop()
		}
	}
	p.refresh()
}

func (p *figurePage) workAgain() {
	for _, of := range p.now().works() {
		of.again()
	}
	p.refresh()
}

// tableLevels is at how many round levels the water is measured for the table, at most.
const tableLevels = 30

// A staged is the stage table of a scheme.
type staged = compare.Stages

// findStages makes the table at levels that are round in the units that are shown.
func (p *channelPage) findStages(ctx context.Context, f figures) (staged, error) {
	return compare.StagesRound(ctx, f.site, f.of, units(p.levelsIn.Load()).metres(), tableLevels)
}

// stationsApart is how far apart the stations of the table are [m]; earthwork.EndAreas
// lists its sections there too.
const stationsApart = 1.0

// A profiled is what the design is at one station: levels [m], NaN where not known.
type profiled struct {
	id                      plan.ID
	title                   string
	chainage                float64
	at                      orb.Point
	bed, water, left, right float64
}

func findProfiles(ctx context.Context, f figures) ([]profiled, error) {
	var list []profiled
	n := f.scheme.Network
	for _, l := range n.Features() {
		if l.Kind != plan.Channel {
			continue
		}
		length := planar.Length(l.Line())
		for i, count := 0.0, math.Ceil(length/stationsApart); i <= count; i++ {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			s, err := profileAt(n, l, min(i*stationsApart, length))
			if err != nil {
				return nil, err
			}
			list = append(list, s)
		}
	}
	return list, nil
}

func profileAt(n *channel.Network, l plan.Feature, chainage float64) (profiled, error) {
	s, err := n.Staking(l.ID, chainage)
	return profiled{l.ID, l.Title(), chainage, s.At, s.Bed, s.Water, s.Left.Level, s.Right.Level}, err
}

// A pegged is the setting out of a scheme.
type pegged = report.SetOut

// A pegging is how pegs are set that are asked for: what is nought is the usual. It is
// read on another goroutine.
type pegging struct {
	atomic.Pointer[earthwork.SetOutOptions]
}

func (p *pegging) options() earthwork.SetOutOptions {
	if o := p.Load(); o != nil {
		return *o
	}
	return earthwork.SetOutOptions{}
}

func (p *channelPage) findPegs(ctx context.Context, f figures) (pegged, error) {
	return report.NewSetOut(ctx, f.site, f.of, p.pegging.options())
}

// setPegging sets the pegs in another way.
func (p *channelPage) setPegging(o earthwork.SetOutOptions) {
	p.pegging.Store(&o)
	p.pegs.forget()
	p.refresh()
}

// linesOf lists the things of a table's rows, each once, in their order.
func linesOf[T any](p *channelPage, rows []T, of func(T) (plan.ID, string)) []lineChoice {
	var list []lineChoice
	for _, r := range rows {
		id, title := of(r)
		if !slices.ContainsFunc(list, func(l lineChoice) bool { return l.id == id }) {
			list = append(list, lineChoice{id, p.nameOfLine(id, title)})
		}
	}
	return list
}
