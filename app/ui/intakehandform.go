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
	key := fmt.Sprint(h.tool, missing, h.line, len(h.stroke.at), len(h.stroke.crossed), h.stroke.down, c.w.units, len(h.z))
	if h.line >= 0 && h.line < len(c.survey.Lines) {
		key += fmt.Sprint(c.survey.Lines[h.line].Z)
	}
	p := c.face.hand
	p.show(c, key, func() []fyne.CanvasObject {
		switch {
		case h.tool == typingHeights:
			return parted(c.typeRows(p, missing)...)
		case h.tool == counting:
			return parted(c.countRows(p)...)
		case missing > 0:
			return parted(c.missingRows(p, missing)...)
		}
		return nil
	})
}

// missingRows say that contours lack heights, and how they may get them.
func (c *surveying) missingRows(p *formPart, missing int) []fyne.CanvasObject {
	return []fyne.CanvasObject{
		text(either(missing, tr("1 contour has no height"), trf("%d contours have no height", missing)), strong),
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
		rows = append(rows, paragraph(either(missing, tr("Return takes it and goes to the one without a height."),
			trf("Return takes it and goes to the nearest of the %d without a height.", missing))))
	}
	skip := c.button(p, tr("Skip this one"), func() { c.offer(c.nextMissing(line)) })
	return append(rows, container.NewGridWithColumns(2, skip, c.done(p)))
}

// done lays down the tool.
func (c *surveying) done(p *formPart) fyne.CanvasObject {
	return c.button(p, tr("Done"), func() { c.take(lookingOver) })
}
