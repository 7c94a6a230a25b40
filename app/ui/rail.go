package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/app/view"
)

// A rail is the row of the job's steps down the left edge.
type rail struct {
	object  fyne.CanvasObject
	buttons []*pressable
}

func newRail(w *Window) *rail {
	r := &rail{}
	column := container.NewVBox()
	for i, s := range steps {
		b := newPressable(s.icon, s.word(), upright, func() { w.goTo(i) })
		b.mark(i == w.step)
		r.buttons = append(r.buttons, b)
		column.Add(b)
	}
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameHeaderBackground))
	r.object = container.NewStack(ground, container.NewVBox(space(gap), column, layout.NewSpacer()))
	return r
}

// goTo takes the job to a step: its tools, its map and its ledger.
func (w *Window) goTo(i int) {
	if w.doc == nil {
		return
	}
	w.layDown()
	w.pointOut(-1)
	w.step, w.show = i, steps[i].show
	for j, b := range w.rail.buttons {
		b.mark(j == i)
	}
	w.tools.build()
	w.takeUp(selecting)
	w.askOfWater()
	w.soaking.follow()
	w.panes.lay()
	w.ledger.refresh()
	w.reshow()
	w.menu.refresh()
	if w.tour != nil {
		w.tour.layer.Refresh()
	}
	w.keepPlace()
	w.trace.say("step", "name", steps[i].word())
}

// toolsWidth holds the longest tool's word [dp].
const toolsWidth = 172

// purposeHeight holds four lines, so that the tools of every step begin at the
// same place [dp].
const purposeHeight = 80

// A toolColumn holds what a step brings: its tools, its files, its map.
type toolColumn struct {
	w       *Window
	object  fyne.CanvasObject
	box     *fyne.Container
	buttons map[instrument]*pressable
	checks  map[view.Layers]*widget.Check
}

func newToolColumn(w *Window) *toolColumn {
	c := &toolColumn{w: w, box: container.NewVBox()}
	c.object = container.New(widthOf(toolsWidth), container.NewVScroll(
		container.New(layout.NewCustomPaddedLayout(2*gap, 2*gap, gap, gap), c.box)))
	c.build()
	return c
}

func (c *toolColumn) build() {
	s := steps[c.w.step]
	c.buttons, c.checks = map[instrument]*pressable{}, map[view.Layers]*widget.Check{}
	c.box.RemoveAll()
	purpose := widget.NewLabel(s.purpose())
	purpose.Wrapping = fyne.TextWrapWord
	c.box.Add(container.New(heightOf(purposeHeight), purpose))
	c.add(selecting)
	for _, i := range s.asks {
		c.add(i)
	}
	for _, kind := range s.kinds {
		c.add(drawer(kind))
	}
	for _, a := range c.w.stepActions() {
		b := newButton(a.word, a.do)
		b.Alignment = widget.ButtonAlignLeading
		c.box.Add(b)
	}
	c.box.Add(space(gap))
	c.box.Add(rule())
	c.box.Add(text("  "+tr("On the map"), caption))
	for _, l := range layers() {
		c.box.Add(c.layer(l))
	}
	c.box.Refresh()
}

func (c *toolColumn) add(i instrument) {
	b := newPressable(string(i), i.word(), lying, func() { c.w.choose(i) })
	b.key = i.letter()
	c.buttons[i] = b
	c.box.Add(b)
}

// A layer is something that the map shows or leaves out.
type layer struct {
	word string
	of   view.Layers
}

func layers() []layer {
	return []layer{
		{tr("Relief"), view.Shade}, {tr("Contours"), view.Contours}, {tr("Water paths"), view.Water}, {tr("Hollows"), view.Hollows},
		{tr("Standing water"), view.Standing}, {tr("Storm water"), view.Stormwater}, {tr("Days under water"), view.Days}, {tr("Where water ends"), view.Fates},
		{tr("How sure paths are"), view.Certainty}, {tr("Drawn things"), view.Drawn}, {tr("Cautions"), view.Cautions}, {tr("Labels"), view.Labels},
		{tr("Heights in colour"), view.Heights}, {tr("Slope in colour"), view.Slopes},
		{tr("How well it is known"), view.Doubts}, {tr("Grid"), view.Grid},
	}
}

// turnedOn returns the layers with one more: the ground has one colour at a time.
func turnedOn(show, more view.Layers) view.Layers {
	if view.Tints.Has(more) {
		show = show.Without(view.Tints)
	}
	return show.With(more)
}

func (c *toolColumn) layer(l layer) fyne.CanvasObject {
	check := c.w.newTick(l.word, nil)
	c.checks[l.of] = &check.Check
	check.Checked = c.w.ticked(l.of)
	check.OnChanged = func(on bool) { c.w.showLayer(l.of, on) }
	return check
}

// refresh marks the tool that is in the hand.
func (c *toolColumn) refresh() {
	for i, b := range c.buttons {
		b.mark(i == c.w.held)
	}
}

// An action is something a step offers besides drawing.
type action struct {
	word string
	do   func()
}

// stepActions are the files that a step takes in or gives out.
func (w *Window) stepActions() []action {
	switch w.step {
	case 0:
		return []action{{tr("Import a plan…"), w.importPlan}, {tr("Replace the ground…"), w.replaceGround}}
	case stepShape:
		return []action{{tr("Find a better line…"), w.findLine}}
	case stepHandOver:
		return w.exports()
	}
	return nil
}
