package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/geo"
	"runnel/geo/plan"
)

// settingCommands ask for what the site's figures rest on.
func (w *Window) settingCommands() (list []command) {
	for _, figure := range plan.SettingFigures() {
		if figure.Part == plan.LimitsPart { // one of them alone would turn the others off
			continue
		}
		list = append(list, command{menu: editMenu, part: 2, tucked: true, name: trf("Setting: %s…", told(figure.Label)), also: tr("set change rain survey groundwater"),
			cannot: w.needsSite, do: func() { w.askFigure(figure) }})
	}
	for _, of := range plan.SettingTexts() {
		if of.Name == "soil" {
			continue
		}
		list = append(list, command{menu: editMenu, part: 2, tucked: true, name: trf("Setting: %s…", told(of.Label)), also: tr("set change storm ground watering prices"),
			cannot: w.needsSite, do: func() { w.askText(of) }})
	}
	return append(list,
		command{menu: editMenu, part: 2, tucked: true, name: tr("Setting: Soil…"), also: tr("set change texture conductivity infiltration"), cannot: w.needsSite, do: w.askSoil},
		command{menu: editMenu, part: 2, tucked: true, name: tr("Setting: Days that the drain runs…"), also: tr("set change season wet"), cannot: w.needsSite, do: w.askRunDays})
}

// askText asks for a word or a text of the site's setting.
func (w *Window) askText(of plan.SettingText) {
	setting := w.doc.Site().Setting
	held := *of.Of(&setting)
	take := func(v string) error { return w.setSetting(func(s *plan.Setting) { *of.Of(s) = v }) }
	p := prompt{title: told(of.Label), size: fyne.NewSize(440, 150), choices: []choice{{word: tr("Cancel")}, {word: tr("Set")}}}
	if of.Type == plan.Text {
		answer := w.newLine(held)
		w.askForm(p, []*widget.FormItem{widget.NewFormItem(told(of.Label), answer)}, func() error { return take(strings.TrimSpace(answer.Text)) })
		w.win.Canvas().Focus(answer)
		return
	}
	words := of.Field.Of
	pick := w.newPicker(toldAll(words))
	pick.SetSelected(told(held))
	w.askForm(p, []*widget.FormItem{widget.NewFormItem(told(of.Label), pick)}, func() error { return take(untold(words, pick.Selected)) })
	w.win.Canvas().Focus(pick)
}

// askFigure asks for a number of the site's setting.
func (w *Window) askFigure(figure site.Figure) {
	field, each := w.units.field(figure.Field)
	setting := w.doc.Site().Setting
	answer := w.newLine(spoken().typed(field, plan.Value{Number: inField(*figure.Of(&setting), each)}))
	label := told(figure.Label)
	if field.Unit != "" {
		label = trf("%[1]s [%[2]s]", told(figure.Label), told(field.Unit))
	}
	w.askForm(prompt{title: told(figure.Label), size: fyne.NewSize(440, 150), choices: []choice{{word: tr("Cancel")}, {word: tr("Set")}}},
		[]*widget.FormItem{widget.NewFormItem(label, answer)},
		func() error {
			v, _, err := field.Parse(strings.TrimSpace(answer.Text))
			if err != nil {
				return err
			}
			return w.setSetting(func(s *plan.Setting) { *figure.Of(s) = v.Number * each })
		})
	w.win.Canvas().Focus(answer)
}

// askSoil asks for the soil that the channels are cut into.
func (w *Window) askSoil() {
	texture := w.newPicker(toldAll(textureNames()))
	texture.SetSelected(told(w.doc.Site().Setting.Soil))
	w.askForm(prompt{title: tr("Soil"), size: fyne.NewSize(440, 150), choices: []choice{{word: tr("Cancel")}, {word: tr("Set")}}},
		[]*widget.FormItem{widget.NewFormItem(tr("Soil texture"), texture)},
		func() error {
			return w.setSetting(func(s *plan.Setting) { s.Soil = untold(textureNames(), texture.Selected) })
		})
	w.win.Canvas().Focus(texture)
}

// askRunDays asks how many days of a year the drain runs: low, likely and high.
func (w *Window) askRunDays() {
	held := w.doc.Site().Setting.RunDays
	days := []*line{}
	for _, d := range []float64{held.Low, held.Likely, held.High} {
		days = append(days, w.newLine(typedNumber(d)))
	}
	w.askForm(prompt{title: tr("Days that the drain runs in a year"), size: fyne.NewSize(440, 220), choices: []choice{{word: tr("Cancel")}, {word: tr("Set")}}},
		[]*widget.FormItem{widget.NewFormItem(tr("Low [days]"), days[0]), widget.NewFormItem(tr("Likely [days]"), days[1]), widget.NewFormItem(tr("High [days]"), days[2])},
		func() error {
			var typed geo.Range
			field := plan.Field{Label: "Days it runs", High: 366}
			for i, to := range []*float64{&typed.Low, &typed.Likely, &typed.High} {
				v, _, err := field.Parse(strings.TrimSpace(days[i].Text))
				if err != nil {
					return err
				}
				*to = v.Number
			}
			return w.setSetting(func(s *plan.Setting) { s.RunDays = typed })
		})
	w.win.Canvas().Focus(days[0])
}
