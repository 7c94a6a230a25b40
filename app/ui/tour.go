package ui

import "fyne.io/fyne/v2"

// A stop of the tour speaks of one part of the window, in one step of the job.
type stop struct {
	step int
	// of is the part that it speaks of; it may be folded away.
	of func(*Window) fyne.CanvasObject
	// beside is the side of that part that the card stands at.
	beside side
	// by is what the card stands by, where that is another part.
	by          func(*Window) fyne.CanvasObject
	title, does string
}

// stops lead through the seven steps on the demo site.
func stops() []stop {
	rail := func(w *Window) fyne.CanvasObject { return w.panes.rail }
	tools := func(w *Window) fyne.CanvasObject { return w.panes.tools }
	stage := func(w *Window) fyne.CanvasObject { return w.stage }
	tabs := func(w *Window) fyne.CanvasObject { return w.panes.tabs }
	ledger := func(w *Window) fyne.CanvasObject { return w.panes.ledger }
	section := func(w *Window) fyne.CanvasObject {
		if w.panes.shown(sectionPane) {
			return w.panes.section
		}
		return w.stage
	}
	return []stop{
		{0, rail, after, tools, tr("The job runs down the left"), tr("Seven steps, in the order in which they are done. Press a step to bring its tools, its map and its figures.")},
		{0, tools, after, nil, tr("Survey: what stands here"), tr("Take up a tool to draw a roof, a drain or a well. Press on the map for each corner and Return to finish.")},
		{1, stage, within, nil, tr("Water: where it runs"), tr("Move the pointer over the map: the path of a drop that falls there is drawn at once. The wheel comes closer, a drag moves the map.")},
		{2, tabs, below, nil, tr("Schemes are tabs"), tr("Each tab is one way to do it, and ‘As it is’ stays untouched. Press + for another scheme, or duplicate one to change it.")},
		{2, section, above, nil, tr("Shape: lead the water"), tr("Take the tool Channel, press along the way the water shall wind, and press Return. Then drag its corners: figures and sections follow.")},
		{3, ledger, before, nil, tr("Soak: what it is worth"), tr("The ledger, at the right, puts every figure beside the site as it is. Soak-in is a potential and a range; the soil and the days of running are yours to set.")},
		{4, tools, after, nil, tr("Plant: beds"), tr("Outline a bed and write in the ledger, at the right, what grows there.")},
		{5, tools, after, nil, tr("Walk: paths and places"), tr("Draw the paths and the places that they lead to. Cautions say where a path meets water.")},
		{6, tools, after, nil, tr("Hand over"), tr("Press a product to write the map, the drawing, the figures or the new ground into a file. Ctrl+P finds any command by a few letters.")},
	}
}

// noTour is why the tour cannot be taken.
func (w *Window) noTour() string {
	if w.options.DemoSite == nil {
		return tr("The tour is given on the demo site, and this build holds none.")
	}
	return ""
}

// tourPreference is what it is remembered under that the tour has been offered.
const tourPreference = "tour was offered"

// startTour opens the demo site, unless a site is open, and begins the tour.
func (w *Window) startTour() {
	w.app.Preferences().SetBool(tourPreference, true)
	if w.doc == nil {
		w.openDemo()
	}
	w.endTour()
	w.tour = newTour(w)
	w.over.Add(w.tour.layer)
	w.tour.visit(0)
}

// endTour takes the card away.
func (w *Window) endTour() {
	if w.tour == nil {
		return
	}
	w.over.Remove(w.tour.layer)
	w.tour = nil
	w.focusMap()
}

// keepTour puts the card back after the window was built anew.
func (w *Window) keepTour() {
	if w.tour == nil {
		return
	}
	at := w.tour.at
	w.tour = newTour(w)
	w.over.Add(w.tour.layer)
	w.tour.visit(at)
}
