package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/app/site"
	"runnel/app/tool"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A selectedPart shows the selected feature and its fields.
type selectedPart struct {
	w      *Window
	box    *fyne.Container
	title  *canvas.Text
	fields []interface{ show(plan.Feature) }
	facts  *fyne.Container
	said   string
	// fault says how water does not take the feature as it is drawn.
	fault *widget.RichText
}

func newSelectedPart(w *Window) *selectedPart {
	p := &selectedPart{w: w, title: text("", heading), facts: container.NewVBox(), fault: quiet("")}
	f, ok := w.selected()
	if !ok {
		words := "Press a thing on the map to see its fields here."
		if len(steps[w.step].kinds) > 0 {
			words = "Press a thing on the map to see its fields here, or choose a tool and draw one."
		}
		p.box = container.NewVBox(text("Nothing selected", heading), paragraph(words))
		return p
	}
	spec := plan.SpecOf(f.Kind)
	where := "the site as it is"
	if spec.InScheme {
		where = w.doc.Site().Plan.SchemeName(f.Scheme)
	}
	remove := newButton("Delete", w.removeSelected)
	remove.Importance = widget.LowImportance
	p.box = container.NewVBox(spread(p.title, remove), text(spec.Label+" of "+where, caption))
	p.add(newNameField(w, f.ID))
	for _, field := range spec.Fields {
		if field.Type == plan.Choice {
			p.add(newChoiceField(w, f.ID, field))
		} else {
			p.add(newTypedField(w, f.ID, field))
		}
	}
	p.box.Add(p.facts)
	p.box.Add(flush(p.fault))
	return p
}

// A shown field is a row of the ledger that follows the feature.
type shownField interface {
	show(plan.Feature)
	content() fyne.CanvasObject
}

func (p *selectedPart) add(f shownField) {
	p.fields = append(p.fields, f)
	p.box.Add(f.content())
}

func (p *selectedPart) content() fyne.CanvasObject { return p.box }

// update shows the feature as it is now.
func (p *selectedPart) update() {
	f, ok := p.w.selected()
	if !ok {
		return
	}
	say(p.title, f.Title())
	for _, field := range p.fields {
		field.show(f)
	}
	fault := strings.Join(p.w.waterFaults(f.ID), "\n")
	setQuiet(p.fault, fault)
	shown(p.fault, fault != "")
	facts := p.w.facts(f)
	if said := fmt.Sprint(facts); said != p.said {
		p.said = said
		p.facts.RemoveAll()
		for _, fact := range facts {
			p.facts.Add(container.New(figureShares[:2], text(fact[0], body), rightText(fact[1], strong)))
		}
		p.facts.Refresh()
	}
}

// facts lists what is measured of one feature, as labels and figures.
func (w *Window) facts(f plan.Feature) [][2]string {
	u := w.units
	var facts [][2]string
	switch g := f.Geometry.(type) {
	case orb.Point:
		facts = append(facts, [2]string{"Ground", u.height(grid.Sample(w.doc.Site().Ground, g))})
	case orb.LineString:
		facts = append(facts, [2]string{"Length", u.length(planar.Length(g))})
	case orb.Polygon:
		facts = append(facts, [2]string{"Area", u.area(planar.Area(g))}, [2]string{"Outline", u.length(planar.Length(g))})
	}
	if m, ok := w.measureOf(f.ID); ok {
		facts = append(facts,
			[2]string{"Water level", u.height(m.Level)},
			[2]string{"Contact area", u.area(m.Contact)},
			[2]string{"Wet bank", u.length(m.WetBank)},
			[2]string{"Deepest water", u.length(m.Depth)},
			[2]string{"Storage", u.volume(m.Volume)})
	}
	return facts
}

// measureOf returns what the newest figures say of one channel or drain.
func (w *Window) measureOf(id plan.ID) (channel.Measure, bool) {
	for _, line := range w.figures.scheme.Channels {
		if line.ID == id {
			return line.Measure, true
		}
	}
	return channel.Measure{}, false
}

// change puts a changed feature into the site.
func (w *Window) change(f plan.Feature) error {
	return w.doc.Do(&site.Replace{After: f})
}

// removeSelected takes the selected feature away.
func (w *Window) removeSelected() {
	if w.doc == nil || w.board.Selected == 0 {
		return
	}
	id := w.board.Selected
	f, _ := w.selected()
	w.board.Select(0)
	if err := w.doc.Do(&site.Remove{IDs: []plan.ID{id}}); err != nil {
		w.complain(err)
		return
	}
	w.removed(f)
}

// removed says how what was taken away comes back.
func (w *Window) removed(f plan.Feature) {
	w.tellBelow(f.Kind.String() + " removed; Ctrl+Z brings it back")
}

// keyed hands a key to the tool, and says so where that removes a feature.
func (w *Window) keyed(k tool.Key) bool {
	f, held := w.selected()
	taken := w.pane.tool.Key(k)
	if _, still := w.doc.Site().Plan.Find(f.ID); held && !still {
		w.removed(f)
	}
	return taken
}
