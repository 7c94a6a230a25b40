package view

import (
	"context"
	"image"
	"slices"
	"time"

	"runnel/app/work"
)

// A labelJob is a window of a map whose labels are wanted.
type labelJob struct {
	moment
	window, view image.Rectangle
	// letters remember what was set before; one job has them at a time.
	letters *typesetter
}

// widened returns a view with a share of it more on each side.
func widened(view image.Rectangle, part int) image.Rectangle {
	return image.Rect(view.Min.X-view.Dx()/part, view.Min.Y-view.Dy()/part, view.Max.X+view.Dx()/part, view.Max.Y+view.Dy()/part)
}

// labelsFit reports whether there are labels of a moment for all of a view.
func (t *Tiles) labelsFit(m moment, view image.Rectangle) bool {
	return t.labels != nil && t.labels.same(m) && view.In(t.labels.window)
}

// labelsLeft is when another moment came in place of that of the labels.
func (t *Tiles) labelsLeft() time.Time {
	for i := len(t.past) - 1; i >= 0 && t.labels != nil; i-- {
		if t.past[i].same(t.labels.moment) {
			return t.past[i].left
		}
	}
	return time.Time{}
}

// askLabels asks for the labels of a view before it runs out of those that there
// are. Labels that are being drawn are finished: they take less long than a person
// takes to turn the wheel, and may be of use again.
func (t *Tiles) askLabels(view image.Rectangle) {
	m := t.past[len(t.past)-1]
	if t.labelsFit(m, widened(view, 20)) || t.inHand != nil && t.inHand.same(m) && view.In(t.inHand.window) {
		t.label = nil
		return
	}
	if m.plate.Stale && t.labels != nil && t.labels.level == m.level && view.In(t.labels.window) {
		t.label = nil // until the thing that is dragged has come to rest
		return
	}
	window := widened(view, 7)
	if t.labels != nil && t.labels.level == m.level && view.In(t.labels.window) && !t.labels.same(m) {
		window, view = t.labels.window, t.labels.view // that they do not move while things are edited
	}
	t.label = &labelJob{m, window, view, t.letters}
}

// mostLabels is how many bytes of labels are kept besides those in use.
const mostLabels = 32 << 20

// keepSheet keeps a sheet, and drops the oldest where there are too many.
func (t *Tiles) keepSheet(sheet *labelSheet) {
	sheet.edition = sheet.outline()
	t.sheets = append(slices.DeleteFunc(t.sheets, func(s *labelSheet) bool { return s.same(sheet.moment) }), sheet)
	held, first := 0, len(t.sheets)
	for ; first > 0 && held < mostLabels; first-- {
		held += t.sheets[first-1].bytes()
	}
	t.sheets = slices.Delete(t.sheets, 0, first)
	if now := t.past[len(t.past)-1]; sheet.same(now) || t.labels == nil || !t.labels.same(now) {
		t.labels = sheet
	}
}

// bytes is how much memory a sheet's pictures take.
func (s *labelSheet) bytes() (sum int) {
	for _, w := range s.sprites {
		sum += len(w.image.Pix)
		if w.patch.RGBA != nil {
			sum += len(w.patch.Pix)
		}
	}
	return sum
}

// drawLabels draws the labels that are wanted, and reports whether any were.
func (t *Tiles) drawLabels() bool {
	if t.label == nil || t.labelling != nil || t.stopped {
		return false
	}
	job, before := *t.label, t.labels
	t.inHand, t.label = &job, nil
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	t.labelling = cancel
	t.mu.Unlock()
	var sheet *labelSheet
	err := work.Guard(func() (err error) { sheet, err = drawSheet(polite{ctx, &t.frame}, job, before); return err })
	t.mu.Lock()
	t.labelling, t.inHand = nil, nil
	if ctx.Err() != nil {
		return true
	}
	if err != nil { // none, not the same mistake over and over
		sheet = &labelSheet{moment: job.moment, window: job.window, view: job.view}
	}
	t.keepSheet(sheet)
	t.tell()
	return true
}

// sprites returns what is laid over the map that is in view, if it has its look.
func (t *Tiles) sprites() *labelSheet {
	if t.labels == nil || t.labels.mark.look != t.now.mark.look {
		return nil
	}
	return t.labels
}
