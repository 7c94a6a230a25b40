package ui

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"github.com/paulmach/orb"

	"runnel/app/view"
	"runnel/app/work"
	"runnel/geo/crs"
	"runnel/geo/survey"
)

// A purpose is what becomes of the ground that the page makes.
type purpose uint8

// The purposes: a new site, another ground for the open site, or the open site's own
// measurements gone over again.
const (
	beginning purpose = iota
	replacing
	reworking
)

// A surveying is the page on which measurements become a ground. It takes the place of
// all else in the window while it is on. What it knows outlives its widgets, which are
// made anew for another look or language.
type surveying struct {
	w       *Window
	on      bool
	purpose purpose
	// files are what is read, own the measurements that the site has already.
	files []*measuredFile
	own   survey.Survey
	// survey is what all of them come to, with the heights that were typed; lines tells
	// of each of its lines where it is from.
	survey survey.Survey
	lines  []measuredKey
	system crs.CRS
	hand   byHand
	faults faultList
	ask    groundAsk
	made   *madeGround
	// doing says what is under way, with how much of it is done; give gives it up.
	doing   string
	share   float64
	give    func()
	trouble string
	// givenUp is set once a person has agreed to lose what is on the page, and held is
	// the field that stays where it is while the page settles.
	givenUp bool
	held    anchor
	// bound is what the view was fitted to last.
	bound orb.Bound
	// drawKerbs and drawEdge are set where such lines go on the plan as well.
	drawKerbs, drawEdge bool

	// seen is how the survey looks; reading counts how often files were asked for.
	seen    *view.Surveyed
	reading int
	reader  *work.Latest[readFiles]
	finder  *work.Latest[foundFaults]
	face    *surveyFace
}

// surveyFace is the page as it stands on the screen.
type surveyFace struct {
	object fyne.CanvasObject
	view   *surveyMap
	scroll *container.Scroll
	// The parts of the form from the top, and what stands beneath it.
	file, hand, ground, faults, quality, foot *formPart
	tools                                     *formPart
	// form holds the parts and side all that stands beside the map; they lie anew where
	// a part has grown.
	form, side, beneath *fyne.Container
	below               *canvas.Text
	scale               *fyne.Container
	low, high, missing  *canvas.Text
	dash, bar           fyne.CanvasObject
	first               fyne.Focusable
}

func newSurveying(w *Window) *surveying {
	c := &surveying{w: w}
	c.reader = work.NewLatest(func(got readFiles, err error) { w.post(func() { c.takeFiles(got, err) }) })
	c.finder = work.NewLatest(func(got foundFaults, err error) { w.post(func() { c.takeFaults(got, err) }) })
	return c
}

// open turns to the page with nothing on it yet.
func (c *surveying) open(p purpose) {
	c.close()
	asked := c.faults.asked + 1
	*c = surveying{w: c.w, on: true, purpose: p, reader: c.reader, finder: c.finder, reading: c.reading + 1, drawKerbs: p != reworking}
	c.hand.line, c.faults.asked = -1, asked
	c.seen = view.NewSurveyed(c.survey)
	c.system = c.siteSystem()
	c.w.build()
}

// siteSystem is the system that a ground must come in: that of the open site, where
// things are drawn in it.
func (c *surveying) siteSystem() crs.CRS {
	if c.purpose == beginning || c.w.doc == nil {
		return crs.CRS{}
	}
	s := c.w.doc.Site()
	if c.purpose == reworking || len(s.Plan.Features)+len(s.Underlays) > 0 {
		return s.CRS
	}
	return crs.CRS{}
}

// close gives up what runs and forgets what is on the page.
func (c *surveying) close() {
	if !c.on {
		return
	}
	c.stop()
	c.reader.Request(func(context.Context) (readFiles, error) { return readFiles{}, context.Canceled })
	c.finder.Request(func(context.Context) (foundFaults, error) { return foundFaults{}, context.Canceled })
	c.on, c.face, c.made, c.files = false, nil, nil, nil
	c.survey, c.own, c.lines = survey.Survey{}, survey.Survey{}, nil
}

// stop gives up what is under way.
func (c *surveying) stop() {
	if c.give != nil {
		c.give()
	}
	c.give, c.doing, c.share = nil, "", 0
}

// formWidth is the width of the form [dp].
const formWidth = 428

// build makes the page's widgets anew.
func (c *surveying) build() fyne.CanvasObject {
	f := &surveyFace{}
	for _, p := range []**formPart{&f.file, &f.hand, &f.ground, &f.faults, &f.quality, &f.foot, &f.tools} {
		*p = &formPart{box: container.NewVBox()}
	}
	last := c.face
	f.view = newSurveyMap(c)
	if last != nil {
		f.view.camera, f.view.fitted = last.view.camera, last.view.fitted
	}
	f.below = text("", caption)
	c.face = f
	f.form = container.NewVBox(f.file.box, f.hand.box, f.faults.box, f.ground.box, f.quality.box)
	f.scroll = container.NewVScroll(padded(f.form))
	title := container.New(layout.NewCustomPaddedLayout(2*gap, gap, 3*gap, 3*gap), text(c.title(), heading))
	f.side = container.New(down{}, title, f.scroll, edged(padded(f.foot.box), above))
	stage := container.New(down{}, edged(container.New(layout.NewCustomPaddedLayout(gap, gap, gap, gap), f.tools.box), below), f.view, edged(c.strip(f), above))
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameBackground))
	f.object = container.NewStack(ground, container.New(across{}, space(0), stage, container.New(widthOf(formWidth), edged(f.side, before))))
	c.refresh()
	c.w.post(c.layAnew)
	return f.object
}

func (c *surveying) title() string {
	switch c.purpose {
	case replacing:
		return tr("Another ground for this site")
	case reworking:
		return tr("The survey of this site")
	}
	return tr("A ground from contours or points")
}

// strip is what lies beneath the map: what is under the pointer, and the colours of the
// heights.
func (c *surveying) strip(f *surveyFace) fyne.CanvasObject {
	f.low, f.high, f.missing = text("", caption), text("", caption), text("", caption)
	bar := canvas.NewImageFromImage(c.scaleImage())
	bar.SetMinSize(fyne.NewSize(scaled(110), scaled(2*gap)))
	f.bar = container.NewHBox(f.low, container.NewCenter(bar), f.high)
	dash := canvas.NewImageFromImage(c.missingImage())
	dash.SetMinSize(fyne.NewSize(scaled(28), scaled(2*gap)))
	f.dash = container.NewCenter(dash)
	f.scale = container.NewHBox(f.dash, f.missing, space(0), f.bar)
	f.beneath = container.NewBorder(nil, nil, nil, f.scale, f.below)
	return container.New(layout.NewCustomPaddedLayout(gap, gap, 3*gap, 3*gap), f.beneath)
}

// refresh brings the page up to date with what it knows.
func (c *surveying) refresh() {
	if c.face == nil {
		return
	}
	c.showTools()
	c.showFiles()
	c.showHand()
	c.showFaults()
	c.showAsk()
	c.showQuality()
	c.showFoot()
	c.showScale()
	c.layAnew()
	c.face.view.show(c.drawing())
	c.w.menu.refresh()
}

// layAnew lays the form out again: a paragraph knows how high it is once it has a width.
func (c *surveying) layAnew() {
	if f := c.face; f != nil {
		f.form.Refresh()
		f.scroll.Refresh()
		f.side.Refresh()
		f.beneath.Refresh()
		c.keepHeld()
	}
}

// key takes the keys that nothing else on the page has a use for.
func (c *surveying) key(e *fyne.KeyEvent) bool {
	switch {
	case c.w.dialogKey(e):
		return true
	case !c.on || e.Name != fyne.KeyEscape:
		return false
	case c.hand.tool != lookingOver:
		c.take(lookingOver)
	default:
		c.cancel()
	}
	return true
}
