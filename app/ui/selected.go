package ui

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/app/tool"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A selectedPart shows what is selected and its fields; of several things those
// that they share.
type selectedPart struct {
	w      *Window
	box    *fyne.Container
	title  *brief
	fields []shownField
	// asked are the fields that count only where the feature is so.
	asked []askedField
	facts *fyne.Container
	said  string
	// fault says how water does not take the feature as it is drawn.
	fault *widget.RichText
}

func newSelectedPart(w *Window) *selectedPart {
	p := &selectedPart{w: w, title: newBrief(heading), facts: container.NewVBox(), fault: quiet("")}
	all := w.board.Chosen(w.doc.Site().Plan)
	if len(all) == 0 {
		words := tr("Press a thing on the map to see its fields here.")
		if len(steps[w.step].kinds) > 0 {
			words = tr("Press a thing on the map to see its fields here, or choose a tool and draw one.")
		}
		p.box = container.NewVBox(text(tr("Nothing selected"), heading), paragraph(words))
		return p
	}
	remove := newButton(tr("Delete"), w.removeSelected)
	remove.Importance = widget.LowImportance
	where := newBrief(caption)
	where.say(w.whatAndWhere(all))
	p.box = container.NewVBox(container.NewBorder(nil, nil, nil, remove, p.title.object), where.object)
	p.addFields(all)
	p.box.Add(p.facts)
	p.box.Add(flush(p.fault))
	return p
}

// addFields adds the fields that all features have.
func (p *selectedPart) addFields(all []plan.Feature) {
	var ids []plan.ID
	curves := true
	for _, f := range all {
		ids = append(ids, f.ID)
		curves = curves && f.Kind.CanCurve()
	}
	if len(all) == 1 {
		p.add(newNameField(p.w, ids[0]))
	}
	if curves {
		p.add(newCourseField(p.w, ids))
	}
	head := ""
	for _, field := range sharedFields(all) {
		if field.Part != head {
			head = field.Part
			p.box.Add(text(told(head), caption))
		}
		var row shownField
		if field.Type == plan.Choice {
			row = newChoiceField(p.w, ids, field)
		} else {
			row = newTypedField(p.w, ids, field)
		}
		p.add(row)
		if field.Needs != (plan.Need{}) {
			p.asked = append(p.asked, askedField{field.Name, row})
		}
	}
}

// An askedField is a row that is shown only while its field counts.
type askedField struct {
	name string
	row  shownField
}

// show shows the row where the field counts for all features.
func (a askedField) show(all []plan.Feature) {
	counts := true
	for _, f := range all {
		field, ok := fieldNamed(f.Kind, a.name)
		counts = counts && ok && field.Counts(f)
	}
	shown(a.row.content(), counts)
}

// whatAndWhere says of what kind features are and to what they belong.
func (w *Window) whatAndWhere(all []plan.Feature) string {
	label := plan.SpecOf(all[0].Kind).Label
	for _, f := range all {
		if f.Kind != all[0].Kind {
			return tr("Of several kinds: what they share is below.")
		}
	}
	if plan.SpecOf(all[0].Kind).InScheme {
		return trf("%s of %s", told(label), w.nameOf(all[0].Scheme))
	}
	return trf("%s of the site as it is", told(label))
}

// sharedFields lists the fields that all features have alike, within the limits of
// all.
func sharedFields(all []plan.Feature) []plan.Field {
	var shared []plan.Field
	for _, field := range plan.SpecOf(all[0].Kind).Fields {
		everyone := true
		for _, f := range all[1:] {
			other, ok := fieldNamed(f.Kind, field.Name)
			everyone = everyone && ok && other.Type == field.Type && other.Unit == field.Unit && slices.Equal(other.Of, field.Of)
			field.Low, field.High = max(field.Low, other.Low), min(field.High, other.High)
		}
		if everyone {
			shared = append(shared, field)
		}
	}
	return shared
}

func fieldNamed(kind plan.Kind, name string) (plan.Field, bool) {
	fields := plan.SpecOf(kind).Fields
	i := slices.IndexFunc(fields, func(f plan.Field) bool { return f.Name == name })
	if i < 0 {
		return plan.Field{}, false
	}
	return fields[i], true
}

// A shown field is a row of the ledger that follows the feature.
type shownField interface {
	show([]plan.Feature)
	content() fyne.CanvasObject
}

func (p *selectedPart) add(f shownField) {
	p.fields = append(p.fields, f)
	p.box.Add(f.content())
}

func (p *selectedPart) content() fyne.CanvasObject { return p.box }

// update shows what is selected as it is now.
func (p *selectedPart) update() {
	all := p.w.board.Chosen(p.w.doc.Site().Plan)
	if len(all) == 0 {
		return
	}
	title := titleOf(all[0])
	if len(all) > 1 {
		title = trf("%d things", len(all))
	}
	p.title.say(title)
	for _, field := range p.fields {
		field.show(all)
	}
	for _, field := range p.asked {
		field.show(all)
	}
	var faults []string
	facts := p.w.factsOfAll(all)
	if len(all) == 1 {
		faults, facts = append(p.w.waterFaults(all[0].ID), p.w.soilFaults(all[0])...), p.w.facts(all[0])
	}
	fault := strings.Join(faults, "\n")
	setQuiet(p.fault, fault)
	shown(p.fault, fault != "")
	if said := fmt.Sprint(facts); said != p.said {
		p.said = said
		p.facts.RemoveAll()
		for _, fact := range facts {
			p.facts.Add(container.New(figureShares[:2], p.w.labelled(fact.label, body, fact.method), rightText(fact.figure, strong)))
		}
		p.facts.Refresh()
	}
}

// factsOfAll sums up what is measured of several features.
func (w *Window) factsOfAll(all []plan.Feature) (facts []reading) {
	length, area := 0.0, 0.0
	for _, f := range all {
		length += planar.Length(f.Line())
		area += planar.Area(f.Area())
	}
	if length > 0 {
		facts = append(facts, reading{tr("Length together"), w.units.length(length), "line-length"})
	}
	if area > 0 {
		facts = append(facts, reading{tr("Area together"), w.units.area(area), "area"})
	}
	return facts
}

// A reading is a figure of a feature, with the method by which it is found.
type reading struct{ label, figure, method string }

// facts lists what is measured of one feature, as labels and figures.
func (w *Window) facts(f plan.Feature) []reading {
	u := w.units
	var facts []reading
	switch g := f.Geometry.(type) {
	case orb.Point:
		facts = append(facts, reading{tr("Ground"), u.height(grid.Sample(w.doc.Site().Ground, g)), "ground-height"})
	case orb.LineString:
		facts = append(facts, reading{tr("Length"), u.length(planar.Length(g)), "line-length"})
	case orb.Polygon:
		facts = append(facts, reading{tr("Area"), u.area(planar.Area(g)), "area"}, reading{tr("Outline"), u.length(planar.Length(g)), "line-length"})
	}
	if m, ok := w.measureOf(f.ID); ok {
		level := u.height(m.Level)
		if dry(m) {
			level = tr("holds no water")
		}
		facts = append(facts,
			reading{tr("Water level"), level, "water-level"},
			reading{tr("Contact area"), u.area(m.Contact), "contact"},
			reading{tr("Wet bank"), u.length(m.WetBank), "wet-bank"},
			reading{tr("Deepest water"), u.length(m.Depth), "depth"},
			reading{tr("Storage"), u.volume(m.Volume), "storage"})
	}
	if f.Kind == plan.Crossing {
		facts = append(facts, w.crossingFacts(f)...)
	}
	facts = append(facts, w.soilFacts(f)...)
	if b, ok := w.barrierOf(f.ID); ok {
		facts = append(facts, w.barrierFacts(b)...)
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

// removeSelected takes away what is selected.
func (w *Window) removeSelected() {
	if w.doc == nil || w.board.Selected == 0 {
		return
	}
	gone := w.board.Chosen(w.doc.Site().Plan)
	if err := tool.Remove(w.doc, w.board); err != nil {
		w.complain(err)
		return
	}
	w.removed(gone)
}

// removed says how what was taken away comes back.
func (w *Window) removed(gone []plan.Feature) {
	switch {
	case len(gone) == 1:
		w.tellBelow(trf("%s removed; Ctrl+Z brings it back", told(gone[0].Kind.String())))
	case len(gone) > 1:
		w.tellBelow(trf("%d things removed; Ctrl+Z brings them back", len(gone)))
	}
}

// keyed hands a key to the tool, and says so where that removes what is selected.
func (w *Window) keyed(k tool.Key) bool {
	held := w.board.Chosen(w.doc.Site().Plan)
	taken := w.pane.tool.Key(k)
	if len(held) > 0 && w.doc.Site().Plan.Index(held[0].ID) < 0 {
		w.removed(held)
	}
	return taken
}

// titleOf is what a feature is called: its own name, else its kind and number.
func titleOf(f plan.Feature) string {
	if f.Name != "" {
		return f.Name
	}
	return told(f.Title())
}
