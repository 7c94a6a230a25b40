package ui

import (
	"encoding/json"
	"slices"

	"runnel/geo/plan"
)

// A placeLeft is where the work on a site's file was left: its step and its scheme.
type placeLeft struct {
	Path string `json:"path"`
	// Name is the site's.
	Name   string        `json:"name"`
	Step   int           `json:"step"`
	Scheme plan.SchemeID `json:"scheme"`
}

const (
	placesPreference = "where sites were left"
	mostPlaces       = 20
)

// placesLeft lists where sites were left, the last one first. A list that cannot be
// read is empty.
func (w *Window) placesLeft() (list []placeLeft) {
	if json.Unmarshal([]byte(w.app.Preferences().String(placesPreference)), &list) != nil {
		return nil
	}
	return list
}

// keepPlace remembers where the work on the open file is.
func (w *Window) keepPlace() {
	at := placeLeft{w.doc.Path(), w.doc.Site().Name, w.step, w.board.Scheme}
	if at.Path == "" {
		return
	}
	list := slices.DeleteFunc(w.placesLeft(), func(p placeLeft) bool { return p.Path == at.Path })
	list = slices.Insert(list, 0, at)
	if text, err := json.Marshal(list[:min(len(list), mostPlaces)]); err == nil {
		w.app.Preferences().SetString(placesPreference, string(text))
	}
}

// placeOf is where the work on a file was left, if that is remembered.
func (w *Window) placeOf(path string) (placeLeft, bool) {
	list := w.placesLeft()
	i := slices.IndexFunc(list, func(p placeLeft) bool { return p.Path == path })
	if path == "" || i < 0 {
		return placeLeft{}, false
	}
	return list[i], true
}

// comeBack takes up the step and the scheme at which the open file was left; for
// another one, the first of both.
func (w *Window) comeBack() {
	w.step = 0
	if schemes := w.doc.Site().Plan.Schemes; len(schemes) > 0 {
		w.board.Scheme = schemes[0].ID
	}
	at, known := w.placeOf(w.doc.Path())
	if known && at.Step >= 0 && at.Step < len(steps) {
		w.step = at.Step
	}
	if known && w.hasScheme(at.Scheme) {
		w.board.Scheme = at.Scheme
	}
	w.keepPlace()
}
