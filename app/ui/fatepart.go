package ui

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/fate"
	"runnel/app/view"
)

// fatesShown is how many roofs and pieces of paving the ledger lists.
const fatesShown = 12

// A fatesPart lists the roofs and the paving, with where their water ends.
type fatesPart struct {
	w    *Window
	box  *fyne.Container
	all  *tick
	rows *fyne.Container
	said string
}

func newFatesPart(w *Window) *fatesPart {
	p := &fatesPart{w: w, rows: container.NewVBox()}
	p.all = w.newTick(tr("All on the map"), w.showAllTrails)
	p.box = container.NewVBox(w.labelled(tr("Water of roofs and paving"), heading, "fate"), p.all, p.rows)
	return p
}

// showAllTrails shows the ways of all surfaces' water, or only those that are chosen.
func (w *Window) showAllTrails(on bool) {
	if w.waters.allTrails = on; on {
		w.show = w.show.With(view.Fates)
	}
	w.retrail()
	w.ledger.refresh()
}

func (p *fatesPart) content() fyne.CanvasObject { return p.box }

// fateShares are the widths of a surface's number, name and figures; the heads of
// the figures take some of the name's.
var fateShares, fateHeads = columns{3, 15, 8, 8}, columns{3, 12, 11, 8}

func (p *fatesPart) update() {
	w := p.w
	p.all.Checked = w.waters.allTrails
	p.all.Refresh()
	pending := w.pending(w.waters.fates.of != nil)
	list := w.waters.fates.list
	listed := list[:min(len(list), fatesShown)]
	said := fmt.Sprint(pending, len(list), w.waters.allTrails, w.waters.chosen)
	for _, f := range listed {
		said += fmt.Sprint(f.Feature, w.called(f.Feature), f.Storm, f.Year, w.ends(f))
	}
	shown(p.all, len(list) > 0)
	if said == p.said {
		return
	}
	p.said = said
	p.rows.RemoveAll()
	if len(listed) > 0 {
		p.rows.Add(container.New(fateHeads, text("", caption), text("", caption), rightText(tr("Design storm"), caption), rightText(tr("Mean year"), caption)))
	}
	for i, f := range listed {
		p.rows.Add(p.row(i, f))
	}
	p.rows.Add(paragraph(fateNote(pending, len(list))))
	p.rows.Refresh()
}

// row shows one surface; to point at it shows the way of its water, to press it
// keeps that on the map.
func (p *fatesPart) row(i int, f fate.Fate) fyne.CanvasObject {
	w, id := p.w, f.Feature
	weight := body
	if w.waters.chosen[id] || w.waters.allTrails {
		weight = strong
	}
	name := widget.NewLabelWithStyle(w.called(id), fyne.TextAlignLeading, fyne.TextStyle{Bold: weight == strong})
	name.Truncation = fyne.TextTruncateEllipsis
	row := newPressRow(container.NewVBox(
		container.New(fateShares, p.badge(i+1), flush(name), rightText(w.units.volume(f.Storm), weight), rightText(w.units.volume(f.Year), weight)),
		container.New(columns{3, 30}, text("", caption), paragraph(w.ends(f))),
	), func() { w.chooseTrail(id) })
	row.onPoint = func(on bool) {
		if on {
			w.pointAt(id)
		} else if w.waters.pointed == id {
			w.pointAt(0)
		}
	}
	return row
}

// badge is the number of a surface as the map writes it.
func (p *fatesPart) badge(number int) fyne.CanvasObject {
	disc := canvas.NewCircle(p.w.look.palette.TrailColour(number))
	word := canvas.NewText(fmt.Sprint(number), p.w.look.palette.Paper)
	word.TextSize, word.TextStyle.Bold, word.Alignment = text("", caption).TextSize, true, fyne.TextAlignCenter
	return container.NewCenter(container.New(badgeSize{}, disc, word))
}

// badgeSize lays a number on its disc.
type badgeSize struct{}

// Layout implements fyne.Layout.
func (badgeSize) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(size)
	}
}

// MinSize implements fyne.Layout.
func (badgeSize) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSquareSize(4.5 * gap) }

// ends says in words where a surface's water ends.
func (w *Window) ends(f fate.Fate) string {
	var words []string
	share := map[string]float64{}
	for _, part := range f.Parts {
		way := w.endOf(part)
		if len(part.Through) > 0 {
			way = trf("%[1]s through %[2]s", way, w.called(part.Through[len(part.Through)-1]))
		}
		if share[way] == 0 {
			words = append(words, way)
		}
		share[way] += part.Share
	}
	slices.SortStableFunc(words, func(a, b string) int { return cmp.Compare(share[b], share[a]) })
	rest := 1.0
	for i, way := range words {
		if share[way] < leastShare || i == waysSaid {
			words = words[:i:i]
			if rest >= leastShare {
				words = append(words, trf("%s\u00a0%% elsewhere", decimal(100*rest, 0)))
			}
			break
		}
		rest -= share[way]
		if share[way] < 1-leastShare {
			words[i] = trf("%[1]s\u00a0%% %[2]s", decimal(100*share[way], 0), way)
		}
	}
	return sentence(strings.Join(words, ", "))
}

// waysSaid is how many ends of one surface's water are said.
const waysSaid = 3

// endOf says where a part of a surface's water ends.
func (w *Window) endOf(p fate.Part) string {
	switch p.Kind {
	case fate.Channel, fate.Drain:
		return trf("to %s", w.called(p.Feature))
	case fate.Inlet:
		return trf("down %s", w.called(p.Feature))
	case fate.Hollow:
		return w.hollowAt(p.Pit)
	case fate.SmallHollows:
		return tr("stands in lesser hollows")
	}
	return trf("over the %s edge", told(p.SideName()))
}

// hollowAt names the hollow that has a cell for its lowest, if it is one of those
// that the ledger lists.
func (w *Window) hollowAt(pit int32) string {
	if p := w.sceneNow().Ponding; p != nil {
		for i, h := range p.Hollows[:min(len(p.Hollows), hollowsShown)] {
			if p.Tree.Nodes[h.Node].Pit == pit {
				return trf("stands in hollow %d", i+1)
			}
		}
	}
	return tr("stands in hollows not listed")
}

func fateNote(pending string, found int) string {
	switch {
	case pending != "":
		return pending
	case found == 0:
		return tr("No roof and no paving is drawn. Draw them in the step Survey, and a downpipe where a roof sheds its water.")
	case found > fatesShown:
		return trf("The %[1]d that shed most, of %[2]d, in the design storm and in a mean year. Point at one to see the way of its water, press it to keep that on the map. Culverts and inlets are taken to carry all that comes.", fatesShown, found)
	}
	return tr("In the design storm and in a mean year. Point at one to see the way of its water, press it to keep that on the map. Culverts and inlets are taken to carry all that comes.")
}
