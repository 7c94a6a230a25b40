package ui

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"

	"runnel/analysis/caution"
	"runnel/analysis/soakin"
)

// comparing is the page that lays the schemes side by side. It takes the place of
// the map while it is on, and follows the site in strokes: the likely figures at once,
// then what takes longer.
type comparing struct {
	standIn
	strokes

	// seen is what is no wider than the page is seen, however wide the table.
	seen   *fyne.Container
	back   *pageButton
	scroll *container.Scroll
	easel  *easel
	// maps are those of the schemes, charts those below; each stays until a newer one
	// is drawn.
	maps, charts []*slot
}

func newComparing(w *Window) *comparing {
	c := &comparing{standIn: standIn{w: w}, easel: newEasel(func(f func()) { w.post(f) })}
	c.strokes = newStrokes(c)
	return c
}

// compareSchemes lays the schemes side by side, or goes back to the map.
func (w *Window) compareSchemes() {
	if w.doc == nil {
		return
	}
	if w.comparing.on {
		w.comparing.leave()
		return
	}
	w.leaveFigures()
	w.pane.tool.Cancel()
	w.comparing.on = true
	w.comparing.swap()
	w.tabs.refresh()
	w.win.Canvas().Focus(w.comparing.back)
}

// leave goes back to the map.
func (c *comparing) leave() {
	if !c.on {
		return
	}
	c.on = false
	c.drop()
	c.clear()
	c.shown, c.seen = "", nil
	c.page.RemoveAll()
	c.swap()
	c.w.tabs.refresh()
	c.drawMap()
	c.w.soaking.follow()
	c.w.soaking.spread.follow()
	c.w.win.Canvas().Focus(c.w.pane)
}

// clear takes the pictures down.
func (c *comparing) clear() {
	c.easel.clear()
	c.maps, c.charts = nil, nil
}

// refresh asks for the figures of the site as it is now, where the page shows others.
func (c *comparing) refresh() {
	if !c.on {
		return
	}
	c.follow()
	c.build()
}

// build makes the page anew where what it shows has changed; it stays where it was
// scrolled to.
func (c *comparing) build() {
	shown := fmt.Sprintf("%p %p %p %p %v %v %p", c.w.doc, c.site, c.shapes.site, c.draws.site, c.ready(), c.w.units, c.w.look)
	if shown == c.shown && len(c.page.Objects) > 0 {
		return
	}
	c.shown = shown
	at := fyne.Position{}
	if c.scroll != nil {
		at = c.scroll.Offset
	}
	var inside fyne.CanvasObject = container.NewCenter(text(tr("Measuring the schemes…"), heading))
	if c.ready() {
		c.seen = container.New(asSeen{c}, container.NewVBox(c.chartBox(), c.notes()))
		c.scroll = container.NewScroll(padded(container.NewVBox(c.table(), space(2*gap), c.seen)))
		inside = c.scroll
	}
	focused := c.back != nil && c.w.win.Canvas().Focused() == fyne.Focusable(c.back)
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameBackground)) // that the charts are drawn on
	c.page.Objects = []fyne.CanvasObject{ground, container.New(pageLayout{c}, c.head(), inside, space(0))}
	c.page.Refresh()
	if focused {
		c.w.win.Canvas().Focus(c.back)
	}
	if c.ready() {
		c.scroll.ScrollToOffset(at)
	}
}

// ready reports whether there is anything to lay side by side yet.
func (c *comparing) ready() bool { return c.doc == c.w.doc && len(c.accounts) > 0 }

// head holds the title and what can be done with the page.
func (c *comparing) head() fyne.CanvasObject {
	c.back = newPageButton(tr("Back to the map"), c.leave, c.key)
	buttons := container.NewHBox()
	if c.ready() {
		buttons.Add(newPageButton(tr("Picture, PNG…"), c.exportPicture, c.key))
		buttons.Add(newPageButton(tr("Table, CSV…"), c.exportTable, c.key))
	}
	buttons.Add(c.back)
	return edged(container.New(layout.NewCustomPaddedLayout(gap, gap, 3*gap, gap),
		spread(text(tr("The schemes side by side"), heading), buttons)), below)
}

// A pageButton leaves the keys that it has no use for to the page.
type pageButton struct {
	pressable
	keys func(*fyne.KeyEvent) bool
}

func newPageButton(word string, do func(), keys func(*fyne.KeyEvent) bool) *pageButton {
	b := &pageButton{keys: keys}
	b.word, b.posture, b.onPress = word, lying, do
	b.ExtendBaseWidget(b)
	return b
}

// TypedKey presses the button, or is the page's.
func (b *pageButton) TypedKey(e *fyne.KeyEvent) {
	if !b.keys(e) {
		b.pressable.TypedKey(e)
	}
}

// key goes back on Escape and scrolls.
func (c *comparing) key(e *fyne.KeyEvent) bool {
	if !c.on || c.w.covered() {
		return false
	}
	if e.Name == fyne.KeyEscape {
		c.leave()
		return true
	}
	if c.scroll == nil {
		return false
	}
	const line = 40
	by, ok := map[fyne.KeyName]fyne.Delta{
		fyne.KeyUp: {DY: -line}, fyne.KeyDown: {DY: line}, fyne.KeyLeft: {DX: -line}, fyne.KeyRight: {DX: line},
		fyne.KeyPageUp: {DY: line - c.scroll.Size().Height}, fyne.KeyPageDown: {DY: c.scroll.Size().Height - line},
		fyne.KeyHome: {DY: -1e6}, fyne.KeyEnd: {DY: 1e6},
	}[e.Name]
	if ok {
		least, size := c.scroll.Content.MinSize(), c.scroll.Size()
		c.scroll.ScrollToOffset(fyne.NewPos(
			clamp(c.scroll.Offset.X+by.DX, 0, max(0, least.Width-size.Width)),
			clamp(c.scroll.Offset.Y+by.DY, 0, max(0, least.Height-size.Height))))
	}
	return ok
}

// notes are what the page rests on.
func (c *comparing) notes() fyne.CanvasObject {
	words := container.NewVBox()
	for _, n := range c.resting() {
		words.Add(paragraph(n))
	}
	return words
}

// resting says what the page rests on.
func (c *comparing) resting() []string {
	days := c.site.Setting.RunDays
	notes := []string{
		trf("Alike for alike: the same ground, %s soil, and a drain that runs %s, %s or %s days a year. A range is what a survey off by %s makes of a figure, and what the two ways to measure it differ by.",
			told(c.site.Setting.Soil), decimal(days.Low, 0), decimal(days.Likely, 0), decimal(days.High, 0), c.w.units.length(c.site.Setting.SurveyError)),
		trf("Figures of a year are the mean year's. Their range is from the 5th to the 95th of a hundred of %s years drawn, with their weather, the soil and all else that is not known for sure; the storm's is from soil that takes in the most to soil that takes in the least. All of it is potential, and promises nothing of a well's yield.",
			decimal(soakin.Draws, 0)),
	}
	return append(append(notes, c.untold()...), told(caution.Deference))
}

// untold says what is not told of the schemes, and why; once where that is so for several.
func (c *comparing) untold() []string {
	var said []string
	for _, a := range c.soaked {
		for _, w := range a.Withheld {
			if why := c.w.units.told(w.Why); !slices.Contains(said, why) {
				said = append(said, why)
			}
		}
	}
	return said
}
