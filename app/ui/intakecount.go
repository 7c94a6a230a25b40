package ui

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// drag takes a stroke that was drawn across the lines.
func (c *surveying) drag(stroke orb.LineString) {
	c.hand.stroke = stroke
	c.count()
	if len(c.face.hand.fields) > 0 {
		c.w.win.Canvas().Focus(c.face.hand.fields[0])
	}
}

// count counts along the stroke with what is typed so far.
func (c *surveying) count() {
	c.hand.levels, c.hand.fault = nil, ""
	crossed := c.survey.Crossings(c.hand.stroke)
	if len(crossed) > 0 {
		how, err := c.counts(crossed[0].Line)
		if err == nil {
			c.hand.levels, err = c.survey.CountAlong(c.hand.stroke, how)
		}
		if err != nil {
			c.hand.fault = sentence(c.w.units.told(err.Error()))
		}
	} else if len(c.hand.stroke) > 0 {
		c.hand.fault = tr("The stroke crosses no contour. Drag it across some, from a line whose height is known.")
	}
	for _, l := range c.hand.levels {
		if l.Against() {
			c.hand.fault = trf("A line along the stroke is known as %[1]s, and counting gives %[2]s. A line is missing or was crossed twice, or the interval is another; nothing is set.",
				c.w.units.height(l.Known), c.w.units.height(l.Z))
			break
		}
	}
	c.refresh()
}

// counts reads how to count along the stroke, whose first line is given.
func (c *surveying) counts(line int) (survey.Count, error) {
	how := survey.Count{First: math.NaN()}
	_, metres := c.unitOf(line)
	if strings.TrimSpace(c.hand.first) != "" {
		v, err := heightTyped(c.hand.first)
		if err != nil {
			return how, err
		}
		how.First = v * metres
	}
	if strings.TrimSpace(c.hand.step) != "" {
		v, err := heightTyped(c.hand.step)
		if err != nil {
			return how, err
		}
		how.Step = math.Abs(v) * metres
		if c.hand.down {
			how.Step = -how.Step
		}
	}
	return how, nil
}

// giveCounted gives the lines along the stroke the heights that were counted.
func (c *surveying) giveCounted() {
	set := heights{}
	for _, l := range c.hand.levels {
		if l.Against() {
			return
		}
		if !math.IsNaN(l.Known) {
			continue
		}
		for _, piece := range c.survey.Continued(l.Line) {
			set[c.lines[piece]] = l.Z
		}
	}
	if len(set) > 0 {
		c.hand.set(c.hand.with(set))
	}
	c.hand.stroke, c.hand.levels, c.hand.first = nil, nil, ""
	c.gather()
}
