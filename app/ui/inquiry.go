package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"github.com/paulmach/orb"

	"runnel/app/view"
)

// An inquiry stands in the ledger's place while something is asked that wants the map in
// sight: what the shapes of a drawing are, where an image lies.
type inquiry struct {
	w   *Window
	box *fyne.Container
	now matter
}

// A matter is what an inquiry is about.
type matter interface {
	// content is built anew for another look, units or language.
	content() fyne.CanvasObject
	// picture stands beside the map; nil for none.
	picture() fyne.CanvasObject
	// arrivals are laid over the map; nil for none.
	arrivals() *view.Arrivals
	// pins mark places on the map.
	pins() []view.Pin
	// over tells that it is asked no more.
	over()
}

func newInquiry(w *Window) *inquiry { return &inquiry{w: w, box: container.NewStack()} }

func (q *inquiry) on() bool { return q.now != nil }

// ask puts a matter into the ledger's place.
func (q *inquiry) ask(m matter) {
	q.leave()
	q.w.comparing.leave()
	q.w.leaveFigures()
	q.now = m
	q.w.build()
}

// leave brings the ledger back.
func (q *inquiry) leave() {
	if !q.on() {
		return
	}
	m := q.now
	q.now = nil
	m.over()
	if q.w.held == placing {
		q.w.held = selecting
	}
	if q.w.doc != nil {
		q.w.build()
		q.w.reshow()
	}
}

// arrivals are what it lays over the map.
func (q *inquiry) arrivals() *view.Arrivals {
	if !q.on() {
		return nil
	}
	return q.now.arrivals()
}

// pins are the places that it marks on the map.
func (q *inquiry) pins() []view.Pin {
	if !q.on() {
		return nil
	}
	return q.now.pins()
}

// build makes what is shown anew, over the ledger's own.
func (q *inquiry) build(ledger fyne.CanvasObject) {
	q.box.RemoveAll()
	shown(ledger, !q.on())
	if q.on() {
		q.box.Add(q.now.content())
	}
}

// beside gives the map the whole of its place, or half where a picture stands beside it.
func (q *inquiry) beside(stage fyne.CanvasObject) fyne.CanvasObject {
	if q.on() {
		if picture := q.now.picture(); picture != nil {
			return container.New(halves{}, edged(picture, after), stage)
		}
	}
	return stage
}

// halves lays two objects side by side, each with half the width.
type halves struct{}

// Layout implements fyne.Layout.
func (halves) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for i, o := range objects {
		o.Move(fyne.NewPos(float32(i)*size.Width/2, 0))
		o.Resize(fyne.NewSize(size.Width/2, size.Height))
	}
}

// MinSize implements fyne.Layout.
func (halves) MinSize(objects []fyne.CanvasObject) (size fyne.Size) {
	for _, o := range objects {
		least := o.MinSize()
		size = fyne.NewSize(max(size.Width, 2*least.Width), max(size.Height, least.Height))
	}
	return size
}

// matterPage lays a heading over what scrolls, and over buttons that do not.
func matterPage(title string, rows *fyne.Container, foot fyne.CanvasObject) fyne.CanvasObject {
	head := container.New(layout.NewCustomPaddedLayout(2*gap, gap, 3*gap, 3*gap), text(title, heading))
	return container.NewBorder(edged(head, below), edged(padded(container.NewStack(foot)), above), nil, nil,
		container.NewVScroll(padded(rows)))
}

// bring shows a part of the ground, whole and with room about it, wherever it lies.
func (m *mapPane) bring(b orb.Bound) {
	if m.width == 0 || m.scene == nil {
		return
	}
	const least = 5 // about a single point [m]
	m.fitted, m.moved = true, true
	m.camera = view.Fit(b.Pad(max(least, 0.15*max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]))), m.width, m.height)
	m.redraw()
}
