package ui

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"runnel/app/site"
	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/survey"
)

// showFiles shows each file, what was found in it and how it is read.
func (c *surveying) showFiles() {
	var key strings.Builder
	fmt.Fprint(&key, c.w.units, c.doing == tr("Reading…"), len(c.own.Sources))
	for _, f := range c.files {
		fmt.Fprintf(&key, "%p", f)
		fmt.Fprint(&key, f.looked, f.read, f.how, f.columns(), f.fault, len(f.survey.Lines)+len(f.survey.Spots))
	}
	p := c.face.file
	p.show(c, key.String(), func() (shown []fyne.CanvasObject) {
		for _, s := range c.own.Sources {
			shown = append(shown, text(s.Name, strong), paragraph(c.sourceWords(s)))
		}
		for i, f := range c.files {
			if i > 0 {
				shown = append(shown, space(gap))
			}
			shown = append(shown, c.fileRows(p, f)...)
		}
		return append(shown, c.button(p, tr("Add another file…"), c.askAnother))
	})
}

func (c *surveying) askAnother() {
	c.w.askFile(tr("Add a file of contours or points"), measureEnds, c.add)
}

// sourceWords say what a source of the site's own survey gave.
func (c *surveying) sourceWords(s survey.Source) string {
	if s.Form == survey.Contours {
		return trf("Contours and lines: %s.", decimal(float64(s.Count), 0))
	}
	return trf("Measured points: %s.", decimal(float64(s.Count), 0))
}

// fileRows are a file's name, what was found, and how it is read.
func (c *surveying) fileRows(p *formPart, f *measuredFile) []fyne.CanvasObject {
	name := flush(newColumnName(f.name()))
	rows := []fyne.CanvasObject{container.NewBorder(nil, nil, nil, c.button(p, tr("Take it off"), func() { c.remove(f) }), name)}
	if f.fault != nil {
		rows = append(rows, danger(sentence(c.w.units.told(f.fault.Error()))))
	}
	if !f.looked {
		return rows
	}
	if words := c.found(f); words != "" {
		rows = append(rows, paragraph(words))
	}
	if f.look.Table != nil {
		rows = append(rows, c.tableRows(p, f)...)
	} else {
		rows = append(rows, c.formRow(p, f), c.heightRow(p, f))
	}
	if f.how.Height != gdal.NoHeight || f.look.Table != nil {
		rows = append(rows, c.unitRow(p, f))
	}
	rows = append(rows, c.errorRow(p, f))
	if !f.look.System.Known() || f.how.System != "" || errors.Is(f.fault, gdal.ErrNoSystem) {
		rows = append(rows, c.systemRows(p, f)...)
	}
	rows = append(rows, c.layerRows(p, f)...)
	return append(rows, c.codeRows(p, f)...)
}

// found says what a file holds, and what was taken note of as it was read.
func (c *surveying) found(f *measuredFile) string {
	var said []string
	if f.look.Table != nil {
		said = append(said, sentences(c.w.units, f.look.Notes)...)
	}
	if f.read || c.doing == tr("Reading…") { // while it is read again the form stays as it is
		lines, spots := len(f.survey.Lines), len(f.survey.Spots)
		switch {
		case lines > 0 && spots > 0:
			said = append(said, trf("Lines: %[1]s. Points: %[2]s. In %[3]v.", decimal(float64(lines), 0), decimal(float64(spots), 0), f.system))
		case lines > 0:
			said = append(said, either(lines, trf("1 line, in %v.", f.system), trf("%[1]s lines, in %[2]v.", decimal(float64(lines), 0), f.system)))
		case spots > 0:
			said = append(said, either(spots, trf("1 point, in %v.", f.system), trf("%[1]s points, in %[2]v.", decimal(float64(spots), 0), f.system)))
		}
	}
	if own := f.look.System; f.read && own.Known() && f.system.Known() && !own.Same(f.system) {
		said = append(said, trf("The file itself is in %v.", own))
	}
	said = append(said, sentences(c.w.units, f.notes)...)
	return strings.Join(said, " ")
}

// formRow asks whether a file holds contours or points.
func (c *surveying) formRow(p *formPart, f *measuredFile) fyne.CanvasObject {
	forms := []survey.Form{survey.Contours, survey.Points}
	s := c.pick(p, []string{tr("contours"), tr("points")}, slices.Index(forms, f.how.Form), func(i int) {
		c.reread(f, func(o *gdal.SurveyOptions) { o.Form = forms[i] })
	})
	return newQuestion(tr("These are"), s, "").row
}

// heightRow asks where the heights stand.
func (c *surveying) heightRow(p *formPart, f *measuredFile) fyne.CanvasObject {
	values, hasZ := f.heightFields()
	words := make([]string, len(values))
	for i, name := range values {
		words[i] = trf("field %s", name)
	}
	if hasZ {
		values, words = append(values, gdal.ZHeight), append(words, tr("the Z of their points"))
	}
	values, words = append(values, gdal.NoHeight), append(words, tr("none: I type them"))
	s := c.pick(p, words, slices.Index(values, f.how.Height), func(i int) {
		c.reread(f, func(o *gdal.SurveyOptions) { o.Height = values[i] })
	})
	return newQuestion(tr("Heights from"), s, "").row
}

// unitRow asks for the unit of the heights.
func (c *surveying) unitRow(p *formPart, f *measuredFile) fyne.CanvasObject {
	units := heightUnits()
	var words []string
	at := 0
	for i, u := range units {
		words = append(words, u.word)
		if u.unit == f.how.Unit {
			at = i
		}
	}
	row := newQuestion(tr("Heights are in"), c.pick(p, words, at, func(i int) {
		c.reread(f, func(o *gdal.SurveyOptions) { o.Unit = units[i].unit })
	}), "").row
	if s := f.survey.Sources; f.how.Unit == "" && len(s) > 0 && s[0].Unit == "m" {
		row.Add(paragraph(tr("The file names no other unit, so its heights are taken as metres.")))
	}
	return row
}

// errorRow asks how far off the heights of a file are, where its maker says so.
func (c *surveying) errorRow(p *formPart, f *measuredFile) fyne.CanvasObject {
	var q *question
	given := ""
	if f.how.Error > 0 {
		given = typedNumber(f.how.Error)
	}
	a := c.typed(p, given, tr("not given"), func(typed string) error {
		v, err := errorOf(typed)
		if q.complain(err) == nil {
			c.reread(f, func(o *gdal.SurveyOptions) { o.Error = v })
		}
		return err
	})
	mark := c.w.mark("survey-own-error")
	mark.keys = c.key
	q = newAskedQuestion(container.NewHBox(text(tr("Error of its heights"), body), container.NewCenter(mark)), a, "m")
	return q.row
}

// errorOf reads the error of a file's heights [m]; nothing typed is nought.
func errorOf(typed string) (float64, error) {
	typed = strings.Replace(strings.TrimSpace(typed), ",", ".", 1)
	if typed == "" {
		return 0, nil
	}
	v, err := strconv.ParseFloat(typed, 64)
	if most := site.SurveyError().High; err != nil || !(v > 0 && v <= most) {
		return 0, fmt.Errorf("the error of the heights is %q; give a number of metres above 0 and up to %g, or leave it empty", typed, most)
	}
	return v, nil
}

// systemRows ask for the reference system of a file that does not say: one that is
// named, that of the site, or lengths from a place of the surveyor's own.
func (c *surveying) systemRows(p *formPart, f *measuredFile) []fyne.CanvasObject {
	values := []string{"", "m", "ft", "us-ft"}
	words := []string{tr("a system that I name"), tr("lengths of its own, metres"), tr("lengths of its own, feet"), tr("lengths of its own, US feet")}
	if f.how.To != (crs.CRS{}) {
		values, words = append(values, gdal.OwnSystem), append(words, tr("those of the site"))
	}
	at := max(0, slices.Index(values, f.how.System))
	rows := []fyne.CanvasObject{newQuestion(tr("Coordinates are"), c.pick(p, words, at, func(i int) {
		c.reread(f, func(o *gdal.SurveyOptions) { o.System = values[i] })
	}), "").row}
	switch {
	case at > 0 && values[at] != gdal.OwnSystem:
		return append(rows, paragraph(tr("The file names no reference system. Name it if you know it: without one the site has no place on the earth.")))
	case at > 0:
		return rows
	}
	a := c.typed(p, f.how.System, tr("such as EPSG:32632"), func(typed string) error {
		c.reread(f, func(o *gdal.SurveyOptions) { o.System = strings.TrimSpace(typed) })
		return nil
	})
	return append(rows, newQuestion(tr("Reference system"), a, "").row)
}

// mostRows is how many layers or codes are asked about one by one.
const mostRows = 24

// lineUses are what the lines of a layer or a code may be, as they are offered.
func lineUses() []string {
	return []string{tr("breakline"), tr("kerb"), tr("edge of the survey")}
}

// layerRows ask what each layer is, where there are several.
func (c *surveying) layerRows(p *formPart, f *measuredFile) (rows []fyne.CanvasObject) {
	if len(f.look.Layers) < 2 {
		return nil
	}
	rows = append(rows, text(tr("Layers"), caption))
	words := append(append([]string{tr("measurements")}, lineUses()...), tr("left out"))
	for _, l := range f.look.Layers[:min(len(f.look.Layers), mostRows)] {
		at := 0
		if use, ok := f.how.Uses[l.Name]; ok {
			at = int(use)
		} else if f.how.Layers != nil && !slices.Contains(f.how.Layers, l.Name) {
			at = len(words) - 1
		}
		s := c.pick(p, words, at, func(i int) { c.reread(f, func(o *gdal.SurveyOptions) { f.useLayer(l.Name, i) }) })
		rows = append(rows, newQuestion(trf("%[1]s, %[2]d", l.Name, l.Points+l.Lines+l.Areas), s, "").row)
	}
	return rows
}

// useLayer sets what a layer is: measurements, a use of lines, or left out.
func (f *fileState) useLayer(name string, as int) {
	layers := f.how.Layers
	if layers == nil {
		for _, l := range f.look.Layers {
			layers = append(layers, l.Name)
		}
	}
	layers = slices.DeleteFunc(slices.Clone(layers), func(l string) bool { return l == name })
	if as <= int(survey.Edge) {
		layers = append(layers, name)
	}
	f.how.Layers = layers
	f.use(name, as)
}

// use sets what the points of a code or the lines of a layer are joined to; 0 is
// nothing.
func (f *fileState) use(name string, as int) {
	uses := map[string]survey.Use{}
	for k, v := range f.how.Uses {
		uses[k] = v
	}
	delete(uses, name)
	if as > 0 && as <= int(survey.Edge) {
		uses[name] = survey.Use(as)
	}
	f.how.Uses = uses
}
