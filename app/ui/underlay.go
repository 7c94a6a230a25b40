package ui

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// imageEnds are how the names of files end that may lie under the map, and
// pictureEnds those that can be nothing else.
var (
	pictureEnds = []string{".png", ".jpg", ".jpeg"}
	imageEnds   = append(slices.Clip(pictureEnds), rasterEnds...)
)

func (w *Window) askUnderlay() {
	w.askFile(tr("Lay an image under the map"), imageEnds, w.layUnderlay)
}

// layUnderlay reads an image and lays it under the map.
func (w *Window) layUnderlay(path string) { w.layUnderlayIn(path, "") }

// layUnderlayIn lays an image whose system is that given; empty asks the file.
func (w *Window) layUnderlayIn(path, system string) {
	w.readUnderlay(path, gdal.UnderlayOptions{System: system}, w.takeUnderlay)
}

// readUnderlay reads an image to lie under the map, and then does what comes next; where
// it does not say where it lies, that is asked.
func (w *Window) readUnderlay(path string, o gdal.UnderlayOptions, next func(plan.Underlay, []string)) {
	s := w.doc.Site()
	o.Site = s.CRS
	if s.Ground.Len() > 0 {
		o.Ground = s.Ground.Bound()
	}
	var read plan.Underlay
	var notes []string
	w.start(job{
		doing: trf("Reading %s", filepath.Base(path)),
		run: func(ctx context.Context) (err error) {
			read, notes, err = w.options.In.Underlay(ctx, path, o)
			return err
		},
		done: func(err error) {
			switch {
			case errors.Is(err, gdal.ErrNoSystem), errors.Is(err, gdal.ErrNoPlace):
				w.askPlaceOf(path, err)
			case err != nil:
				w.complain(err)
			default:
				next(read, notes)
			}
		},
	})
}

// askPlaceOf says that it is not known where an image lies, and offers to place it by
// points, or to take its coordinates, if it has any, for the site's.
func (w *Window) askPlaceOf(path string, err error) {
	words := widget.NewLabel(sentence(w.units.told(err.Error())))
	words.Wrapping = fyne.TextWrapWord
	points := choice{word: tr("Place it by points…"), do: func() { w.placeImage(path) }}
	choices := []choice{{word: tr("Cancel")}, points}
	if errors.Is(err, gdal.ErrNoSystem) {
		choices = append(choices, choice{word: tr("It is in the site's own system"), do: func() { w.layUnderlayIn(path, gdal.OwnSystem) }})
	}
	w.ask(prompt{title: tr("Where does this image lie?"), content: words, size: fyne.NewSize(600, 200), choices: choices})
}

func (w *Window) takeUnderlay(read plan.Underlay, notes []string) {
	if err := w.doc.Do(&site.AddUnderlay{Underlay: read}); err != nil {
		w.complain(err)
		return
	}
	w.trace.say("underlay", "name", read.Name, "width", read.Frame.W, "height", read.Frame.H)
	if len(notes) > 0 {
		w.tell(tr("About this image"), strings.Join(sentences(w.units, notes), "\n\n"))
		return
	}
	w.tellBelow(trf("%s lies under the map. How strongly it shows is set in the Survey step.", read.Title()))
}

// followUnderlays shows the images as they are now, ahead of the figures, which do
// not hang on them.
func (w *Window) followUnderlays() {
	if w.scene != nil && w.pane.scene != nil && !slices.Equal(w.pane.scene.Underlays, w.doc.Site().Underlays) {
		w.reshow()
	}
}

// changeUnderlay changes an image that is still there.
func (w *Window) changeUnderlay(id plan.UnderlayID, g site.Gesture, change func(*plan.Underlay)) error {
	s := w.doc.Site()
	i := s.UnderlayIndex(id)
	if i < 0 {
		return nil
	}
	u := s.Underlays[i]
	change(&u)
	return w.doc.Do(&site.ChangeUnderlay{After: u, Gesture: g})
}

// wholePercent writes a share.
func wholePercent(share float64) string { return with(decimal(100*share, 0), "%") }
