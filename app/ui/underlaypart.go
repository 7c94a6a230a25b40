package ui

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"runnel/app/site"
	"runnel/geo/plan"
)

// An underlaysPart lists the images under the map.
type underlaysPart struct {
	w     *Window
	box   *fyne.Container
	none  fyne.CanvasObject
	list  *fyne.Container
	rows  []*underlayRow
	shown string
}

func newUnderlaysPart(w *Window) *underlaysPart {
	p := &underlaysPart{w: w, list: container.NewVBox()}
	p.none = paragraph(tr("An aerial picture, or any raster with a place on the earth, can lie under the map. It becomes part of the site's file."))
	p.box = container.NewVBox(text(tr("Images under the map"), heading), p.none, p.list, newButton(tr("Add an image…"), w.askUnderlay))
	return p
}

func (p *underlaysPart) content() fyne.CanvasObject { return p.box }

// update builds the rows anew where other images are there, the uppermost first.
func (p *underlaysPart) update() {
	underlays := p.w.doc.Site().Underlays
	var ids []plan.UnderlayID
	for _, u := range underlays {
		ids = append(ids, u.ID)
	}
	if now := fmt.Sprint(ids); now != p.shown {
		p.shown, p.rows = now, nil
		p.list.RemoveAll()
		for i := len(underlays) - 1; i >= 0; i-- {
			r := newUnderlayRow(p.w, underlays[i])
			p.rows = append(p.rows, r)
			p.list.Add(r.box)
		}
		p.list.Refresh()
	}
	shown(p.none, len(underlays) == 0)
	for i, r := range p.rows {
		r.put(underlays[len(underlays)-1-i])
	}
}

// An underlayRow is one image: whether it is shown, its name, how strongly.
type underlayRow struct {
	w       *Window
	id      plan.UnderlayID
	box     *fyne.Container
	tick    *tick
	asked   *question
	name    *answer
	slider  *slide
	figure  *canvas.Text
	gesture site.Gesture
}

func newUnderlayRow(w *Window, u plan.Underlay) *underlayRow {
	r := &underlayRow{w: w, id: u.ID, figure: rightText("", body), slider: w.newSlide(100)}
	r.tick = w.newTick("", nil)
	r.name = newAnswer("", func(typed string) error {
		return r.asked.complain(w.changeUnderlay(r.id, 0, func(u *plan.Underlay) { u.Name = typed }))
	})
	remove := newButton(tr("Remove"), func() { w.complain(w.doc.Do(&site.RemoveUnderlay{ID: r.id})) })
	r.asked = newQuestion(tr("Name"), r.name, "")
	// The name takes the room that the tick and the button leave it.
	r.asked.row.Objects[0] = container.NewBorder(nil, nil, r.tick, remove, r.name)
	r.box = container.NewVBox(r.asked.row,
		container.New(columns{6, 14, 5}, text(tr("Opacity"), body), r.slider, r.figure))
	if u.Picture.Sound() != nil {
		r.box.Add(paragraph(tr("A part of this image is damaged and is not shown. Remove the image and add it again from its file.")))
	}
	return r
}

// put shows an image as it is, and tells no one.
func (r *underlayRow) put(u plan.Underlay) {
	if r.name.put(u.Name) {
		r.asked.complain(nil)
	}
	r.tick.OnChanged, r.slider.OnChanged, r.slider.OnChangeEnded = nil, nil, nil
	r.tick.SetChecked(!u.Hidden)
	r.slider.SetValue(math.Round(100 * u.Opacity))
	r.tick.OnChanged, r.slider.OnChanged = r.turn, r.drag
	r.slider.OnChangeEnded = func(float64) { r.gesture = 0 }
	say(r.figure, wholePercent(u.Opacity))
}

func (r *underlayRow) turn(on bool) {
	r.w.complain(r.w.changeUnderlay(r.id, 0, func(u *plan.Underlay) { u.Hidden = !on }))
}

// drag takes a step of the slider; a drag is one step to undo.
func (r *underlayRow) drag(to float64) {
	if r.gesture == 0 {
		r.gesture = r.w.doc.Gesture()
	}
	r.w.complain(r.w.changeUnderlay(r.id, r.gesture, func(u *plan.Underlay) { u.Opacity = to / 100 }))
}
