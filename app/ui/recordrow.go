package ui

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/geo/weather"
)

// A recordRow says in the ledger which daily record the account rests on.
type recordRow struct {
	w      *Window
	box    *fyne.Container
	name   *widget.Label
	says   *widget.RichText
	bring  *button
	remove *button
	// of is the record that was told of last, and said what was told.
	of   *weather.Day
	said string
}

func newRecordRow(w *Window) *recordRow {
	r := &recordRow{w: w, name: newColumnName(""), says: quiet("")}
	r.bring = newButton("", w.askRecord)
	r.remove = newButton(tr("Remove"), w.removeRecord)
	r.box = container.NewVBox(space(gap), flush(r.name), flush(r.says), container.NewHBox(r.bring, r.remove), space(gap))
	return r
}

// update tells of the site's record.
func (r *recordRow) update() {
	record := r.w.doc.Site().Weather
	var of *weather.Day
	if !record.Empty() {
		of = &record.Days[0]
	}
	shown(r.remove, of != nil)
	if of == nil {
		r.name.SetText(tr("No daily record"))
		setQuiet(r.says, trf("The account takes a made-up year in which the drain runs %s days on end, without rain or evaporation.", typedNumber(r.w.doc.Site().Setting.RunDays.Likely)))
		r.bring.SetText(tr("Bring one in…"))
		r.of, r.said = nil, ""
		return
	}
	if key := fmt.Sprint(r.w.units, record.Name); r.of != of || r.said != key {
		r.of, r.said = of, key
		r.name.SetText(trf("Daily record: %s", record.Name))
		setQuiet(r.says, r.w.recordWords(record))
		r.bring.SetText(tr("Replace it…"))
	}
}

// recordWords say of which time a record is and what it holds.
func (w *Window) recordWords(r weather.Record) string {
	first, last := r.First.Year(), r.Date(len(r.Days)-1).Year()
	years := trf("%d–%d", first, last)
	if first == last {
		years = fmt.Sprint(first)
	}
	said := []string{trf("%[1]s, %[2]s days.", years, decimal(float64(len(r.Days)), 0))}
	if rain, days := r.Mean(func(d *weather.Day) *float64 { return &d.Rain }); days > 0 {
		said = append(said, trf("Rain of a mean year: %s.", w.units.rain(rain*365.25)))
	} else {
		said = append(said, tr("Rain is not known."))
	}
	low, cold := r.Mean(func(d *weather.Day) *float64 { return &d.Low })
	high, warm := r.Mean(func(d *weather.Day) *float64 { return &d.High })
	if cold > 0 && warm > 0 {
		said = append(said, trf("Temperature: %[1]s to %[2]s in the mean.", w.units.warmth(low), w.units.warmth(high)))
	} else {
		said = append(said, tr("Temperatures are not known."))
	}
	return strings.Join(said, " ")
}

// warmth writes a temperature [°C].
func (u units) warmth(v float64) string {
	if math.IsNaN(v) {
		return dash
	}
	if u == usFeet {
		return with(decimal(v*9/5+32, 0), "°F")
	}
	return with(decimal(v, 0), "°C")
}

// removeRecord takes the daily record from the site.
func (w *Window) removeRecord() { w.complain(w.doc.Do(&site.SetWeather{})) }

// needsRecord is why a record cannot be removed.
func (w *Window) needsRecord() string {
	if why := w.needsSite(); why != "" {
		return why
	}
	if w.doc.Site().Weather.Empty() {
		return tr("The site has no daily record.")
	}
	return ""
}
