package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"github.com/paulmach/orb/planar"

	"runnel/app/view"
)

// hollowsShown is how many hollows the ledger lists.
const hollowsShown = 6

// A hollowsPart lists the places that pond, the biggest first.
type hollowsPart struct {
	w    *Window
	box  *fyne.Container
	rows *fyne.Container
	said string
}

func newHollowsPart(w *Window) *hollowsPart {
	p := &hollowsPart{w: w, rows: container.NewVBox()}
	p.box = container.NewVBox(w.labelled(tr("Hollows"), heading, "hollow"), p.rows)
	return p
}

func (p *hollowsPart) content() fyne.CanvasObject { return p.box }

// hollowShares are the widths of a hollow's number and figures.
var hollowShares = columns{3, 8, 7, 8, 6}

func (p *hollowsPart) update() {
	found := p.w.hollows()
	pending := p.w.pending(p.w.sceneNow().Ponding != nil)
	var rows [][5]string
	for i, h := range found[:min(len(found), hollowsShown)] {
		u := p.w.units
		rows = append(rows, [5]string{fmt.Sprint(i + 1), u.volume(h.Volume), u.length(h.Depth), u.area(h.Area), spillsTo(h)})
	}
	said := fmt.Sprint(pending, len(found), p.w.waters.hollow, rows)
	if said == p.said {
		return
	}
	p.said = said
	p.rows.RemoveAll()
	if len(rows) > 0 {
		p.rows.Add(container.New(hollowShares, text("", caption), rightText(tr("Holds"), caption), rightText(tr("Deepest"), caption),
			rightText(tr("Area"), caption), rightText(tr("Spills to"), caption)))
	}
	for i, r := range rows {
		weight := body
		if i+1 == p.w.waters.hollow {
			weight = strong
		}
		row := container.New(hollowShares, text(r[0], strong), rightText(r[1], strong), rightText(r[2], weight), rightText(r[3], weight), rightText(r[4], weight))
		p.rows.Add(newPressRow(row, func() { p.w.pointOut(i) }))
	}
	if pending != "" {
		p.rows.Add(paragraph(pending))
	} else {
		p.rows.Add(paragraph(p.w.hollowNote(len(found))))
	}
	p.rows.Refresh()
}

// spillsTo names what takes the water that a hollow spills.
func spillsTo(h view.Hollow) string {
	switch {
	case h.Into < 0:
		return tr("away")
	case h.Into >= hollowsShown:
		return tr("smaller")
	}
	return trf("no. %d", h.Into+1)
}

// hollows lists those that the map shows.
func (w *Window) hollows() []view.Hollow {
	if p := w.sceneNow().Ponding; p != nil {
		return p.Hollows
	}
	return nil
}

// pointOut shows one of the listed hollows on the map: outlined, and near enough to
// tell its shape. Once more puts the outline away, and so does -1.
func (w *Window) pointOut(i int) {
	found := w.hollows()
	if i < 0 || i+1 == w.waters.hollow || i >= len(found) {
		w.waters.hollow, w.pane.overlay.Outline = 0, nil
	} else {
		w.waters.hollow, w.waters.deepest, w.pane.overlay.Outline = i+1, found[i].Deepest, found[i].Outline
		w.pane.approach(found[i].Outline.Bound())
	}
	w.pane.raster.Refresh()
	w.ledger.refresh()
	w.trace.say("hollow", "number", w.waters.hollow)
}

// keepOutline follows the hollow that is pointed out to the newest scene, where
// another place in the list may be its own, or none.
func (w *Window) keepOutline() {
	pointed := w.waters.hollow > 0
	w.waters.hollow, w.pane.overlay.Outline = 0, nil
	for i, h := range w.hollows() {
		if pointed && planar.MultiPolygonContains(h.Outline, w.waters.deepest) {
			w.waters.hollow, w.waters.deepest, w.pane.overlay.Outline = i+1, h.Deepest, h.Outline
			return
		}
	}
}

func (w *Window) hollowNote(found int) string {
	least := w.units.length(w.scene.Ponding.Least.Depth)
	switch {
	case found == 0:
		return trf("No place on this ground ponds %s deep before it spills; what is shallower may be the survey's error.", least)
	case found > hollowsShown:
		return trf("The biggest %[1]d of %[2]d places that pond before they spill, brim-full. Those less than %[3]s deep are left out: they may be the survey's error. Press one to see it on the map.", hollowsShown, found, least)
	}
	return trf("Places that pond before they spill, brim-full. Those less than %s deep are left out: they may be the survey's error. Press one to see it on the map.", least)
}
