package gdal

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"

	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/survey"
	"runnel/geo/table"
)

// What SurveyOptions.Height may be beside the name of a field.
const (
	ZHeight  = "(z)"    // the third coordinate of the points
	NoHeight = "(none)" // none: what is read comes without heights
)

// SurveyOptions say how a file of measurements is to be understood. The zero
// SurveyOptions but for its Form takes what the file says, and guesses the rest.
type SurveyOptions struct {
	Form survey.Form // Contours or Points
	// Layers are those that are read; nil is all.
	Layers []string
	// Height names the field of the heights, and Z where no field is called so the third
	// coordinate; "" guesses as LookAt does.
	Height string
	// Unit is that of the heights: m, ft or us-ft; "" asks the file.
	Unit string
	// System is that of the coordinates, whatever the file says: a name such as
	// EPSG:32633; OwnSystem; or m, ft or us-ft where they are lengths from a place
	// of the surveyor's own. "" asks the file.
	System string
	// To is the site's system. The zero CRS takes the file's own where that is metric
	// and true to length, and else the UTM zone of its middle; one that is not known
	// but has metres takes coordinates as they are.
	To crs.CRS
	// Columns are those of delimited text; nil guesses.
	Columns *table.Columns
	// Uses says what the lines of a layer are, and which point codes draw lines: a
	// code is found as it stands, by its first word, or without the number behind it.
	// Points of one code are one line, in the order of the file; another number
	// behind the code, as in KB1 and KB2, begins another.
	Uses map[string]survey.Use
	// Error is the standard deviation of the heights [m]; 0 is not given.
	Error float64
}

func (o SurveyOptions) check() error {
	switch {
	case o.Form != survey.Contours && o.Form != survey.Points:
		return errors.New("measurements are contours or points; a raster is brought in as a ground")
	case o.Error < 0 || math.IsNaN(o.Error-o.Error):
		return fmt.Errorf("the error of its heights is %g m; give 0 or more", o.Error)
	case o.Unit != "":
		if _, err := geo.ParseLength(o.Unit); err != nil {
			return err
		}
	}
	return nil
}

// ReadSurvey reads the measurements of one file: contour lines and breaklines,
// points, and the edges of areas, with heights in metres in a metric system, which
// it returns with sentences for a person. A line or a point whose height is not
// known is kept, without it. Where the file does not say in which system it is, the
// error is ErrNoSystem.
func ReadSurvey(ctx context.Context, path string, o SurveyOptions) (survey.Survey, crs.CRS, []string, error) {
	fail := func(err error) (survey.Survey, crs.CRS, []string, error) {
		return survey.Survey{}, crs.CRS{}, nil, err
	}
	full, err := localFile(path)
	if err != nil {
		return fail(err)
	}
	if err := o.check(); err != nil {
		return fail(err)
	}
	g := newGathering(filepath.Base(full), o)
	var found table.Look
	read := g.readFile
	if isTable(full) {
		if found, err = lookAtTable(full); err != nil {
			return fail(err)
		}
		read = func(ctx context.Context, full string) error { return g.readTable(ctx, full, found) }
	}
	if err := doOn(full, func() error { return read(ctx, full) }); err != nil {
		return fail(err)
	}
	return g.survey, g.to, g.notes, nil
}

// A gathering is a survey as it is read.
type gathering struct {
	o           SurveyOptions
	survey      survey.Survey
	to          crs.CRS
	settled     bool // to is chosen
	notes       []string
	codes       map[string]int16
	lines, rows int // so far in the file
	faults      int
	firstFault  string
	noTable     bool // the file of its fields is missing
}

func newGathering(name string, o SurveyOptions) *gathering {
	return &gathering{
		o: o, to: o.To, settled: o.To != crs.CRS{}, codes: map[string]int16{},
		survey: survey.Survey{Sources: []survey.Source{{Name: name, Form: o.Form, Error: o.Error}}},
	}
}

func (g *gathering) source() *survey.Source { return &g.survey.Sources[0] }

// note tells something of the file, once however many layers it is true of.
func (g *gathering) note(format string, args ...any) {
	if said := fmt.Sprintf(format, args...); !slices.Contains(g.notes, said) {
		g.notes = append(g.notes, said)
	}
}

// fault tells of one part of the file that is left out, unless many have been.
func (g *gathering) fault(said string) {
	if g.faults++; g.faults == 1 {
		g.firstFault = said
	}
	if g.faults <= mostNotes {
		g.note("%s.", said)
	}
}

const (
	// mostCodes is how many point codes are told apart.
	mostCodes = math.MaxInt16
	// longestCode is how long one may be [bytes]; what is longer is a description.
	longestCode = 100
)

// codeOf returns the place of a code in the source's list; -1 for none.
func (g *gathering) codeOf(code string) int16 {
	if code == "" || len(code) > longestCode {
		return -1
	}
	if i, ok := g.codes[code]; ok {
		return i
	}
	codes := &g.source().Codes
	if len(*codes) >= mostCodes {
		return -1
	}
	i := int16(len(*codes))
	g.codes[code] = i
	*codes = append(*codes, code)
	return i
}

// finish joins points to lines, counts, and tells what a person should know.
func (g *gathering) finish() error {
	if more := g.faults - mostNotes; more > 0 {
		g.note("%d more are left out for reasons like these.", more)
	}
	if len(g.survey.Lines)+len(g.survey.Spots) == 0 {
		if g.faults > 0 {
			return fmt.Errorf("nothing in it can be taken; the first reason: %s", g.firstFault)
		}
		return errors.New("it holds no points, lines or areas that can be taken; give another file, or another layer of it")
	}
	g.join()
	g.noteHeights()
	g.source().Count = len(g.survey.Lines) + len(g.survey.Spots)
	return nil
}

// noteHeights tells what has no height.
func (g *gathering) noteHeights() {
	lines, spots := 0, 0
	for _, l := range g.survey.Lines {
		if !l.Known() && l.Use != survey.Edge {
			lines++
		}
	}
	for _, s := range g.survey.Spots {
		if math.IsNaN(s.Z) {
			spots++
		}
	}
	if n := lines + spots; n > 0 && g.noTable {
		g.note("%d of %d have no height: its .dbf is missing, the file that holds its fields; they are kept without it.", n, len(g.survey.Lines)+len(g.survey.Spots))
		return
	}
	if lines > 0 {
		g.note("%d of %d lines have no height, or lack some; they are kept without it.", lines, len(g.survey.Lines))
	}
	if spots > 0 {
		g.note("%d of %d points have no height; they are kept without it.", spots, len(g.survey.Spots))
	}
}
