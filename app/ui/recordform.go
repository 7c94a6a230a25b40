package ui

import (
	"cmp"
	"errors"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/geo/plan"
	"runnel/geo/weather"
)

// A recordForm is what bringing in a record asks, as it stands on the screen.
type recordForm struct {
	r        *recording
	table    *recordTable
	units    []*recordUnit
	unitRow  *fyne.Container
	order    *recordPick
	sum      *widget.Label
	findings *widget.Label
	fault    *widget.Label
	rows     *fyne.Container
	scroll   *container.Scroll
	name     *line
	places   []*recordPlace
	wind     *fyne.Container
}

// A recordPick is a list of words with a label before it.
type recordPick struct {
	row  *fyne.Container
	pick *picker
}

func newRecordPick(w *Window, label string, words []string) *recordPick {
	p := &recordPick{pick: w.newPicker(words)}
	p.row = container.NewHBox(container.NewCenter(text(label, body)), container.New(widthOf(pickWidth), p.pick), space(0))
	return p
}

// pickWidth is how wide a list of words is in the form [dp].
const pickWidth = 170

// A recordUnit asks in which unit figures are that share it.
type recordUnit struct {
	*recordPick
	of []weather.Quantity
}

// A recordPlace is a number that the file does not hold.
type recordPlace struct {
	field plan.Field
	each  float64
	line  *line
	row   *fyne.Container
	// given is what is known of it, and written how that stands in the field.
	given   float64
	written string
}

func newRecordForm(r *recording) *recordForm {
	f := &recordForm{r: r, table: newRecordTable(r), sum: wrappedLabel(""), findings: wrappedLabel(""), fault: danger("")}
	f.sum.TextStyle.Bold = true
	f.unitRow = container.NewVBox()
	f.addUnits()
	f.order = newRecordPick(r.w, tr("Order of the dates"), toldAll(dateOrders()))
	f.rows = container.NewVBox(paragraph(strings.Join(sentences(r.w.units, r.look.Why), " ")),
		text(tr("What each column is"), strong), f.table.object, f.order.row, f.unitRow,
		rule(), text(tr("What was found in it"), strong), flush(f.sum), flush(f.findings), flush(f.fault), rule(), f.about())
	f.scroll = container.NewVScroll(f.rows)
	return f
}

// dateOrders are the orders of a date in English.
func dateOrders() []string {
	return []string{weather.YearMonthDay.String(), weather.DayMonthYear.String(), weather.MonthDayYear.String()}
}

// addUnits asks for the unit of each quantity that can be in several, once for those
// that share it.
func (f *recordForm) addUnits() {
	var shared weather.Units
	for _, q := range weather.Quantities() {
		i := slices.IndexFunc(f.units, func(u *recordUnit) bool { return u.of[0].Unit(&shared) == q.Unit(&shared) })
		if i >= 0 {
			f.units[i].of = append(f.units[i].of, q)
			continue
		}
		label := told(q.Label)
		switch q.Name {
		case "low":
			label = tr("Temperature")
		case "humidity_low":
			label = tr("Humidity")
		}
		f.units = append(f.units, &recordUnit{newRecordPick(f.r.w, trf("%s in", label), toldAll(q.Units)), []weather.Quantity{q}})
	}
}

// about asks what the file does not say.
func (f *recordForm) about() fyne.CanvasObject {
	r := f.r
	f.name = r.w.newLine(strings.TrimSuffix(filepath.Base(r.path), filepath.Ext(r.path)))
	wind := cmp.Or(r.look.WindHeight, 2)
	f.places = []*recordPlace{
		f.place(plan.Field{Label: toldLater("Latitude"), Unit: "°", Low: -90, High: 90}, r.placed.Latitude),
		f.place(plan.Field{Label: toldLater("Height of the place"), Unit: "m", Low: weather.Lowest, High: weather.Highest}, r.placed.Elevation),
		f.place(plan.Field{Label: toldLater("Wind measured above the ground"), Unit: "m", Low: 0.1, High: 300}, wind),
	}
	f.places[0].row = container.NewVBox(f.places[0].row, paragraph(tr("North is above nought. Evaporation needs it; filled in from the site where that is known.")))
	f.wind = f.places[2].row
	return container.NewVBox(asked(tr("Name"), f.name), f.places[0].row, f.places[1].row, f.wind)
}

// recordShares are the widths of a label and its field.
var recordShares = columns{8, 20}

func asked(label string, field fyne.CanvasObject) *fyne.Container {
	return container.New(recordShares, text(label, body), field)
}

func (f *recordForm) place(field plan.Field, v float64) *recordPlace {
	field.Optional = true
	p := &recordPlace{}
	p.field, p.each = f.r.w.units.field(field)
	p.given = v
	if !math.IsNaN(v) {
		p.written = spoken().typed(p.field, plan.Value{Number: inField(roundTo(v, math.Round), p.each)})
	}
	p.line = f.r.w.newLine(p.written)
	p.row = asked(trf("%[1]s [%[2]s]", told(field.Label), p.field.Unit), p.line)
	return p
}

// value is what the field says; NaN for nothing.
func (p *recordPlace) value() (float64, error) {
	if p.line.Text == p.written { // to the last digit
		return p.given, nil
	}
	v, ok, err := p.field.Parse(strings.TrimSpace(p.line.Text))
	switch {
	case err != nil:
		return 0, errors.New(trf("%[1]s: give a number from %[2]s to %[3]s, or nothing.", told(p.field.Label), typedNumber(p.field.Low), typedNumber(p.field.High)))
	case !ok:
		return math.NaN(), nil
	}
	return v.Number * p.each, nil
}

// ask shows the form.
func (f *recordForm) ask() {
	w := f.r.w
	size := w.win.Canvas().Size()
	w.ask(prompt{
		title:   trf("Daily record: %s", shortened(filepath.Base(f.r.path), 50)),
		content: f.scroll, size: fyne.NewSize(min(960, size.Width-60), min(760, size.Height-60)),
		choices: []choice{
			{word: tr("Cancel"), do: f.r.over},
			{word: tr("Take it in"), ready: f.ready, do: f.r.over},
		},
	})
}

// ready puts the record into the site, or says why it cannot.
func (f *recordForm) ready() bool {
	err := f.takeIn()
	if err != nil {
		f.complain(err)
		f.scroll.ScrollToOffset(fyne.NewPos(0, max(0, f.fault.Position().Y-f.scroll.Size().Height/2)))
	}
	return err == nil
}

func (f *recordForm) takeIn() error {
	record := f.r.got.record
	record.Name = cmp.Or(strings.TrimSpace(f.name.Text), record.Name)
	for i, to := range []*float64{&record.Latitude, &record.Elevation, &record.WindHeight} {
		v, err := f.places[i].value()
		if err != nil {
			return err
		}
		*to = v
	}
	if math.IsNaN(record.WindHeight) {
		record.WindHeight = 0
	}
	return f.r.bringIn(record)
}

func (f *recordForm) complain(err error) {
	if err != nil {
		f.fault.SetText(sentence(f.r.w.units.told(err.Error())))
	}
	shown(f.fault, err != nil)
	f.rows.Refresh()
}

// yearFirst finds a date whose order is plain.
var yearFirst = regexp.MustCompile(`^\d{4}`)

// show says how the file is read and what was found, as it is known now.
func (f *recordForm) show() {
	r := f.r
	f.table.show(r)
	f.showUnits()
	c := r.look.Columns
	open := c.Date >= 0 && !slices.ContainsFunc(r.look.First, func(row []string) bool { return c.Date < len(row) && yearFirst.MatchString(row[c.Date]) })
	shown(f.order.row, open)
	shown(f.wind, c.Wind >= 0)
	f.order.pick.OnChanged = nil
	f.order.pick.SetSelectedIndex(int(r.look.Order))
	f.order.pick.OnChanged = func(string) {
		r.look.Order = weather.DateOrder(f.order.pick.SelectedIndex())
		r.read()
	}
	f.showFound()
}

// showFound says what was found in the file.
func (f *recordForm) showFound() {
	r := f.r
	known := r.known()
	f.sum.SetText(tr("Reading…"))
	found := ""
	if known && r.got.fault == nil {
		f.sum.SetText(r.w.recordWords(r.got.record))
		found = strings.Join(sentences(r.w.units, r.got.report.Findings), "\n")
		if found == "" {
			found = trf("%s rows were read, and nothing is wrong with them.", decimal(float64(r.got.report.Rows), 0))
		}
	}
	shown(f.sum, !known || r.got.fault == nil)
	f.findings.SetText(found)
	shown(f.findings, found != "")
	var fault error
	if known {
		fault = r.got.fault
	}
	f.complain(fault)
}

// showUnits shows the units of what has a column.
func (f *recordForm) showUnits() {
	r := f.r
	f.unitRow.RemoveAll()
	pair := []fyne.CanvasObject{}
	for _, u := range f.units {
		if !slices.ContainsFunc(u.of, func(q weather.Quantity) bool { return *q.Column(&r.look.Columns) >= 0 }) {
			continue
		}
		unit := u.of[0].Unit(&r.look.Units)
		u.pick.OnChanged = nil
		u.pick.SetSelectedIndex(max(0, slices.Index(u.of[0].Units, *unit)))
		u.pick.OnChanged = func(string) {
			*unit = u.of[0].Units[u.pick.SelectedIndex()]
			r.read()
		}
		pair = append(pair, u.row)
	}
	for part := range slices.Chunk(pair, unitsInRow) {
		f.unitRow.Add(container.NewHBox(part...))
	}
	if len(pair) > 0 {
		f.unitRow.Refresh()
	}
}

// unitsInRow is how many units stand beside each other.
const unitsInRow = 3
