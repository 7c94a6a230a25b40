package ui

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"runnel/geo/survey"
)

// hasContours reports whether there are lines to give heights to.
func (c *surveying) hasContours() bool {
	for _, l := range c.survey.Lines {
		if l.Use == survey.Contour {
			return true
		}
	}
	return false
}

// showTools shows what the pointer may be over the map.
func (c *surveying) showTools() {
	p := c.face.tools
	p.show(c, fmt.Sprint(c.hand.tool, c.hasContours(), c.made != nil, c.made != nil && c.made.bare), func() []fyne.CanvasObject {
		row := container.NewHBox()
		add := func(word string, on bool, do func()) {
			b := newPageButton(word, do, c.key)
			b.mark(on)
			p.fields = append(p.fields, b)
			row.Add(b)
		}
		if c.hasContours() {
			add(tr("Look"), c.hand.tool == lookingOver, func() { c.take(lookingOver) })
			add(tr("Type heights"), c.hand.tool == typingHeights, func() { c.take(typingHeights) })
			add(tr("Count along a stroke"), c.hand.tool == counting, func() { c.take(counting) })
		}
		row.Add(layout.NewSpacer())
		if c.made != nil {
			add(tr("Measurements"), !c.made.bare, func() { c.made.bare = !c.made.bare; c.refresh() })
		}
		add(tr("Fit"), false, func() { c.face.view.fit() })
		return []fyne.CanvasObject{row}
	})
}

// showHand shows what the tool asks for.
func (c *surveying) showHand() {
	h, missing := &c.hand, c.missing()
	key := fmt.Sprint(h.tool, missing, h.line, len(h.stroke), h.fault, h.first, h.step, h.down, len(h.levels), c.w.units, len(h.z))
	if h.line >= 0 && h.line < len(c.survey.Lines) {
		key += fmt.Sprint(c.survey.Lines[h.line].Z)
	}
	p := c.face.hand
	p.show(c, key, func() []fyne.CanvasObject {
		switch {
		case h.tool == typingHeights:
			return parted(c.typeRows(p, missing)...)
		case h.tool == counting:
			return parted(c.countRows(p, missing)...)
		case missing > 0:
			return parted(c.missingRows(p, missing)...)
		}
		return nil
	})
}

// missingRows say that contours lack heights, and how they may get them.
func (c *surveying) missingRows(p *formPart, missing int) []fyne.CanvasObject {
	return []fyne.CanvasObject{
		text(trf("%d contours have no height", missing), strong),
		paragraph(tr("Those without a height say nothing of the ground. Type them one by one, or count along a stroke that crosses many.")),
		container.NewGridWithColumns(2, c.button(p, tr("Type heights"), func() { c.take(typingHeights) }),
			c.button(p, tr("Count along a stroke"), func() { c.take(counting) })),
	}
}

// typeRows ask for the height of a line.
func (c *surveying) typeRows(p *formPart, missing int) []fyne.CanvasObject {
	rows := []fyne.CanvasObject{text(tr("Type heights"), strong)}
	line := c.hand.line
	if line < 0 || line >= len(c.survey.Lines) {
		words := tr("Press a contour on the map to type its height.")
		if missing == 0 {
			words = tr("All contours have a height. Press one on the map to change it.")
		}
		return append(rows, paragraph(words), c.done(p))
	}
	sign, metres := c.unitOf(line)
	given := ""
	if l := c.survey.Lines[line]; l.Known() && !math.IsNaN(l.Level()) {
		given = typedNumber(math.Round(l.Level()/metres*1000) / 1000)
	}
	var q *question
	a := c.typed(p, given, tr("its height"), func(typed string) error { return q.complain(c.giveHeight(typed)) })
	q = newQuestion(trf("Height of line %d", c.survey.Lines[line].Number), a, sign)
	rows = append(rows, q.row)
	if missing > 0 {
		rows = append(rows, paragraph(trf("Return takes it and goes to the nearest of the %d without a height.", missing)))
	}
	skip := c.button(p, tr("Skip this one"), func() { c.offer(c.nextMissing(line)) })
	return append(rows, container.NewGridWithColumns(2, skip, c.done(p)))
}

// done lays down the tool.
func (c *surveying) done(p *formPart) fyne.CanvasObject {
	return c.button(p, tr("Done"), func() { c.take(lookingOver) })
}

// countRows ask how to count along the stroke.
func (c *surveying) countRows(p *formPart, missing int) []fyne.CanvasObject {
	rows := []fyne.CanvasObject{text(tr("Count along a stroke"), strong)}
	if len(c.hand.stroke) == 0 {
		return append(rows, paragraph(tr("Drag a stroke across contours, from one whose height is known or will be typed, straight up or down one slope.")), c.done(p))
	}
	crossed := c.survey.Crossings(c.hand.stroke)
	if len(crossed) == 0 {
		return append(rows, danger(c.hand.fault), c.done(p))
	}
	sign, _ := c.unitOf(crossed[0].Line)
	first := c.typed(p, c.hand.first, c.firstKnown(crossed), func(typed string) error { c.hand.first = typed; c.count(); return nil })
	step := c.typed(p, c.hand.step, tr("from two known"), func(typed string) error { c.hand.step = typed; c.count(); return nil })
	ways := []string{tr("up the slope"), tr("down the slope")}
	at := 0
	if c.hand.down {
		at = 1
	}
	rows = append(rows, newQuestion(tr("Height of the first line"), first, sign).row, newQuestion(tr("From each line to the next"), step, sign).row,
		newQuestion(tr("The stroke runs"), c.pick(p, ways, at, func(i int) { c.hand.down = i == 1; c.count() }), "").row)
	if c.hand.fault != "" && c.hand.first+c.hand.step == "" {
		rows = append(rows, paragraph(c.hand.fault))
	} else if c.hand.fault != "" {
		rows = append(rows, danger(c.hand.fault))
	} else if n := len(c.hand.levels); n > 0 {
		rows = append(rows, paragraph(trf("%[1]d lines, from %[2]s to %[3]s.", n, c.w.units.height(c.hand.levels[0].Z), c.w.units.height(c.hand.levels[n-1].Z))))
	}
	give := c.button(p, tr("Give these heights"), c.giveCounted)
	if c.hand.fault != "" || len(c.hand.levels) == 0 {
		give.Disable()
	}
	return append(rows, container.NewGridWithColumns(2, give, c.done(p)))
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
