package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/geo/plan"
)

// A stormPart rains on the site and says what becomes of the water.
type stormPart struct {
	w      *Window
	box    *fyne.Container
	rain   *canvas.Text
	state  *canvas.Text
	slider *rainSlider
	note   *widget.RichText
	keep   *button
	rows   []stormRow
	soaks  *tick
	soil   *widget.RichText
	fields []*settingField
	cover  *pick
	asked  *question
	faults *widget.RichText
}

// A stormRow is a figure of a storm. Some are shown only where they say something.
type stormRow struct {
	// key is that of the figure's method.
	label, key string
	weight     role
	// write gives the figure; empty where there is none to give.
	write func(units, stormed) string
	row   *fyne.Container
	text  *canvas.Text
}

// under sets the label of a figure that is part of the one above in from the edge.
const under = "\u2003"

// stormRows are in the order in which the water goes.
func stormRows() []stormRow {
	volume := func(of func(stormed) (float64, bool)) func(units, stormed) string {
		return func(u units, s stormed) string {
			if v, shown := of(s); shown {
				return u.volume(v)
			}
			return ""
		}
	}
	return []stormRow{
		{label: tr("Rain on the ground"), key: "rain-on-ground", write: volume(func(s stormed) (float64, bool) { return s.fell, true })},
		{label: under + tr("runs off"), key: "runs-off", write: volume(func(s stormed) (float64, bool) { return s.runs, s.soil == "" })},
		{label: tr("Stands in hollows"), key: "stands", weight: strong, write: volume(func(s stormed) (float64, bool) { return s.stored, true })},
		{label: under + tr("in those on the map"), key: "stands", write: volume(func(s stormed) (float64, bool) { return s.worth, true })},
		{label: under + tr("deepest"), key: "stands", write: func(u units, s stormed) string { return u.length(s.water.Deepest()) }},
		{label: tr("Soaks in"), key: "soaks-in-storm", weight: strong, write: volume(func(s stormed) (float64, bool) { return s.soaked, s.soil != "" })},
		{label: tr("Leaves over the edge"), key: "leaves", weight: strong, write: volume(func(s stormed) (float64, bool) { return s.left, true })},
		{label: tr("Goes down inlets"), key: "inlets", weight: strong, write: volume(func(s stormed) (float64, bool) { return s.swallowed, s.hasInlets })},
		{label: under + tr("passes culverts on its way"), key: "inlets", write: volume(func(s stormed) (float64, bool) { return s.carried, s.hasCulverts })},
	}
}

func newStormPart(w *Window) *stormPart {
	p := &stormPart{w: w, rain: rightText("", heading), state: text("", caption), note: quiet(""), soil: quiet(""), faults: quiet(""), rows: stormRows()}
	p.slider = newRainSlider(w)
	p.keep = newButton(tr("Make this the design storm"), w.keepStorm)
	p.soaks = w.newTick(tr("Water soaks in meanwhile"), func(on bool) { w.waters.soaks = on; w.pour() })
	p.box = container.NewVBox(spread(text(tr("A storm"), heading), p.rain), p.slider.object, flush(p.note), p.keep)
	for i := range p.rows {
		r := &p.rows[i]
		r.text = rightText("", r.weight)
		r.row = container.New(columns{12, 8}, w.labelled(r.label, r.weight, r.key), r.text)
		p.box.Add(r.row)
	}
	p.box.Add(p.state)
	p.box.Add(p.soaks)
	p.box.Add(flush(p.soil))
	p.box.Add(flush(p.faults))
	p.addFields()
	return p
}

// addFields adds what the storm rests on.
func (p *stormPart) addFields() {
	p.fields = []*settingField{
		newSettingField(p.w, site.DesignStorm()),
		newSettingField(p.w, site.StormHours()),
		newSettingField(p.w, site.YearRain()),
	}
	for _, f := range p.fields {
		p.box.Add(f.row)
	}
	p.cover = p.w.newPick(toldAll(plan.Covers()))
	p.asked = newQuestion(tr("Ground cover"), p.cover, "")
	p.box.Add(p.asked.row)
}

func (p *stormPart) content() fyne.CanvasObject { return p.box }

// update shows the storm that is looked at.
func (p *stormPart) update() {
	w, u := p.w, p.w.units
	setting, rain := w.doc.Site().Setting, w.rain()
	say(p.rain, u.rain(rain))
	p.slider.show(rain, setting.Storm)
	setQuiet(p.note, trf("The mark is the design storm, %[1]s over %[2]s h.", u.rain(setting.Storm), typedNumber(setting.StormHours)))
	if u.rain(rain) != u.rain(setting.Storm) {
		p.keep.Enable()
	} else { // kept in its place, so that nothing below it jumps
		p.keep.Disable()
	}
	storm := w.waters.storm
	known := storm.water != nil
	for _, r := range p.rows {
		figure := dash
		if known {
			figure = r.write(u, storm)
		}
		shown(r.row, figure != "")
		say(r.text, figure)
	}
	say(p.state, w.pending(known))
	shown(p.state, !known)
	p.soaks.Checked = w.waters.soaks
	p.soaks.Refresh()
	setQuiet(p.soil, trf("Open ground takes in what %s does while the storm lasts, in place of the covers' runoff coefficients. In a heavy storm more runs off than those say.", told(setting.Soil)))
	shown(p.soil, w.waters.soaks)
	p.showFaults()
	for _, f := range p.fields {
		f.update()
	}
	p.cover.OnChanged = nil
	p.cover.SetSelected(told(setting.Cover))
	p.cover.OnChanged = func(name string) {
		p.asked.complain(w.setSetting(func(s *plan.Setting) { s.Cover = untold(plan.Covers(), name) }))
	}
}

// showFaults says what of the drawing the water does not take as it is drawn.
func (p *stormPart) showFaults() {
	words := strings.Join(p.w.waterFaults(0), "\n")
	setQuiet(p.faults, words)
	shown(p.faults, words != "")
}

// waterFaults says how water does not take a feature as it is drawn, or any with
// the number 0.
func (w *Window) waterFaults(id plan.ID) []string {
	d := w.sceneNow().Drainage
	if d == nil {
		return nil
	}
	var faults []string
	for _, problem := range d.Surface.Problems {
		if id == 0 || problem.ID == id {
			faults = append(faults, sentence(w.units.told(problem.Err.Error())))
		}
	}
	return faults
}

// shown shows or hides an object.
func shown(o fyne.CanvasObject, on bool) {
	if on == o.Visible() {
		return
	}
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}
