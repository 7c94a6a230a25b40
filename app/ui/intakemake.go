package ui

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/app/groundwork"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/app/work"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// A madeGround is a ground that was made on the page.
type madeGround struct {
	groundwork.Made
	scene *view.Scene
	// off is how far the ground passes the contours by.
	off passing
	// bare is set while the measurements are hidden.
	bare bool
}

// A passing is how far a ground passes what was measured by, at the points of contours
// and at spots: for half of them no more than Median, and for all no more than Worst [m].
type passing struct {
	points        int
	median, worst float64
}

// passingOf samples a ground at what it was made of.
func passingOf(s survey.Survey, g grid.Ground) passing {
	var off []float64
	see := func(at orb.Point, z float64) {
		if d := math.Abs(grid.Sample(g, at) - z); !math.IsNaN(d) {
			off = append(off, d)
		}
	}
	for _, l := range s.Lines {
		if l.Out || l.Use == survey.Edge {
			continue
		}
		for i, at := range l.At {
			see(at, l.Height(i))
		}
	}
	for _, p := range s.Spots {
		if !p.Out {
			see(p.At, p.Z)
		}
	}
	if len(off) == 0 {
		return passing{}
	}
	slices.Sort(off)
	return passing{len(off), off[len(off)/2], off[len(off)-1]}
}

// make makes the ground of what is on the page.
func (c *surveying) make() {
	if !c.ready() || c.doing != "" {
		return
	}
	s, u := c.survey, view.Units(c.w.units)
	o := groundwork.Options{Cell: c.ask.cell, Bound: c.ask.bound, Tension: -1, Leave: c.faults.agreed()}
	c.doing, c.share, c.trouble = tr("Making the ground…"), 0, ""
	given := false
	cancel := work.Start(work.Long[*madeGround]{
		Do: func(ctx context.Context, report func(work.Progress)) (*madeGround, error) {
			o.Progress = report
			return makeGround(ctx, s, o, u)
		},
		Show: func(p work.Progress) { c.w.post(func() { c.tellShare(p, given || c.face == nil) }) },
		Done: func(made *madeGround, err error) {
			c.w.post(func() {
				if !given {
					c.takeMade(made, err)
				}
			})
		},
	})
	c.give = func() { given = true; cancel() }
	c.refresh()
}

// makeGround makes a ground and what is shown of it.
func makeGround(ctx context.Context, s survey.Survey, o groundwork.Options, u view.Units) (*madeGround, error) {
	made, err := groundwork.Make(ctx, s, o)
	if err != nil {
		return nil, err
	}
	scene, err := view.BareScene(ctx, made.Ground, u)
	if err != nil {
		return nil, err
	}
	return &madeGround{Made: made, scene: scene, off: passingOf(made.Survey, made.Ground)}, nil
}

// tellShare shows how much is done.
func (c *surveying) tellShare(p work.Progress, over bool) {
	if over || c.doing == "" {
		return
	}
	if p.Text != "" {
		c.doing = told(p.Text)
	}
	if !math.IsNaN(p.Fraction) {
		c.share = p.Fraction
	}
	c.showFoot()
	c.tellBar()
}

// takeMade shows the ground that was made.
func (c *surveying) takeMade(made *madeGround, err error) {
	c.doing, c.give = "", nil
	switch {
	case !c.on || errors.Is(err, context.Canceled):
	case err != nil:
		c.trouble = sentence(c.w.units.told(err.Error()))
		c.w.trace.say("error", "text", err.Error())
	default:
		c.made, c.givenUp = made, false
		c.take(lookingOver)
		c.w.trace.say("made", "cells", made.Ground.Len())
	}
	c.refresh()
	if c.face != nil && c.made != nil {
		c.face.scroll.ScrollToBottom()
		if c.face.first != nil {
			c.w.win.Canvas().Focus(c.face.first)
		}
	}
}

// bringIn puts the ground that was made under the site, or begins a site on it.
func (c *surveying) bringIn() {
	if c.made == nil {
		return
	}
	made, system, drawn := c.made, c.system, c.drawnLines()
	name := ""
	if len(c.files) > 0 {
		name = strings.TrimSuffix(c.files[0].name(), filepath.Ext(c.files[0].path))
	}
	w, p := c.w, c.purpose
	if p == beginning {
		s := plan.Site{Name: name, CRS: system, Ground: made.Ground, Survey: made.Survey, Setting: site.SettingFor(plan.UsualSetting(), made.Survey)}
		for _, f := range drawn {
			f.ID = plan.ID(s.Plan.NextID())
			s.Plan.Features = append(s.Plan.Features, f)
		}
		c.close()
		w.put(site.Recovered(s, ""))
	} else {
		if err := w.doc.Do(&site.SetGround{Ground: made.Ground, CRS: system, Survey: made.Survey, Drawn: site.Add{Features: drawn}}); err != nil {
			c.trouble = sentence(w.units.told(err.Error()))
			c.refresh()
			return
		}
		c.close()
		w.pane.fitted = false
		w.build()
	}
	w.goTo(stepWater)
	w.focusMap()
	w.trace.say("brought in", "cells", made.Ground.Len())
}

// stepWater is the step that shows where water runs.
const stepWater = 1

// drawnLines are the kerbs and edges of the survey that go on the plan as well.
func (c *surveying) drawnLines() (drawn []plan.Feature) {
	for _, l := range c.made.Survey.Lines {
		switch {
		case l.Out || len(l.At) < 2:
		case l.Use == survey.Kerb && c.drawKerbs:
			drawn = append(drawn, plan.Feature{Kind: plan.Kerb, Geometry: l.At.Clone()})
		case l.Use == survey.Edge && c.drawEdge && len(l.At) > 2:
			ring := orb.Ring(l.At.Clone())
			if !ring.Closed() {
				ring = append(ring, ring[0])
			}
			drawn = append(drawn, plan.Feature{Kind: plan.Boundary, Geometry: orb.Polygon{ring}})
		}
	}
	return drawn
}
