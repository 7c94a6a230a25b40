package ui

import (
	"context"
	"image"
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/compare"
	"runnel/app/sheet"
	"runnel/geo/plan"
)

// A levelPart tells what the water touches and holds at each level.
type levelPart struct {
	*channelPage
	table  *figureTable
	charts *fyne.Container
	note   *widget.RichText
	// drawn is what the charts were drawn of.
	drawn drawnLevels
	// brought is of which line the level in use was brought into sight.
	brought string
}

// drawnLevels is the table and the line of it that charts are drawn of.
type drawnLevels struct {
	points *compare.StagePoint
	line   string
}

func (l *levelPart) word() string { return tr("By water level") }

func (l *levelPart) works() []worked { return []worked{l.stages} }

func (l *levelPart) focus() *figureTable { return l.table }

func (l *levelPart) lines() []lineChoice {
	if !l.stages.last() {
		return nil
	}
	return linesOf(l.channelPage, l.stages.value.Lines, func(s compare.LineStages) (plan.ID, string) { return s.ID, s.Title })
}

func (l *levelPart) content() fyne.CanvasObject {
	l.table, l.note, l.charts, l.drawn = newFigureTable(l.key), quiet(""), container.NewStack(), drawnLevels{}
	l.brought = ""
	return container.New(besideOrBelow{}, container.New(down{}, space(0), l.table, flush(l.note)), l.charts)
}

// points are the levels of what is told of, and its name.
func (l *levelPart) points() (points []compare.StagePoint, name string) {
	if !l.stages.last() {
		return nil, ""
	}
	for _, s := range l.stages.value.Lines {
		if s.ID == l.line {
			return s.Points, l.nameOfLine(s.ID, s.Title)
		}
	}
	return l.stages.value.Scheme, l.w.schemeName()
}

func (l *levelPart) update() {
	points, name := l.points()
	l.table.show(l.sheets()[0])
	if i := slices.IndexFunc(points, func(p compare.StagePoint) bool { return p.InUse }); i >= 0 && name != l.brought {
		l.table.bring(i)
		l.brought = name
	}
	why := ""
	switch {
	case l.stages.why != "":
		why = l.stages.why
	case l.stages.last():
		why = l.stages.value.Why
	}
	if why != "" {
		setQuiet(l.note, trf("– is told because: %s", sentence(l.w.units.told(why))))
	} else {
		said := []string{tr("The water stands at one level in all channels, or at the brim of those that are lower; pools that sills hold higher stand as they do in use, and drains are left out. The mean wetted perimeter is the contact area over the length of line that is wet: a dash where all is dry.")}
		for _, note := range l.stages.value.Notes {
			said = append(said, sentence(l.w.units.told(note)))
		}
		setQuiet(l.note, runOn(said))
	}
	l.draw(points, name)
}

func (l *levelPart) sheets() []figureSheet {
	points, _ := l.points()
	u := l.w.units
	one, two, three := u.yard(1), u.yard(2), u.yard(3)
	return []figureSheet{{
		rows: len(points), stale: !l.stages.current(), heavy: func(row int) bool { return points[row].InUse },
		columns: []figureColumn{
			one.column(tr("Water level"), 2, func(row int) float64 { return points[row].Level }),
			wordColumn(tr("In use"), func(row int) string {
				if points[row].InUse {
					return tr("in use")
				}
				return ""
			}),
			one.column(tr("Mean wetted perimeter of the channels"), 2, func(row int) float64 { return points[row].Perimeter }),
			two.column(tr("Contact area"), 1, func(row int) float64 { return points[row].Contact }),
			two.column(tr("Water surface"), 1, func(row int) float64 { return points[row].Surface }),
			three.column(tr("Storage"), 2, func(row int) float64 { return points[row].Volume }),
			one.column(tr("Wet bank"), 1, func(row int) float64 { return points[row].WetEdge }),
		},
	}}
}

// draw puts up the charts of contact and storage by level, anew for other figures.
func (l *levelPart) draw(points []compare.StagePoint, name string) {
	of := drawnLevels{line: name}
	if len(points) > 0 {
		of.points = &points[0]
	}
	if of == l.drawn && len(l.charts.Objects) > 0 {
		return
	}
	l.drawn = of
	l.easel.clear()
	u := l.w.units
	contact := levelCurves(u, points, name, u.yard(2), func(p compare.StagePoint) float64 { return p.Contact })
	contact.Title, contact.Up = tr("Contact area by water level"), trf("%s [%s]", tr("Contact area"), u.yard(2).unit)
	storage := levelCurves(u, points, name, u.yard(3), func(p compare.StagePoint) float64 { return p.Volume })
	storage.Title, storage.Up = tr("Storage by water level"), trf("%s [%s]", tr("Storage"), u.yard(3).unit)
	l.charts.Objects = []fyne.CanvasObject{container.New(evenly{}, l.picture(contact.Draw), l.picture(storage.Draw))}
	l.charts.Refresh()
}

// mostInUse is how many levels in use a chart marks at most.
const mostInUse = 3

// levelCurves is a figure by the water's level, with the levels in use as upright lines.
func levelCurves(u units, points []compare.StagePoint, name string, y yardstick, of func(compare.StagePoint) float64) sheet.Curves {
	one, top := u.yard(1), 0.0
	c := sheet.Curves{Across: trf("Water level above the survey's datum [%s]", one.unit), None: tr("No channel can hold water.")}
	curve := sheet.Curve{Name: name, Series: 1}
	var used []float64
	for _, p := range points {
		curve.X, curve.Y = append(curve.X, p.Level/one.each), append(curve.Y, of(p)/y.each)
		top = max(top, of(p)/y.each)
		if p.InUse {
			used = append(used, p.Level/one.each)
		}
	}
	if len(points) == 0 {
		return c
	}
	c.Curves = append(c.Curves, curve)
	for _, level := range used[:min(len(used), mostInUse)] {
		c.Curves = append(c.Curves, sheet.Curve{Name: tr("level in use"), X: []float64{level, level}, Y: []float64{0, top}, Series: 2})
	}
	return c
}

// picture puts up a chart.
func (p *figurePage) picture(draw chart) fyne.CanvasObject {
	look := chartLook(p.w.look.palette, 1)
	look.Paper = color.NRGBAModel.Convert(theme.Color(theme.ColorNameBackground)).(color.NRGBA)
	return p.easel.picture(func(_ context.Context, w, h int, density float64) (*image.RGBA, error) {
		dense := look
		dense.Density = density
		return draw(w, h, dense), nil
	})
}
