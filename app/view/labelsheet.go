package view

import (
	"context"
	"image"
	"time"

	"runnel/app/work"
)

// A labelJob is a window of a map whose labels are wanted.
type labelJob struct {
	moment
	window image.Rectangle
	// letters remember what was set before; one job has them at a time.
	letters *typesetter
}

// labelWindow returns what the labels of a view are arranged for: the view and half as
// much about it, so that the view may be moved a good way under them.
func labelWindow(view image.Rectangle) image.Rectangle {
	return image.Rect(view.Min.X-view.Dx()/4, view.Min.Y-view.Dy()/4, view.Max.X+view.Dx()/4, view.Max.Y+view.Dy()/4)
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

// askLabels asks for the labels of a view of the target, before it runs out of those
// that there are.
func (t *Tiles) askLabels(view image.Rectangle) {
	near := image.Rect(view.Min.X-view.Dx()/10, view.Min.Y-view.Dy()/10, view.Max.X+view.Dx()/10, view.Max.Y+view.Dy()/10)
	if t.label != nil {
		if t.label.same(t.target) && view.In(t.label.window) {
			return
		}
		t.label = nil
		if t.labelling != nil {
			t.labelling()
		}
	}
	if !t.labelsFit(t.target, near) {
		window := labelWindow(view)
		if t.labels != nil && t.labels.level == t.target.level && view.In(t.labels.window) && !t.labels.same(t.target) {
			window = t.labels.window // that they do not move while things are edited
		}
		t.label = &labelJob{t.target, window, t.letters}
	}
}

// drawLabels draws the labels that are wanted, and reports whether any were.
func (t *Tiles) drawLabels() bool {
	if t.label == nil || t.labelling != nil || t.stopped {
		return false
	}
	job, before := *t.label, t.labels
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	t.labelling = cancel
	t.mu.Unlock()
	var sheet *labelSheet
	err := work.Guard(func() (err error) { sheet, err = drawSheet(ctx, job, before); return err })
	t.mu.Lock()
	t.labelling = nil
	if ctx.Err() != nil {
		return true
	}
	if err != nil { // none, not the same mistake over and over
		sheet = &labelSheet{moment: job.moment, window: job.window}
	}
	t.label, t.labels = nil, sheet
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
