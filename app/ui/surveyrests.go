package ui

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb/planar"

	"runnel/app/report"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/geo"
	"runnel/geo/survey"
)

// A restsPart says what the ground rests on and how good it is.
type restsPart struct {
	w       *Window
	box     *fyne.Container
	sources *fyne.Container
	// of is the survey whose sources are listed, once they are.
	of     survey.Survey
	listed bool
	rows   []restsRow
	fields []*settingField
	from   *widget.RichText
	known  *tick
	toMend *mendOffers
	work   *button
}

// A restsRow is a figure of the survey. Some are shown only where they say something.
type restsRow struct {
	// write gives the figure; empty where there is none to give.
	write func() string
	row   *fyne.Container
	text  *canvas.Text
}

func newRestsPart(w *Window) *restsPart {
	p := &restsPart{w: w, sources: container.NewVBox(), from: quiet("")}
	p.box = container.NewVBox(w.labelled(tr("What the ground rests on"), heading, "survey-sources"), p.sources)
	p.addQuality()
	p.fields = []*settingField{
		newSettingField(w, site.SurveyError()),
		newSettingField(w, site.SurveyReach()),
	}
	p.box.Add(w.labelled(tr("Reckoned with"), body, "survey-error"))
	for _, f := range p.fields {
		p.box.Add(f.row)
	}
	p.box.Add(flush(p.from))
	p.addThin()
	p.toMend = newMendOffers(w)
	p.work = newButton(tr("Work on the survey…"), w.workOnSurvey)
	p.box.Add(container.NewVBox(p.toMend.fill, p.toMend.bare, p.work))
	return p
}

// row adds a figure with its '?'.
func (p *restsPart) row(label, key string, write func() string) {
	r := restsRow{write: write, text: rightText("", body)}
	r.row = container.New(columns{13, 7}, p.w.labelled(label, body, key), r.text)
	p.rows = append(p.rows, r)
	p.box.Add(r.row)
}

// addQuality adds what was found when the ground was made.
func (p *restsPart) addQuality() {
	quality := func() survey.Quality { return p.w.doc.Site().Survey.Quality }
	checked := func(of func(survey.Quality) string) func() string {
		return func() string {
			if quality().HeldOut == 0 {
				return ""
			}
			return of(quality())
		}
	}
	u := p.w.units
	p.row(tr("Held out in turn"), "survey-held-out", checked(func(q survey.Quality) string { return decimal(float64(q.HeldOut), 0) }))
	p.row(under+tr("root mean square"), "survey-held-out", checked(func(q survey.Quality) string { return u.small(q.RMSE) }))
	p.row(under+tr("bias"), "survey-held-out", checked(func(q survey.Quality) string { return u.small(q.Bias) }))
	p.row(under+tr("worst"), "survey-held-out", checked(func(q survey.Quality) string { return u.small(q.Worst) }))
	p.row(tr("Accuracy, 95 %"), "survey-accuracy", checked(func(q survey.Quality) string { return u.small(report.Accuracy95(q)) }))
	p.row(tr("Tension of the surface"), "survey-surface", func() string {
		if !p.w.doc.Site().Survey.Measured() {
			return ""
		}
		return decimal(quality().Tension, 2)
	})
	for _, patch := range []struct {
		label string
		why   survey.Why
	}{{tr("Voids, filled"), survey.Void}, {tr("Buildings, taken out"), survey.Building}, {tr("Trees, taken out"), survey.Trees}} {
		p.row(patch.label, "survey-patches", func() string { return u.patched(p.w.doc.Site().Survey.Patches, patch.why) })
	}
}

// addThin adds where the survey is too thin, which the map shows.
func (p *restsPart) addThin() {
	p.known = p.w.newTick(tr("Show how well it is known"), func(on bool) { p.w.showLayer(view.Doubts, on) })
	p.box.Add(p.known)
	doubt := func(of func(*view.Doubt) float64) func() string {
		return func() string {
			d := p.w.sceneNow().Doubt
			if d == nil {
				return ""
			}
			return percent(of(d))
		}
	}
	p.row(tr("Too thin to say"), "survey-thin", doubt(func(d *view.Doubt) float64 { return d.TooLittle }))
	p.row(tr("Says little"), "survey-thin", doubt(func(d *view.Doubt) float64 { return d.Little }))
}

// small writes a length of centimetres [m] with as many places as tell it.
func (u units) small(v float64) string {
	unit, sign := 1.0, "m"
	if u == usFeet {
		unit, sign = geo.Foot, "ft"
	}
	places := 3
	if math.Abs(v/unit) >= 1 {
		places = 2
	}
	return with(decimal(v/unit, places), sign)
}

// patched writes how large the parts that were worked out for a reason are together;
// empty where there are none.
func (u units) patched(all []survey.Patch, why survey.Why) string {
	area := 0.0
	for _, p := range all {
		if p.Why == why {
			area += math.Abs(planar.Area(p.Outline))
		}
	}
	if area == 0 {
		return ""
	}
	return u.area(area)
}

func (p *restsPart) content() fyne.CanvasObject { return p.box }

func (p *restsPart) update() {
	s := p.w.doc.Site()
	if !p.listed || !p.of.Is(s.Survey) {
		p.of, p.listed = s.Survey, true
		p.list(s.Survey)
	}
	for _, r := range p.rows {
		figure := r.write()
		shown(r.row, figure != "")
		say(r.text, figure)
	}
	for _, f := range p.fields {
		f.update()
	}
	setQuiet(p.from, p.origin(s.Survey, s.Setting.SurveyError))
	if is := p.w.ticked(view.Doubts); p.known.Checked != is {
		p.known.Checked = is
		p.known.Refresh()
	}
	p.toMend.update()
	shown(p.work, s.Survey.Measured())
}

// list names the files that the ground was made of.
func (p *restsPart) list(s survey.Survey) {
	p.sources.RemoveAll()
	for _, one := range s.Sources {
		name := newBrief(strong)
		name.say(or(one.Name, tr("A file whose name is not recorded any more")))
		p.sources.Add(name.object)
		p.sources.Add(paragraph(p.w.sourceText(one)))
	}
	if n := s.LeftOut(); n > 0 {
		p.sources.Add(paragraph(trf("Lines and points that are left out: %d.", n)))
	}
	if s.Empty() {
		p.sources.Add(paragraph(tr("Nothing is recorded of the survey that this ground was made from. Bring it in again with Replace the ground… to have it recorded.")))
	}
	p.sources.Refresh()
}

// sourceText says what was taken of a file.
func (w *Window) sourceText(s survey.Source) string {
	count := decimal(float64(s.Count), 0)
	var taken string
	switch s.Form {
	case survey.Contours:
		taken = trf("Contours and lines: %s.", count)
	case survey.Points:
		taken = trf("Measured points: %s.", count)
	default:
		taken = trf("Raster: %[1]s cells of %[2]s.", count, w.units.length(s.Cell))
	}
	heights := tr("The unit of its heights is not known.")
	switch {
	case s.Unit == "" && s.Form == survey.Raster:
		heights = tr("The file does not say in what unit its heights are; they were taken to be in metres.")
	case s.Unit != "":
		heights = trf("Heights in %[1]s above %[2]s.", unitWord(s.Unit), or(s.Datum, tr("a datum that is not known")))
	}
	place := trf("Coordinates in the file: %s.", or(s.System, tr("not known")))
	said := []string{taken, heights, place}
	if s.Error > 0 {
		said = append(said, trf("Said to be off by %s.", w.units.small(s.Error)))
	}
	return strings.Join(said, " ")
}

// unitWord names a unit of heights for a person.
func unitWord(unit string) string {
	switch unit {
	case "m":
		return tr("metres")
	case "ft":
		return tr("feet")
	case "us-ft":
		return tr("US survey feet")
	}
	return unit
}

func or(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// origin says where the error that is reckoned with is from.
func (p *restsPart) origin(s survey.Survey, set float64) string {
	found := s.Quality.Error
	switch {
	case found == 0:
		return tr("It was not found from the survey: it is the usual one, or as it was typed.")
	case math.Abs(found-set) > 5e-4*max(1, found):
		return trf("Typed in. From the survey it was found to be %s.", p.w.units.small(found))
	case report.LessWithEveryContour(s):
		return tr("As it was found from the measurements that were held out. With every contour in, the error is less: the root mean square at contours ÷ √3.")
	case s.Quality.HeldOut > 0:
		return tr("As it was found from the measurements that were held out.")
	}
	return tr("As it was given for the survey, or found from the raster's cell.")
}
