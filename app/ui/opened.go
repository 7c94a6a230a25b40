package ui

import (
	"context"
	"time"

	"runnel/app/site"
	"runnel/app/tool"
	"runnel/app/view"
	"runnel/geo/plan"
)

// put opens a document in the window in place of the one before.
func (w *Window) put(d *site.Document) {
	w.surveying.close()
	w.inquiry.leave()
	if w.keeper != nil {
		w.keeper.Close()
	}
	w.doc = d
	w.board = &tool.Board{}
	w.comeBack()
	w.board.Changed = w.selectionChanged
	w.keeper = site.NewKeeper(d, w.keeping())
	d.Watch(func() {
		if w.doc == d {
			w.refresh()
		}
	})
	w.held = selecting
	w.show = steps[w.step].show
	w.dropHowSure()
	w.soaking.forget()
	w.scene, w.figures, w.waters, w.pace = nil, figures{}, waters{}, pace{began: w.pace.began}
	w.pane.forget()
	w.pane.tool = nil // what it has under way is the other site's
	w.trace.say("opened", "name", d.Site().Name, "path", d.Path())
	w.build()
}

// refresh brings everything up to date with the document, and asks for the map
// and the figures of how it is now.
func (w *Window) refresh() {
	w.board.Prune(w.doc.Site().Plan)
	keepNames(w.doc.Site())
	if !w.hasScheme(w.board.Scheme) {
		w.board.Scheme = plan.AsItIs
	}
	w.tabs.refresh()
	w.ledger.refresh()
	if !w.dragging() { // the sections come with the figures then
		w.section.refresh()
	}
	w.menu.refresh()
	w.drawbar.refresh()
	w.retitle()
	w.followUnderlays()
	w.work()
	w.used()
}

func (w *Window) hasScheme(id plan.SchemeID) bool {
	for _, s := range w.doc.Site().Plan.Schemes {
		if s.ID == id {
			return true
		}
	}
	return id == plan.AsItIs
}

// work asks for the figures of the site as it is now; the map follows from them.
func (w *Window) work() {
	if !w.begin() {
		return
	}
	doc, s, scheme, asked := w.doc, w.doc.Site(), w.board.Scheme, time.Now()
	if w.scene == nil {
		w.scenes.Request(func(ctx context.Context) (drawing, error) {
			scene, err := view.FirstLook(ctx, s, scheme)
			return drawing{doc: doc, scene: scene, asked: asked}, err
		})
	}
	w.accounts.Request(func(ctx context.Context) (figures, error) {
		f, err := w.measurer.measure(ctx, s, scheme)
		f.doc, f.asked = doc, asked
		return f, err
	})
}

// A drawing is a scene of a document.
type drawing struct {
	doc   *site.Document
	scene *view.Scene
	// asked is when the change was made that it shows.
	asked time.Time
	// of is the scene that it makes good, if it does.
	of *view.Scene
}

// takeScene shows a scene. What comes in after another site was opened is dropped.
func (w *Window) takeScene(d drawing, err error) {
	w.drawing = false
	switch {
	case w.doc == nil:
	case err != nil:
		w.status.fault(err)
		w.ledger.refresh()
	case d.doc == w.doc:
		w.scene = d.scene
		w.reviewHowSure()
		w.settle()
		w.askOfWater()
		w.keepOutline()
		w.reshow()
		w.ledger.refresh()
		w.follow()
		event := "shown"
		if d.scene.Drainage == nil {
			event = "ground" // and no more of it as yet
		}
		w.trace.say(event, "scheme", w.schemeName(), "ms", time.Since(d.asked).Milliseconds())
	}
}

// reshow puts the scene on the map with the layers that are wanted.
func (w *Window) reshow() {
	if w.scene == nil {
		return
	}
	shown := *w.scene
	shown.Show, shown.Units, shown.Underlays = w.show, view.Units(w.units), w.doc.Site().Underlays
	if w.waters.pointed != 0 {
		shown.Show = shown.Show.With(view.Fates)
	}
	w.weather(&shown)
	if w.soaking.last() {
		shown = w.soaking.onMap(shown)
	}
	shown.Ghost, shown.Arrivals = w.ghostNow(), w.inquiry.arrivals()
	w.pane.furniture.Units, w.pane.furniture.Show = shown.Units, shown.Show
	w.pane.show(&shown, w.look.palette)
	interval := ""
	if w.show.Has(view.Contours) && len(shown.Contours) > 0 {
		interval = w.units.told(shown.IntervalText())
	}
	w.status.interval(interval)
	w.tools.tick()
	w.legend.follow()
	w.showWaiting()
}

// pending says that what is not known yet is being worked out, or cannot be;
// empty where it is known.
func (w *Window) pending(known bool) string {
	switch {
	case known:
		return ""
	case w.status != nil && w.status.trouble != "":
		return tr("Not worked out; the line below the map says why.")
	}
	return tr("Working…")
}

// showWaiting shows on the map that the first picture of it is being worked out.
func (w *Window) showWaiting() {
	say(w.waiting, w.pending(w.scene != nil))
	w.waiting.Refresh()
}

// tellBelow says under the map what was done.
func (w *Window) tellBelow(words string) {
	w.trace.say("told", "text", words)
	if w.status != nil {
		w.status.notice(words)
		time.AfterFunc(noticeFor, func() { w.post(w.used) })
	}
}

// takeFigures shows what was measured, and asks for the map of it. What comes
// in after another site or scheme was opened is dropped.
func (w *Window) takeFigures(f figures, err error) {
	if w.doc == nil {
		return
	}
	if err != nil {
		w.status.fault(err)
		w.ledger.refresh()
		w.showWaiting()
		w.goOn()
		return
	}
	if f.doc != w.doc || f.of != w.board.Scheme {
		w.goOn()
		return
	}
	w.figures = f
	w.status.fault(nil)
	w.ranges.follow()
	w.outcomes.follow()
	w.channels.refresh()
	w.soaking.follow()
	w.year.refresh()
	w.ledger.refresh()
	w.section.refresh()
	w.draw()
	w.goOn()
	w.tellFigures()
}

// draw asks for the map of the newest figures; in haste while a thing is dragged. A
// page that lies over it goes first.
func (w *Window) draw() {
	if w.comparing.waits() {
		return
	}
	f, maker := w.figures, view.Maker{Before: w.scene, Show: w.show, Units: view.Units(w.units), Routes: &w.routes, Hasty: w.dragging()}
	w.drawing = true
	asked := f.asked
	if w.scene != nil && w.scene.Drainage != nil && w.scene.Site == f.site { // for another step
		asked = time.Now()
	}
	w.scenes.Request(func(ctx context.Context) (drawing, error) {
		scene, err := maker.Scene(ctx, f.site, &f.scheme)
		return drawing{doc: f.doc, scene: scene, asked: asked}, err
	})
}

// rest is how long a dragged thing must have been still for what was left out in
// haste to be made good.
const rest = 150 * time.Millisecond

// settle makes good what a scene was made without in haste, once no newer one
// comes.
func (w *Window) settle() {
	if !w.scene.Stale {
		return
	}
	doc, scene := w.doc, w.scene
	w.settled.Request(func(ctx context.Context) (drawing, error) {
		select {
		case <-ctx.Done():
			return drawing{}, ctx.Err()
		case <-time.After(rest):
		}
		whole, err := scene.Settled(ctx)
		return drawing{doc: doc, scene: whole, of: scene}, err
	})
}

// takeSettled shows a scene that was made good, if it is still the newest.
func (w *Window) takeSettled(d drawing, err error) {
	if err == nil && d.doc == w.doc && d.of == w.scene {
		w.scene = d.scene
		w.reshow()
	}
}

// selectionChanged follows a tool's choice.
func (w *Window) selectionChanged() {
	w.trace.say("selected", "id", w.board.Selected)
	if len(w.waters.fates.list) > 0 {
		w.retrail()
	}
	w.ledger.refresh()
	w.section.refresh()
	w.menu.refresh()
	w.drawbar.refresh()
	w.used()
}

// used shows what the tool is about now.
func (w *Window) used() {
	if w.doc == nil || w.pane.tool == nil {
		return
	}
	s := w.pane.tool.Sketch()
	w.pane.overlay = w.overlay(s)
	w.section.followTape()
	w.status.hint(s, w.units)
	w.pane.raster.Refresh()
}
