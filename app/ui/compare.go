package ui

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"

	"runnel/analysis/caution"
	"runnel/analysis/compare"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/app/work"
	"runnel/geo/plan"
)

// compared is what every scheme of a site comes to, the site as it is first.
type compared struct {
	doc      *site.Document
	site     *plan.Site
	accounts []compare.Account
	spreads  []compare.Spread
	stages   [][]compare.StagePoint
	scenes   []*view.Scene
}

// stageLevels is at how many levels the water is measured for a chart.
const stageLevels = 17

// compareAll works them out; a long work that gives up when its context ends.
func compareAll(ctx context.Context, doc *site.Document, s *plan.Site) (compared, error) {
	c := compared{doc: doc, site: s}
	var err error
	if c.accounts, err = compare.Schemes(ctx, s, compare.Options{}); err != nil {
		return c, err
	}
	for i := range c.accounts {
		a := &c.accounts[i]
		spread, err := compare.SpreadOf(ctx, s, a)
		if err != nil {
			return c, err
		}
		stage, err := compare.StageTable(ctx, s, a.Scheme, stageLevels)
		if err != nil {
			return c, err
		}
		scene, err := view.Small(ctx, s, a)
		if err != nil {
			return c, err
		}
		c.spreads, c.stages, c.scenes = append(c.spreads, spread), append(c.stages, stage.Scheme), append(c.scenes, scene)
	}
	return c, nil
}

// comparing is the page that lays the schemes side by side. It takes the place of
// the map while it is on, and follows the site.
type comparing struct {
	standIn
	latest *work.Latest[compared]
	compared
	// asked is the site that was last asked for.
	asked *plan.Site

	// seen is what is no wider than the page is seen, however wide the table.
	seen   *fyne.Container
	back   *pageButton
	scroll *container.Scroll
	easel  *easel
}

func newComparing(w *Window) *comparing {
	c := &comparing{standIn: standIn{w: w}, easel: newEasel(func(f func()) { w.post(f) })}
	c.latest = work.NewLatest(func(got compared, err error) { w.post(func() { c.take(got, err) }) })
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
	w.channels.leave()
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
	c.on, c.asked = false, nil
	c.latest.Request(func(context.Context) (compared, error) { return compared{}, nil }) // gives up what runs
	c.easel.clear()
	c.compared, c.shown, c.seen = compared{}, "", nil
	c.page.RemoveAll()
	c.swap()
	c.w.tabs.refresh()
	c.w.win.Canvas().Focus(c.w.pane)
}

// refresh asks for the figures of the site as it is now, where the page shows others.
func (c *comparing) refresh() {
	if !c.on {
		return
	}
	doc, s := c.w.doc, c.w.doc.Site()
	if c.asked != s {
		c.asked = s
		c.latest.Request(func(ctx context.Context) (compared, error) { return compareAll(ctx, doc, s) })
	}
	c.build()
}

func (c *comparing) take(got compared, err error) {
	switch {
	case !c.on || c.w.doc == nil || err == nil && got.doc != c.w.doc:
	case err != nil:
		c.w.complain(err)
	default:
		c.compared = got
		c.build()
		c.w.trace.say("compared", "schemes", len(got.accounts))
	}
}

// build makes the page anew where what it shows has changed; it stays where it was
// scrolled to.
func (c *comparing) build() {
	shown := fmt.Sprintf("%p %v %v %p", c.site, c.ready(), c.w.units, c.w.look)
	if shown == c.shown && len(c.page.Objects) > 0 {
		return
	}
	c.shown = shown
	c.easel.clear()
	at := fyne.Position{}
	if c.scroll != nil {
		at = c.scroll.Offset
	}
	var inside fyne.CanvasObject = container.NewCenter(text(tr("Measuring the schemes…"), heading))
	if c.ready() {
		c.seen = container.New(asSeen{c}, container.NewVBox(c.charts(), c.notes()))
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
	return []string{
		trf("Alike for alike: the same ground, %s soil, and a drain that runs %s, %s or %s days a year. A range is what a survey off by %s makes of a figure, and what the two ways to measure it differ by.",
			c.site.Setting.Soil, decimal(days.Low, 0), decimal(days.Likely, 0), decimal(days.High, 0), c.w.units.length(c.site.Setting.SurveyError)),
		tr("Recharge is a potential, from low to high; it promises nothing of a well's yield, and takes no account of how much water comes."),
		told(caution.Deference),
	}
}
