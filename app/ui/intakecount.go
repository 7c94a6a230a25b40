package ui

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/app/view"
	"runnel/geo/survey"
)

// A countStroke lies across lines whose heights are counted along it.
type countStroke struct {
	at orb.LineString
	// first and step are what was typed: the height of the first line, and from each to
	// the next; down is set for a count down the slope.
	first, step string
	down        bool
	// crossed are the lines across it, and levels what they come to.
	crossed []survey.Crossing
	levels  []survey.Level
	// fault says why nothing can be given; lacking is set where something is only to be
	// typed yet.
	fault   string
	lacking bool
	// said and give are on the form.
	said *widget.Label
	give *button
}

// drag takes a stroke that was drawn across the lines.
func (c *surveying) drag(at orb.LineString) {
	c.hand.stroke.at = at
	c.count()
	c.refresh()
	if len(c.face.hand.fields) > 0 {
		c.w.win.Canvas().Focus(c.face.hand.fields[0])
	}
}

// count counts along the stroke with what is typed so far.
func (c *surveying) count() {
	h := &c.hand.stroke
	h.levels, h.fault, h.lacking = nil, "", false
	h.crossed = c.survey.Crossings(h.at)
	if len(h.at) == 0 {
		return
	}
	if len(h.crossed) == 0 {
		h.fault = tr("The stroke crosses no contour. Drag it across some, from a line whose height is known.")
		return
	}
	how, err := c.counts(h.crossed[0].Line)
	if err == nil {
		h.levels, err = c.survey.CountAlong(h.at, how)
		h.lacking = err != nil
	}
	if err != nil {
		h.fault = sentence(c.w.units.told(err.Error()))
	}
	for _, l := range h.levels {
		if l.Against() {
			h.fault = trf("A line along the stroke is known as %[1]s, and counting gives %[2]s. A line is missing or was crossed twice, or the interval is another; nothing is set.",
				c.w.units.height(l.Known), c.w.units.height(l.Z))
			break
		}
	}
	c.tellCount()
	c.face.view.show(c.drawing())
}

// counts reads how to count along the stroke, whose first line is given.
func (c *surveying) counts(line int) (survey.Count, error) {
	h, how := &c.hand.stroke, survey.Count{First: math.NaN()}
	_, metres := c.unitOf(line)
	if strings.TrimSpace(h.first) != "" {
		v, err := heightTyped(h.first)
		if err != nil {
			return how, err
		}
		how.First = v * metres
	}
	if strings.TrimSpace(h.step) != "" {
		v, err := heightTyped(h.step)
		if err != nil {
			return how, err
		}
		how.Step = math.Abs(v) * metres
		if h.down {
			how.Step = -how.Step
		}
	}
	return how, nil
}

// ready reports whether there are heights to give.
func (h *countStroke) ready() bool { return h.fault == "" && len(h.levels) > 0 }

// tellCount shows on the form what the count comes to.
func (c *surveying) tellCount() {
	h := &c.hand.stroke
	if h.said == nil {
		return
	}
	words, importance := h.fault, widget.DangerImportance
	if h.lacking {
		importance = widget.MediumImportance
	}
	if n := len(h.levels); h.ready() {
		words, importance = either(n, tr("1 line is crossed; Return gives it its height."), trf("%[1]d lines, from %[2]s to %[3]s. Return gives them.",
			n, c.w.units.height(h.levels[0].Z), c.w.units.height(h.levels[n-1].Z))), widget.MediumImportance
	}
	if h.said.Text != words || h.said.Importance != importance {
		h.said.Importance = importance
		h.said.SetText(words)
		c.layAnew()
	}
	if h.ready() {
		h.give.Enable()
	} else {
		h.give.Disable()
	}
}

// countRows ask how to count along the stroke.
func (c *surveying) countRows(p *formPart) []fyne.CanvasObject {
	h := &c.hand.stroke
	h.said = nil
	rows := []fyne.CanvasObject{text(tr("Count along a stroke"), strong)}
	if len(h.at) == 0 {
		return append(rows, paragraph(tr("Drag a stroke across contours, from one whose height is known or will be typed, straight up or down one slope.")), c.done(p))
	}
	if len(h.crossed) == 0 {
		return append(rows, danger(h.fault), c.done(p))
	}
	sign, _ := c.unitOf(h.crossed[0].Line)
	first := c.countField(p, &h.first, c.firstKnown(h.crossed))
	step := c.countField(p, &h.step, tr("from two known"))
	ways := []string{tr("up the slope"), tr("down the slope")}
	at := 0
	if h.down {
		at = 1
	}
	rows = append(rows, newQuestion(tr("Height of the first line"), first, sign).row, newQuestion(tr("From each line to the next"), step, sign).row,
		newQuestion(tr("The stroke runs"), c.pick(p, ways, at, func(i int) { h.down = i == 1; c.count(); c.refresh() }), "").row)
	h.said, h.give = wrappedLabel(""), c.button(p, tr("Give these heights"), c.giveCounted)
	c.tellCount()
	return append(rows, h.said, container.NewGridWithColumns(2, h.give, c.done(p)))
}

// countField is a field of the count. The map shows what it comes to while it is typed,
// what is wrong is said once the field is left, and Return gives the heights.
func (c *surveying) countField(p *formPart, typed *string, usual string) *answer {
	h := &c.hand.stroke
	a := c.typed(p, *typed, usual, func(given string) error { *typed = given; c.count(); return nil })
	a.OnChanged = func(now string) {
		*typed = now
		if _, err := heightTyped(now); err == nil {
			c.count()
		}
	}
	a.OnSubmitted = func(string) {
		a.settle()
		switch {
		case h.ready():
			c.giveCounted()
		case h.lacking && strings.TrimSpace(h.step) == "" && len(p.fields) > 1:
			c.w.win.Canvas().Focus(p.fields[1])
		}
	}
	return a
}

// giveCounted gives the lines along the stroke the heights that were counted.
func (c *surveying) giveCounted() {
	h, set := &c.hand.stroke, heights{}
	if !h.ready() {
		return
	}
	for _, l := range h.levels {
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
	c.hand.stroke = countStroke{step: h.step, down: h.down}
	c.gather()
}

// firstKnown is what stands in for the height of the first line where none is typed.
func (c *surveying) firstKnown(crossed []survey.Crossing) string {
	for _, x := range crossed {
		if z := c.survey.Lines[x.Line].Level(); !math.IsNaN(z) {
			return tr("from one known")
		}
	}
	return tr("its height")
}

// countTags say on the map what each line across the stroke comes to, or where that is
// not known yet the how many-th it is.
func (c *surveying) countTags() (tags []view.Tag) {
	h, level := &c.hand.stroke, map[int]float64{}
	for _, l := range h.levels {
		level[l.Line] = l.Z
	}
	seen := map[int]bool{}
	for _, x := range h.crossed {
		if seen[x.Line] {
			continue
		}
		seen[x.Line] = true
		word := decimal(float64(len(seen)), 0)
		if z, ok := level[x.Line]; ok {
			word = c.w.units.height(z)
		}
		tags = append(tags, view.Tag{At: x.At, Word: word})
	}
	return tags
}
