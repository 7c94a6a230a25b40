package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"

	"runnel/app/tool"
	"runnel/app/view"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// newPane makes the pane that the image is looked at in: a map of nothing but the image.
func (s *scanning) newPane() *mapPane {
	w := s.w
	nothing := func() {}
	m := newMapPane(func(f func()) { w.post(f) }, mapEvents{
		hovered: nothing, used: nothing, escaped: nothing, menu: func(fyne.Position) {},
		keyed: func(tool.Key) bool { return false }, letter: func(rune) {}, plot: func(rune) bool { return false },
		common: w.schemeKey,
	})
	m.bare, m.draws = true, true
	m.site = func() *plan.Site { return nil }
	m.tool = tool.NewAsk("", s.pickOnImage)
	m.overlay.Hot = -1
	f := s.image.Frame
	whole := grid.Frame{W: 1, H: 1, DX: float64(f.W) * f.DX, DY: float64(f.H) * f.DY, West: f.West, North: f.North}
	m.show(&view.Scene{Ground: grid.New[float32](whole), Underlays: []plan.Underlay{s.image}}, w.look.palette)
	return m
}

// picture is the image under a line that says what to do with it.
func (s *scanning) picture() fyne.CanvasObject {
	s.pane.show(s.pane.scene, s.w.look.palette)
	s.pane.overlay.Pins = s.imagePins()
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameBackground))
	head := container.NewStack(ground, container.New(layout.NewCustomPaddedLayout(gap, gap, 2*gap, 2*gap),
		container.NewHBox(text(tr("The image"), strong), layout.NewSpacer(), newButton(tr("See all of it"), s.pane.fit))))
	return container.NewBorder(edged(head, below), nil, nil, nil, s.pane)
}
