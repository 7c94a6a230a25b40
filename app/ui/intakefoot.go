package ui

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/geo/survey"
)

// showFoot shows what is under way, what is wrong, and the buttons.
func (c *surveying) showFoot() {
	left := c.faults.leaving()
	key := fmt.Sprint(c.doing, c.trouble, left, c.made != nil, c.ready())
	if c.doing != "" {
		key = fmt.Sprint("running", c.doing)
	}
	p := c.face.foot
	p.show(c, key, func() []fyne.CanvasObject {
		if c.doing != "" {
			c.face.first = nil
			return []fyne.CanvasObject{text(c.doing, body), c.shareBar(), c.button(p, tr("Stop"), func() { c.stop(); c.refresh() })}
		}
		var shown []fyne.CanvasObject
		if c.trouble != "" {
			shown = append(shown, danger(c.trouble))
		}
		if left > 0 && c.made == nil {
			shown = append(shown, paragraph(trf("%d ticked measurements will be left out of the ground.", left)))
		}
		word, do := tr("Make the ground"), c.make
		if c.made != nil {
			word, do = tr("Bring it in"), c.bringIn
		}
		main := c.button(p, word, do)
		main.Importance = widget.HighImportance
		if !c.ready() {
			main.Disable()
		}
		c.face.first = main
		return append(shown, container.New(columns{1, 2}, c.button(p, tr("Cancel"), c.cancel), main))
	})
}

// ready reports whether a ground can be made.
func (c *surveying) ready() bool {
	for _, f := range c.files {
		if f.fault != nil || !f.read {
			return false
		}
	}
	return c.ask.fault == nil && (len(c.survey.Spots) > 0 || slices.ContainsFunc(c.survey.Lines, survey.Line.Known))
}
