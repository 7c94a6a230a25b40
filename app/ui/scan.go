package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"github.com/paulmach/orb"

	"runnel/app/tool"
	"runnel/app/view"
	"runnel/geo"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// scanning asks where an image lies that does not say so: places are clicked on the
// image and again on the map, and the image is laid so that they fit best.
type scanning struct {
	w    *Window
	path string
	// image is as it was read: east is how far right a pixel is, north how far above
	// the upper edge, which is below nought.
	image plan.Underlay
	pane  *mapPane
	pairs []geo.Pair
	// held is a place on the image that waits for its place on the ground; nil for none.
	held *orb.Point
	// alike is set where the image may be turned and scaled alone.
	alike bool
	// fit is how the image lies, unless fault says why that is not known.
	fit   geo.Fit
	fault error
	shown *view.Arrivals
	form  *scanForm
}

// faceUp lays an image with its upper left corner at nought, a metre a pixel.
var faceUp = geo.Affine{0, 1, 0, 0, 0, -1}

// placeImage shows an image beside the map and asks where it lies.
func (w *Window) placeImage(path string) {
	var image plan.Underlay
	w.start(job{
		doing: trf("Reading %s", filepath.Base(path)),
		run: func(ctx context.Context) (err error) {
			image, _, err = w.options.In.Underlay(ctx, path, gdal.UnderlayOptions{Place: &faceUp})
			return err
		},
		done: func(err error) {
			switch {
			case w.doc == nil:
			case err != nil:
				w.complain(err)
			default:
				s := &scanning{w: w, path: path, image: image}
				s.pane = s.newPane()
				s.refit()
				w.held = placing
				w.inquiry.ask(s)
				w.trace.say("placing", "width", image.Frame.W, "height", image.Frame.H)
			}
		},
	})
}

// scanNow is the image that is being placed; nil for none.
func (w *Window) scanNow() *scanning {
	s, _ := w.inquiry.now.(*scanning)
	return s
}

// pickOnImage takes a place on the image.
func (s *scanning) pickOnImage(p tool.Pointer) tool.Answers {
	f := s.image.Frame
	at := orb.Point{p.At[0], -p.At[1]}
	if at[0] < 0 || at[1] < 0 || at[0] > float64(f.W)*f.DX || at[1] > float64(f.H)*f.DY {
		return nil
	}
	s.held = &at
	if s.w.held != placing {
		s.w.takeUp(placing)
	}
	s.changed()
	return nil
}

// placeOnGround takes the place on the ground of what was clicked on the image.
func (w *Window) placeOnGround(p tool.Pointer) tool.Answers {
	s := w.scanNow()
	if s == nil {
		return nil
	}
	if s.held == nil {
		return func() ([]string, string) {
			return nil, tr("Click a place on the image first, then the same place here")
		}
	}
	s.pair(p.At)
	return nil
}

// pair joins the place on the image that waits to one on the ground.
func (s *scanning) pair(ground orb.Point) {
	s.pairs = append(s.pairs, geo.Pair{Pixel: *s.held, Ground: ground})
	s.held = nil
	s.changed()
}

// move gives a pair another place on the ground.
func (s *scanning) move(i int, ground orb.Point) {
	s.pairs = slices.Clone(s.pairs)
	s.pairs[i].Ground = ground
	s.changed()
}

// remove takes a pair away.
func (s *scanning) remove(i int) {
	s.pairs = slices.Delete(slices.Clone(s.pairs), i, i+1)
	s.changed()
}

// changed lays the image anew and shows how.
func (s *scanning) changed() {
	s.refit()
	s.w.trace.say("pairs", "count", len(s.pairs), "waiting", s.held != nil, "rms", s.fit.RMS)
	s.form.update()
	s.pane.overlay.Pins = s.imagePins()
	s.pane.raster.Refresh()
	s.w.reshow()
	s.w.used()
}

// least is how many pairs the manner of laying needs.
func (s *scanning) least() int {
	if s.alike {
		return 2
	}
	return 3
}

// refit works out how the image lies, and its outline on the map.
func (s *scanning) refit() {
	fit := geo.FitAffine
	if s.alike {
		fit = geo.FitSimilarity
	}
	s.shown = nil
	if s.fit, s.fault = fit(s.pairs); s.fault != nil {
		s.fit = geo.Fit{}
		return
	}
	f := s.image.Frame
	w, h := float64(f.W)*f.DX, float64(f.H)*f.DY
	ring := orb.Ring{s.fit.To(orb.Point{0, 0}), s.fit.To(orb.Point{w, 0}), s.fit.To(orb.Point{w, h}), s.fit.To(orb.Point{0, h})}
	s.shown = view.NewArrivals(nil, []orb.Geometry{orb.Polygon{append(ring, ring[0])}})
}

// tells reports whether the pairs tell which of them is the furthest off. With one more
// than is needed how far each is off against the others follows from where they lie,
// whichever is wrong: four corners of an image are all off alike.
func (s *scanning) tells() bool { return s.fault == nil && len(s.pairs) > s.least()+1 }

// loud reports whether a pair is the one to look at: the furthest off, where that means
// anything.
func (s *scanning) loud(i int) bool { return s.tells() && i == s.fit.Worst }

// pins mark the places on the ground.
func (s *scanning) pins() (pins []view.Pin) {
	for i, p := range s.pairs {
		pins = append(pins, view.Pin{At: p.Ground, Name: strconv.Itoa(i + 1), Loud: s.loud(i)})
	}
	return pins
}

// imagePins mark the places on the image.
func (s *scanning) imagePins() (pins []view.Pin) {
	for i, p := range s.pairs {
		pins = append(pins, view.Pin{At: orb.Point{p.Pixel[0], -p.Pixel[1]}, Name: strconv.Itoa(i + 1), Loud: s.loud(i)})
	}
	if s.held != nil {
		pins = append(pins, view.Pin{At: orb.Point{s.held[0], -s.held[1]}, Name: strconv.Itoa(len(s.pairs) + 1)})
	}
	return pins
}

// layIt reads the image again to where the pairs lay it, and puts it under the map.
func (s *scanning) layIt() {
	w := s.w
	if s.fault != nil {
		return
	}
	place := s.fit.Affine
	w.readUnderlay(s.path, gdal.UnderlayOptions{Place: &place}, func(read plan.Underlay, notes []string) {
		if w.scanNow() == s {
			w.inquiry.leave()
		}
		w.takeUnderlay(read, notes)
	})
}

func (s *scanning) arrivals() *view.Arrivals { return s.shown }

// over needs nothing given up.
func (s *scanning) over() { s.pane.forget() }

func (s *scanning) content() fyne.CanvasObject {
	s.form = newScanForm(s)
	s.form.update()
	return s.form.object
}

// placeTyped reads an easting and a northing [m], parted by a comma, a semicolon or a
// space; where a comma does not part them it may stand for the point.
func placeTyped(typed string) (orb.Point, error) {
	typed = strings.TrimSpace(typed)
	parts := strings.Fields(typed)
	switch {
	case strings.Contains(typed, ";"):
		parts = strings.Split(typed, ";")
	case len(parts) != 2 && strings.Count(typed, ",") == 1:
		parts = strings.Split(typed, ",")
	}
	var p orb.Point
	ok := len(parts) == 2
	for i := 0; ok && i < 2; i++ {
		text := strings.Trim(parts[i], " ,")
		v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		p[i], ok = v, err == nil && v-v == 0
	}
	if !ok {
		return p, fmt.Errorf("the place is %q; give east and north in metres, as in 523440.12, 4811200.55", typed)
	}
	return p, nil
}

// placeWords writes a place as placeTyped reads it.
func placeWords(p orb.Point) string {
	figure := func(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
	return figure(p[0]) + ", " + figure(p[1])
}
