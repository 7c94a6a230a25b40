package ui

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/soil"
	"runnel/app/site"
	"runnel/geo/plan"
)

// A seasonPart sets what the account rests on: the soil, how many days the drain runs
// and the daily record in sight, and the rest under heads of their own.
type seasonPart struct {
	w       *Window
	box     *fyne.Container
	soil    *pick
	source  *widget.RichText
	days    [3]*answer
	asked   *question
	daysRow *question
	record  *recordRow
	heads   []seasonHead
}

// A seasonHead is a fold of the part.
type seasonHead interface {
	content() fyne.CanvasObject
	update()
}

func newSeasonPart(w *Window) *seasonPart {
	p := &seasonPart{w: w, source: quiet(""), record: newRecordRow(w)}
	p.soil = w.newPick(toldAll(textureNames()))
	p.asked = newQuestion(tr("Soil texture"), p.soil, "")
	for i := range p.days {
		p.days[i] = newAnswer("", func(string) error { return p.daysRow.complain(p.take()) })
		p.days[i].turn = w.turn
	}
	entries := container.NewGridWithColumns(3, p.days[0], p.days[1], p.days[2])
	p.daysRow = newQuestion(tr("Days it runs"), entries, tr("a year"))
	p.box = container.NewVBox(w.labelled(tr("Soil and season"), heading, "conductivity"), p.asked.row, flush(p.source),
		container.New(questionShares, text("", caption), container.NewGridWithColumns(3,
			text(tr("low"), caption), text(tr("likely"), caption), text(tr("high"), caption)), text("", caption)),
		p.daysRow.row, p.record.box)
	p.heads = []seasonHead{newStormFold(w), newGroundwaterFold(w), newCloggingFold(w), newWateringFold(w), newPricesFold(w)}
	for _, h := range p.heads {
		p.box.Add(h.content())
	}
	return p
}

// textureNames lists the soils that there are figures of.
func textureNames() (names []string) {
	for _, t := range soil.Textures() {
		names = append(names, t.Name)
	}
	return names
}

func (p *seasonPart) content() fyne.CanvasObject { return p.box }

// take reads the three figures once they agree with each other.
func (p *seasonPart) take() error {
	setting := p.w.doc.Site().Setting
	for i, to := range []*float64{&setting.RunDays.Low, &setting.RunDays.Likely, &setting.RunDays.High} {
		typed := strings.Replace(strings.TrimSpace(p.days[i].Text), ",", ".", 1)
		v, err := strconv.ParseFloat(typed, 64)
		if err != nil {
			return fmt.Errorf("the days are %q; give a number", typed)
		}
		*to = v
	}
	return p.set(setting)
}

func (p *seasonPart) set(s plan.Setting) error { return p.w.doc.Do(&site.SetSetting{Setting: s}) }

func (p *seasonPart) update() {
	setting := p.w.doc.Site().Setting
	p.soil.OnChanged = nil
	p.soil.SetSelected(told(setting.Soil))
	p.soil.OnChanged = func(name string) {
		setting := p.w.doc.Site().Setting
		setting.Soil = untold(textureNames(), name)
		p.asked.complain(p.set(setting))
	}
	if t, err := soil.TextureNamed(setting.Soil); err == nil {
		u := p.w.units
		low, unit := cutUnit(u.rate(t.Ksat.Low))
		high, _ := cutUnit(u.rate(t.Ksat.High))
		setQuiet(p.source, trf("Saturated conductivity %[1]s–%[2]s %[5]s, likely %[3]s: %[4]s.",
			low, high, u.rate(t.Ksat.Likely), told(t.Source), unit))
	}
	agreed := true
	for i, v := range []float64{setting.RunDays.Low, setting.RunDays.Likely, setting.RunDays.High} {
		agreed = p.days[i].put(typedNumber(v)) && agreed
	}
	if agreed {
		p.daysRow.complain(nil)
	}
	p.record.update()
	for _, h := range p.heads {
		h.update()
	}
}
