package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/hydrograph"
	"runnel/app/site"
	"runnel/geo/plan"
)

// A figureFold is a head with figures of the setting under it.
type figureFold struct {
	*fold
	w      *Window
	fields []*settingField
	// short says in short what stands under the head.
	short func(plan.Setting) string
}

func newFigureFold(w *Window, key, head string, fields []*settingField, note string) *figureFold {
	f := &figureFold{w: w, fields: fields}
	var rows []fyne.CanvasObject
	for _, field := range fields {
		rows = append(rows, field.row)
	}
	f.fold = newFold(w, key, head, append(rows, paragraph(note))...)
	return f
}

func (f *figureFold) content() fyne.CanvasObject { return f.object }

func (f *figureFold) update() {
	for _, field := range f.fields {
		field.update()
	}
	f.say(f.short(f.w.doc.Site().Setting))
}

func newGroundwaterFold(w *Window) *figureFold {
	f := newFigureFold(w, "groundwater", tr("Groundwater"), []*settingField{
		newShortSetting(w, "groundwater_depth", toldLater("Depth of the water table")),
		newShortSetting(w, "aquifer_conductivity", toldLater("Conductivity of the aquifer")),
		newShortSetting(w, "aquifer_yield", toldLater("Specific yield of the aquifer")),
		newShortSetting(w, "aquifer_thickness", toldLater("Depth of its water")),
	}, tr("Below the ground, in the wet season; nought is not known. How far the water table rises under the water is told once all four are known."))
	f.short = func(s plan.Setting) string {
		switch {
		case s.Groundwater <= 0:
			return tr("not known")
		case !s.Aquifer.Known():
			return trf("%s down, aquifer not known", w.units.length(s.Groundwater))
		}
		return trf("%s down", w.units.length(s.Groundwater))
	}
	return f
}

func newCloggingFold(w *Window) *figureFold {
	f := newFigureFold(w, "clogging", tr("Clogging"), []*settingField{
		newShortSetting(w, "clogging_remains", toldLater("Share of the rate that is left")),
		newShortSetting(w, "clogging_days", toldLater("Days under water to two thirds of it")),
		newShortSetting(w, "clogging_recovery", toldLater("Dry days to two thirds of the recovery")),
	}, tr("A bed that stays under water takes in less and less. With 0 days under water it never clogs."))
	f.short = func(s plan.Setting) string {
		if s.Clogging.Days == 0 || s.Clogging.Remains == 1 {
			return tr("none")
		}
		return trf("down to %s of the rate", share(s.Clogging.Remains))
	}
	return f
}

// A stormFold is the storm that the account looks at.
type stormFold struct {
	*figureFold
	shape *settingWord
	table *settingLine
	// amiss says what is wrong with how the rain falls; empty for nothing.
	amiss *widget.Label
}

func newStormFold(w *Window) *stormFold {
	f := &stormFold{shape: newSettingWord(w, "distribution", toldLater("Its rain in time")), amiss: danger("")}
	f.table = newSettingLine(w, "storm_table", toldLater("Own table"), func(typed string) error {
		_, err := hydrograph.ShapeNamed(plan.OwnStorm, typed)
		return err
	})
	f.table.row.Add(paragraph(tr("Pairs of a share of the storm's time and the share of its rain that has fallen by then, such as 0 0, 0.5 0.8, 1 1.")))
	f.figureFold = &figureFold{w: w, fields: []*settingField{newSettingField(w, site.DesignStorm()), newSettingField(w, site.StormHours())}}
	f.fold = newFold(w, "storm", tr("Design storm"), f.fields[0].row, f.fields[1].row, f.shape.row, f.table.row, flush(f.amiss))
	f.short = func(s plan.Setting) string {
		return trf("%[1]s in %[2]s h, %[3]s", w.units.rain(s.Storm), typedNumber(s.StormHours), told(s.Distribution))
	}
	return f
}

func (f *stormFold) update() {
	f.figureFold.update()
	f.shape.update()
	f.table.update()
	setting := f.w.doc.Site().Setting
	shown(f.table.row, setting.Distribution == plan.OwnStorm)
	words := ""
	if s, err := hydrograph.ShapeNamed(setting.Distribution, setting.StormTable); err != nil {
		words = sentence(f.w.units.told(err.Error()))
	} else {
		words = f.w.units.told(s.Told(setting.StormHours))
	}
	if f.amiss.Text != words {
		f.amiss.SetText(words)
	}
	shown(f.amiss, words != "" && !f.table.fault.Visible())
}

// A wateringFold is how the beds are watered.
type wateringFold struct {
	*fold
	way *settingWord
}

func newWateringFold(w *Window) *wateringFold {
	f := &wateringFold{way: newSettingWord(w, "irrigation", toldLater("Way of watering"))}
	f.fold = newFold(w, "watering", tr("Watering"), f.way.row,
		paragraph(tr("What each bed is watered as stands with the bed, what the house draws with the well.")))
	return f
}

func (f *wateringFold) content() fyne.CanvasObject { return f.object }

func (f *wateringFold) update() {
	f.way.update()
	f.say(told(f.w.doc.Site().Setting.Irrigation))
}

// A pricesFold is what digging and building cost.
type pricesFold struct {
	*fold
	currency *settingLine
	rows     *fyne.Container
	fields   []*settingField
	// made is the currency that the fields were made for.
	made string
}

func newPricesFold(w *Window) *pricesFold {
	f := &pricesFold{currency: newSettingLine(w, "currency", toldLater("Currency"), nil), rows: container.NewVBox()}
	f.currency.answer.SetPlaceHolder(tr("such as EUR"))
	f.make(w)
	f.fold = newFold(w, "prices", tr("Prices"), f.currency.row, f.rows, paragraph(tr("Nought is not known; what rests on it is left out of the cost, and that is said.")))
	return f
}

// make makes the fields for a currency.
func (f *pricesFold) make(w *Window) {
	f.made = w.doc.Site().Setting.Costs.Currency
	one := func(name, label string) *settingField {
		figure := plan.SettingFigureNamed(name)
		figure.Unit = w.priceUnit("")
		return newLabelledSetting(w, figure, label)
	}
	f.fields = []*settingField{
		newPriceField(w, "cost_cut", toldLater("Digging")), newPriceField(w, "cost_fill", toldLater("Filling")),
		newPriceField(w, "cost_haul", toldLater("Taking away")),
		one("cost_sill", toldLater("A sill")), one("cost_spillway", toldLater("A spillway")), one("cost_crossing", toldLater("A crossing")),
	}
	f.rows.RemoveAll()
	for _, field := range f.fields {
		f.rows.Add(field.row)
	}
}

func (f *pricesFold) content() fyne.CanvasObject { return f.object }

func (f *pricesFold) update() {
	costs := f.w.doc.Site().Setting.Costs
	if costs.Currency != f.made {
		f.make(f.w)
	}
	f.currency.update()
	known := 0
	for _, field := range f.fields {
		field.update()
		setting := plan.Setting{Costs: costs}
		if *field.figure.Of(&setting) > 0 {
			known++
		}
	}
	switch {
	case known == 0:
		f.say(tr("not known"))
	case costs.Currency == "":
		f.say(trf("%[1]d of %[2]d known", known, len(f.fields)))
	default:
		f.say(trf("%[1]d of %[2]d known, in %[3]s", known, len(f.fields), costs.Currency))
	}
}
