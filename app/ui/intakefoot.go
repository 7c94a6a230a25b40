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
	left := c.leaving()
	key := fmt.Sprint(c.doing, c.trouble, left, c.made != nil, c.ready())
	p := c.face.foot
	p.show(c, key, func() []fyne.CanvasObject {
		var shown []fyne.CanvasObject
		switch {
		case c.doing != "": // above the others, so that a second press of one of them stops nothing
			stop := c.button(p, tr("Stop"), func() { c.stop(); c.refresh() })
			shown = append(shown, container.NewBorder(nil, nil, nil, stop, container.NewCenter(text(c.doing, body))), c.shareBar())
		case c.trouble != "":
			shown = append(shown, danger(c.trouble))
		}
		if c.doing == "" && c.unread() {
			shown = append(shown, c.button(p, tr("Read again"), c.readAll))
		}
		if left > 0 && c.made == nil && c.doing == "" {
			shown = append(shown, paragraph(either(left, tr("1 ticked measurement will be left out of the ground."),
				trf("%d ticked measurements will be left out of the ground.", left))))
		}
		word, do := tr("Make the ground"), c.make
		if c.made != nil {
			word, do = tr("Bring it in"), c.askIn
		}
		main := c.button(p, word, do)
		main.Importance = widget.HighImportance
		c.face.first = main
		if !c.ready() || c.doing != "" {
			main.Disable()
			c.face.first = nil
		}
		return append(shown, container.New(columns{1, 2}, c.button(p, tr("Cancel"), c.cancel), main))
	})
}

// unread reports whether the reading of a file was stopped.
func (c *surveying) unread() bool {
	return slices.ContainsFunc(c.files, func(f *measuredFile) bool { return !f.read && f.fault == nil })
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
