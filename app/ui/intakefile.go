package ui

import (
	"context"
	"errors"
	"path/filepath"
	"slices"

	"runnel/app/intake"
	"runnel/app/view"
	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/survey"
	"runnel/geo/table"
)

// measureEnds are how files of measurements end.
var measureEnds = []string{".geojson", ".json", ".gpkg", ".shp", ".dxf", ".kml", ".gpx", ".fgb", ".csv", ".txt", ".xyz", ".pnt"}

// A measuredFile is a file of measurements on the page. It is known by its address.
type measuredFile struct{ fileState }

// A fileState is what is known of a file of measurements, and how it is to be read.
type fileState struct {
	path string
	// looked is set once look is known, and read once the survey is what how says.
	looked, read bool
	// guessed is set once the uses of its codes were guessed.
	guessed bool
	look    gdal.Look
	how     gdal.SurveyOptions
	survey  survey.Survey
	system  crs.CRS
	notes   []string
	fault   error
}

func (f *fileState) name() string { return filepath.Base(f.path) }

// add puts another file on the page.
func (c *surveying) add(path string) {
	c.files = append(c.files, &measuredFile{fileState{path: path}})
	c.w.trace.say("measurements", "path", path)
	c.readAll()
}

// remove takes a file off the page with the heights that were typed for it.
func (c *surveying) remove(f *measuredFile) {
	c.files = slices.DeleteFunc(c.files, func(g *measuredFile) bool { return g == f })
	c.hand.forget(f)
	if len(c.files) == 0 && c.purpose != reworking {
		c.leave()
		return
	}
	c.readAll()
}

// reread reads a file in another way.
func (c *surveying) reread(f *measuredFile, change func(*gdal.SurveyOptions)) {
	change(&f.how)
	f.read = false
	c.readAll()
}

// readAll reads what is not read yet. The first file gives the system of all, where
// the site has none that they must come in.
func (c *surveying) readAll() {
	if c.made = nil; c.doing != tr("Reading…") {
		c.stop()
	}
	c.trouble = ""
	c.reading++
	of := c.reading
	states := make([]fileState, len(c.files))
	for i, f := range c.files {
		states[i] = f.fileState
	}
	to, in := c.siteSystem(), c.w.options.In
	c.doing = tr("Reading…")
	c.give = func() {
		c.reader.Request(func(context.Context) (readFiles, error) {
			return readFiles{of: of}, errors.New("the reading was stopped; read it again, or take the file off the page")
		})
	}
	c.refresh()
	c.reader.Request(func(ctx context.Context) (readFiles, error) {
		for i := range states {
			states[i].readBy(ctx, in, to)
			to = states[i].systemFor(to)
		}
		return readFiles{of, states}, ctx.Err()
	})
}

// readFiles are the files as they were read when it was asked for so many times.
type readFiles struct {
	of     int
	states []fileState
}

// readBy reads what is not known yet of a file, in a system if there is one that it
// must come in.
func (f *fileState) readBy(ctx context.Context, in intake.Reader, to crs.CRS) {
	if !f.looked {
		if f.look, f.fault = in.Look(ctx, f.path); f.fault != nil {
			return
		}
		f.looked = true
		f.guess(to)
	}
	if f.read && f.how.To == to {
		return
	}
	f.how.To = to
	f.survey, f.system, f.notes, f.fault = in.Survey(ctx, f.path, f.how)
	if f.read = f.fault == nil; f.read && f.guessUses() {
		f.survey, f.system, f.notes, f.fault = in.Survey(ctx, f.path, f.how)
		f.read = f.fault == nil
	}
}

// systemFor is the system of what is read after this file.
func (f *fileState) systemFor(to crs.CRS) crs.CRS {
	if to == (crs.CRS{}) && f.fault == nil {
		return f.system
	}
	return to
}

// takeFiles shows what was read.
func (c *surveying) takeFiles(got readFiles, err error) {
	if !c.on || got.of != c.reading || errors.Is(err, context.Canceled) {
		return
	}
	c.doing, c.give = "", nil
	if err != nil {
		c.trouble = sentence(c.w.units.told(err.Error()))
		c.refresh()
		return
	}
	for i, f := range c.files {
		f.fileState = got.states[i]
	}
	c.gather()
}

// gather puts together what was read and typed.
func (c *surveying) gather() {
	all, lines := c.own, make([]measuredKey, 0, len(c.lines))
	for _, l := range c.own.Lines {
		lines = append(lines, measuredKey{nil, l.Source, l.Number})
	}
	c.system = c.siteSystem()
	for _, f := range c.files {
		if !f.read {
			continue
		}
		if c.system == (crs.CRS{}) {
			c.system = f.system
		}
		for _, l := range f.survey.Lines {
			lines = append(lines, measuredKey{f, l.Source, l.Number})
		}
		if all.Empty() { // which spares a copy of what may be large
			all = f.survey
			continue
		}
		all = all.Joined(f.survey)
	}
	c.lines = lines
	c.survey = c.hand.applied(all, lines)
	c.seen = view.NewSurveyed(c.survey)
	c.made, c.givenUp = nil, false
	c.findUsual()
	if b := c.survey.Bound(); b != c.bound && c.face != nil {
		c.bound, c.face.view.fitted = b, false
	}
	c.findFaults()
	c.refresh()
}

// guess sets how a file is to be read from what it looks like.
func (f *fileState) guess(to crs.CRS) {
	var points, lines int
	for _, l := range f.look.Layers {
		points, lines = points+l.Points, lines+l.Lines+l.Areas
	}
	f.how.Form = survey.Points
	if lines > 0 && f.look.Table == nil {
		f.how.Form = survey.Contours
	}
	if t := f.look.Table; t != nil {
		columns := t.Columns
		f.how.Columns = &columns
	}
	f.how.Height = f.likelyHeight()
	switch {
	case f.look.System.Known():
	case f.look.Degrees:
		f.how.System = "EPSG:4326"
	case to != (crs.CRS{}):
		f.how.System = gdal.OwnSystem
	default: // so that it is seen at once; the form asks for the system
		f.how.System = "m"
	}
}

// likelyHeight is the field that seems to hold the heights, else the third coordinate.
func (f *fileState) likelyHeight() string {
	z := false
	for _, l := range f.look.Layers {
		if l.Height != "" {
			return l.Height
		}
		z = z || l.HasZ
	}
	if z {
		return gdal.ZHeight
	}
	return gdal.NoHeight
}

// heightFields are the names of the fields that could hold heights.
func (f *fileState) heightFields() (names []string, hasZ bool) {
	for _, l := range f.look.Layers {
		hasZ = hasZ || l.HasZ
		for _, field := range l.Fields {
			if field.Number && !slices.Contains(names, field.Name) {
				names = append(names, field.Name)
			}
		}
	}
	if h := f.how.Height; h != "" && h != gdal.ZHeight && h != gdal.NoHeight && !slices.Contains(names, h) {
		names = append(names, h)
	}
	return names, hasZ || f.how.Height == gdal.ZHeight
}

// columns are how the rows of a table are read now.
func (f *fileState) columns() table.Columns {
	if f.how.Columns != nil {
		return *f.how.Columns
	}
	return table.None
}
