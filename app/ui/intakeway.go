package ui

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// newFromMeasurements begins a site from a file of contours or points.
func (w *Window) newFromMeasurements() {
	w.askFile(tr("New from contours or points"), measureEnds, w.beginFromMeasurements)
}

func (w *Window) beginFromMeasurements(path string) { w.surveyOn(beginning, path) }

// surveyOn turns to the page with a file on it.
func (w *Window) surveyOn(p purpose, path string) {
	w.surveying.guard(func() {
		w.surveying.open(p)
		w.surveying.add(path)
	})
}

// addAll puts the files that were dropped on the page, as far as they may hold
// measurements.
func (c *surveying) addAll(files []fyne.URI) {
	for _, f := range files {
		if endsIn(f.Path(), measureEnds) {
			c.add(f.Path())
		}
	}
}

// workOnSurvey turns to the page with what the open site's ground was made of.
func (w *Window) workOnSurvey() {
	s := w.doc.Site()
	w.surveying.open(reworking)
	w.surveying.own = s.Survey
	if s.Ground.Len() > 0 {
		w.surveying.ask.turnTo(w.units)
		w.surveying.ask.typedCell = w.surveying.ask.written(s.Ground.DX)
		w.surveying.ask.cell = s.Ground.DX
	}
	w.surveying.gather()
}

// needsMeasured is why the survey of the site cannot be worked on.
func (w *Window) needsMeasured() string {
	if why := w.needsSite(); why != "" {
		return why
	}
	if !w.doc.Site().Survey.Measured() {
		return tr("The ground of this site was not made of contours or points here.")
	}
	return ""
}

// askWhatFor asks what a dropped file that may be a plan or measurements is for.
func (w *Window) askWhatFor(path string) {
	choices := []choice{{word: tr("Cancel")}}
	if endsIn(path, recordEnds) {
		choices = append(choices, choice{word: tr("Daily record"), do: func() { w.bringRecord(path) }})
	}
	w.ask(prompt{title: tr("What is this file for?"), content: widget.NewLabel(filepath.Base(path)), choices: append(choices, []choice{
		{word: tr("Begin a new site"), do: func() { w.leave(func() { w.beginFromMeasurements(path) }) }},
		{word: tr("Replace the ground"), do: func() { w.surveyOn(replacing, path) }},
		{word: tr("Import as a plan"), do: func() { w.askPlan(path) }},
	}...)})
}

// whileSurveying keeps commands that are of the map, or change the site, from running
// while the page stands in the map's place.
func (w *Window) whileSurveying(c command) command {
	barred := false
	switch c.menu {
	case stepsMenu, drawMenu, mapMenu, schemeMenu:
		barred = true
	case fileMenu:
		barred = c.part == 2 || c.part == 3
	case editMenu:
		barred = c.part > 0
	}
	if !barred {
		return c
	}
	cannot := c.cannot
	c.cannot = func() string {
		if w.surveying.on {
			return tr("Bring the ground in, or cancel it, first.")
		}
		if cannot == nil {
			return ""
		}
		return cannot()
	}
	return c
}
