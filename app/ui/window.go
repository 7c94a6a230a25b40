package ui

import (
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"

	"runnel/app/site"
	"runnel/app/tool"
	"runnel/app/view"
	"runnel/app/work"
	"runnel/geo/plan"
)

// A Window is the program's one window: what is open in it and how it is shown.
// All of it belongs to the interface's goroutine.
type Window struct {
	app     fyne.App
	win     fyne.Window
	options Options
	trace   *trace
	places  placer
	recent  site.Recent
	recents []string
	look    *look
	units   units

	// post runs a function on the interface's goroutine; soon does so a moment
	// later, so that a pointer which reports a thousand times a second is
	// followed once a frame.
	post, soon func(func())

	// doc is nil while no site is open; so are board and keeper.
	doc    *site.Document
	keeper *site.Keeper
	board  *tool.Board
	// step is the place in steps; held is what the pointer is.
	step int
	held instrument
	show view.Layers

	// scene is what the map shows; drawing is set while another is being made.
	scene     *view.Scene
	drawing   bool
	pace      pace
	routes    view.Routes
	settled   *work.Latest[drawing]
	figures   figures
	ranges    *ranges
	outcomes  *outcomes
	comparing *comparing
	soaking   *soaking
	channels  *channelPage
	year      *yearPage
	surveying *surveying
	inquiry   *inquiry
	ghost     ghost
	scenes    *work.Latest[drawing]
	accounts  *work.Latest[figures]
	measurer  measurer
	storms    *work.Latest[stormed]
	stormer   stormer
	fates     *work.Latest[fated]
	waters    waters
	following bool
	// unfolded are the heads in the ledger that are open, by their keys.
	unfolded map[string]bool

	pane *mapPane
	// drawbar lies over the map.
	drawbar *drawbar
	panes   *panes
	// stage holds the map, or the page that stands in its place; over lies over all of
	// the window's content and holds what takes nothing from it.
	stage, over *fyne.Container
	// sections is the panel beneath the map; nil while no site is open.
	sections fyne.CanvasObject
	section  *sectionPanel
	tour     *tour
	// crash names the file in which the last run wrote what ended it; empty where it
	// ended in good order.
	crash  string
	rail   *rail
	tools  *toolColumn
	tabs   *tabs
	ledger *ledger
	status *status
	legend *legend
	menu   *menus
	// waiting lies over the map until there is a first picture of it.
	waiting *canvas.Text
	// prompts are the dialogs that are shown, by what lies over the window.
	prompts map[fyne.CanvasObject]answers
}

// NewWindow builds the window without showing it.
func NewWindow(a fyne.App, o Options) *Window {
	w := &Window{app: a, win: a.NewWindow("Runnel"), options: o, trace: &trace{to: o.Trace}, post: toInterface, prompts: map[fyne.CanvasObject]answers{}}
	w.soon = func(f func()) { time.AfterFunc(followEvery, func() { w.post(f) }) }
	w.recent = site.Recent{File: filepath.Join(o.folder(), "recent.json")}
	w.recents = w.recent.Paths()
	w.units = units(min(1, max(0, a.Preferences().Int(unitsPreference))))
	setLanguage(a.Preferences().String(languagePreference))
	w.look = w.lastLook()
	a.Settings().SetTheme(w.look)
	w.panes = newPanes(w)
	w.scenes = work.NewLatest(func(d drawing, err error) { w.post(func() { w.takeScene(d, err) }) })
	w.accounts = work.NewLatest(func(f figures, err error) { w.post(func() { w.takeFigures(f, err) }) })
	w.storms = work.NewLatest(func(s stormed, err error) { w.post(func() { w.takeStorm(s, err) }) })
	w.fates = work.NewLatest(func(f fated, err error) { w.post(func() { w.takeFates(f, err) }) })
	w.settled = work.NewLatest(func(d drawing, err error) { w.post(func() { w.takeSettled(d, err) }) })
	w.accounts.Patience, w.storms.Patience, w.fates.Patience = patience, patience, patience
	w.scenes.Patience = mapPatience
	w.ranges, w.outcomes, w.comparing, w.places = newRanges(w), newOutcomes(w), newComparing(w), placer{w: w}
	w.soaking = newSoaking(w)
	w.channels, w.year = newChannelPage(w), newYearPage(w)
	w.surveying, w.inquiry = newSurveying(w), newInquiry(w)
	w.pane = newMapPane(func(f func()) { w.post(f) }, mapEvents{
		hovered: w.follow, used: w.used, escaped: w.escaped, menu: w.showMapMenu, keyed: w.keyed, letter: w.pressLetter, plot: w.plot,
		seen: func() { w.legend.follow(); w.places.mapMoved() }, common: w.schemeKey,
	})
	w.pane.site = func() *plan.Site { return w.doc.Site() }
	w.menu = newMenus(w)
	w.win.SetMainMenu(w.menu.main)
	w.listen()
	w.build()
	w.win.Resize(w.lastSize())
	return w
}

// listen has the toolkit's window tell of what happens to it.
func (w *Window) listen() {
	w.win.SetPadded(false)
	w.win.SetMaster()
	w.win.SetCloseIntercept(w.quit)
	w.win.SetOnDropped(func(_ fyne.Position, files []fyne.URI) { w.dropped(files) })
	w.win.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) {
		if !w.dialogKey(e) && !w.surveying.key(e) && !w.schemeKey(e) {
			w.typed(func() { w.pane.TypedKey(e) })
		}
	})
	w.win.Canvas().SetOnTypedRune(func(r rune) { w.typed(func() { w.pane.TypedRune(r) }) })
	w.win.Canvas().AddShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: ctrlShift},
		func(fyne.Shortcut) { w.menu.redo.Action() })
}

const (
	unitsPreference  = "units"
	lookPreference   = "look"
	textPreference   = "text size"
	widthPreference  = "width"
	heightPreference = "height"
	followEvery      = 8 * time.Millisecond
	leastWidth       = 1000 // of the window [dp]
	leastHeight      = 620
	// The toolkit does not say how large the screen is; until a person has chosen a
	// size, the window fits the smallest that laptops have, 1280 by 720, less its frame.
	usualWidth  = 1240
	usualHeight = 660
)

// lastSize is how large the window was when it was last closed.
func (w *Window) lastSize() fyne.Size {
	p := w.app.Preferences()
	return fyne.NewSize(
		float32(max(leastWidth, p.FloatWithFallback(widthPreference, usualWidth))),
		float32(max(leastHeight, p.FloatWithFallback(heightPreference, usualHeight))))
}

func (w *Window) keepSize() {
	size := w.win.Canvas().Size()
	w.app.Preferences().SetFloat(widthPreference, float64(size.Width))
	w.app.Preferences().SetFloat(heightPreference, float64(size.Height))
}

// typed passes on a key that no field has taken.
func (w *Window) typed(f func()) {
	if w.doc != nil && !w.covered() && !w.surveying.on && !w.figured() {
		f()
	}
}

// covered reports whether a dialog lies over the window.
func (w *Window) covered() bool { return len(w.win.Canvas().Overlays().List()) > 0 }

// build makes the window's content anew: another look, another file.
func (w *Window) build() {
	w.over = container.NewStack()
	if w.surveying.on {
		w.win.SetContent(container.New(atLeast{leastWidth, leastHeight}, w.surveying.build()))
		w.menu.refresh()
		w.retitle()
		return
	}
	if w.doc == nil {
		w.win.SetContent(container.New(atLeast{leastWidth, leastHeight}, w.startScreen()))
		w.menu.refresh()
		w.retitle()
		return
	}
	w.rail, w.tools, w.tabs = newRail(w), newToolColumn(w), newTabs(w)
	w.ledger, w.status, w.legend = newLedger(w), newStatus(), newLegend(w)
	w.waiting = text("", heading)
	w.drawbar = newDrawbar(w)
	w.inquiry.build(w.ledger.scroll)
	mapped := w.inquiry.beside(container.NewStack(w.pane, container.NewCenter(w.waiting), w.legend.object, w.drawbar.object))
	w.stage = w.year.over(w.channels.over(w.comparing.over(mapped)))
	if w.section == nil || w.section.doc != w.doc {
		w.section = newSectionPanel(w)
	} else {
		w.section.build()
	}
	w.sections = w.section.object
	w.over.Add(w.panes.build())
	w.win.SetContent(container.New(atLeast{leastWidth, leastHeight}, w.over))
	w.showWaiting()
	w.takeUp(w.held)
	w.keepTour()
	w.refresh()
}

// sectionObject is what lies beneath the map.
func (w *Window) sectionObject() fyne.CanvasObject {
	if w.sections == nil {
		return container.NewStack()
	}
	return w.sections
}

// retitle shows the site and whether it has unsaved changes.
func (w *Window) retitle() {
	title := "Runnel"
	if w.doc != nil {
		name := w.doc.Site().Name
		if name == "" {
			name = tr("Untitled site")
		}
		if w.doc.Dirty() {
			name = trf("%s (not saved)", name)
		}
		title = name + " – Runnel"
	}
	if w.win.Title() != title {
		w.win.SetTitle(title)
	}
}

// schemeName names the scheme that is shown.
func (w *Window) schemeName() string { return w.nameOf(w.board.Scheme) }

// nameOf names a scheme; that of the site as it is in the language that is set.
func (w *Window) nameOf(id plan.SchemeID) string {
	if id == plan.AsItIs {
		return tr("As it is")
	}
	return w.doc.Site().Plan.SchemeName(id)
}
