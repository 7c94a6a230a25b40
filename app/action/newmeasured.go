package action

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"runnel/app/groundwork"
	"runnel/app/site"
	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// Measured are the files of measurements that a ground is made of, and how they are
// to be understood.
type Measured struct {
	Contours   []string `sep:"none" placeholder:"FILE" help:"Contour lines: GeoJSON, GeoPackage, Shapefile, DXF or KML; may be given again."`
	Points     []string `sep:"none" placeholder:"FILE" help:"Measured points: delimited text, GPX or any of those formats; may be given again."`
	Breaklines []string `sep:"none" placeholder:"FILE" help:"Lines along which the ground bends, with a height at each point; may be given again."`
	Edge       []string `sep:"none" placeholder:"FILE" help:"The outline of what was surveyed; nothing is made beyond it."`
	Height     string   `placeholder:"FIELD" help:"The field of the heights; Z, where no field is called so, takes the height of each point of the lines; left out, it is guessed."`
	Columns    string   `placeholder:"ORDER" help:"The columns of delimited text: PNEZD, PENZD, XYZ or YXZ, or by number or name as point=1,north=2,east=3,height=4,code=5; left out, they are guessed."`
	Uses       []string `sep:"none" placeholder:"CODE=USE" help:"Join the points of a code, or take a layer, as a breakline, a kerb or the edge; may be given again."`
	FromCRS    string   `name:"from-crs" placeholder:"SYSTEM" help:"The reference system of files that name none: EPSG:CODE, or m, ft or us-ft where their coordinates are lengths from a place of their own."`
	Error      *float64 `placeholder:"METRES" help:"How far off the measured heights are, as a standard deviation, where that is known."`
	Tension    *float64 `placeholder:"SHARE" help:"How tight the surface is, from 0, the smoothest, to 1; left out, it is chosen by leaving measurements out."`
	LeaveOut   bool     `help:"Leave out of the ground what the faults that are found propose to leave out."`
}

// A measuredFile is one of them with what it holds.
type measuredFile struct {
	path string
	form survey.Form
	// height is the field of its heights, and use what its lines are to the ground.
	height string
	use    survey.Use
}

// files lists the files in the order in which they are read: contours say most of
// where the site is.
func (m *Measured) files() (all []measuredFile) {
	for _, path := range m.Contours {
		all = append(all, measuredFile{path, survey.Contours, m.Height, survey.Contour})
	}
	for _, path := range m.Points {
		all = append(all, measuredFile{path, survey.Points, m.Height, survey.Contour})
	}
	for _, path := range m.Breaklines {
		all = append(all, measuredFile{path, survey.Contours, gdal.ZHeight, survey.Break})
	}
	for _, path := range m.Edge {
		all = append(all, measuredFile{path, survey.Contours, gdal.NoHeight, survey.Edge})
	}
	return all
}

func (m *Measured) check() error {
	if len(m.files()) == 0 {
		for flag, given := range map[string]bool{
			"--height": m.Height != "", "--columns": m.Columns != "", "--uses": len(m.Uses) > 0, "--from-crs": m.FromCRS != "",
			"--error": m.Error != nil, "--tension": m.Tension != nil, "--leave-out": m.LeaveOut,
		} {
			if given {
				return mistyped("%s is for contours and points; leave it out with --ground", flag)
			}
		}
		return nil
	}
	if len(m.Contours)+len(m.Points)+len(m.Breaklines) == 0 {
		return mistyped("an edge alone has no heights; give contours or points with it")
	}
	if t := m.Tension; t != nil && !(*t >= 0 && *t <= 1) {
		return mistyped("the tension is %v; give a figure from 0 to 1, or leave --tension out to have it chosen", *t)
	}
	if e := m.Error; e != nil && !(*e > 0 && *e <= site.SurveyError().High) {
		return mistyped("the error is %v m; give a figure of more than 0 and up to %v, or leave --error out", *e, site.SurveyError().High)
	}
	if _, err := m.uses(); err != nil {
		return err
	}
	return m.checkColumns()
}

// useWords are what a line may be said to be.
var useWords = map[string]survey.Use{"contour": survey.Contour, "breakline": survey.Break, "break": survey.Break, "kerb": survey.Kerb, "curb": survey.Kerb, "edge": survey.Edge}

// uses reads what the lines of codes and layers are.
func (m *Measured) uses() (map[string]survey.Use, error) {
	uses := map[string]survey.Use{}
	for _, given := range m.Uses {
		code, word, ok := strings.Cut(given, "=")
		use, known := useWords[strings.ToLower(strings.TrimSpace(word))]
		if code = strings.TrimSpace(code); !ok || !known || code == "" {
			return nil, mistyped("--uses is %q; give a code and what its line is, as KERB=kerb, with breakline, kerb, edge or contour", given)
		}
		uses[code] = use
	}
	return uses, nil
}

// A reader reads the files of a survey one after another into one system.
type reader struct {
	*Measured
	in     Streams
	unit   string
	system crs.CRS
	all    survey.Survey
}

// read reads all the files.
func (r *reader) read(ctx context.Context) error {
	for i, file := range r.files() {
		got, system, err := r.one(ctx, file)
		if err != nil {
			return err
		}
		switch {
		case i == 0:
			r.system = system
		case !r.system.Known() && system.Known():
			return sentence("%s says that it is in %v, and the files before it name no system; give theirs with --from-crs", filepath.Base(file.path), system)
		}
		r.all = r.all.Joined(got)
	}
	return nil
}

// one reads one file.
func (r *reader) one(ctx context.Context, file measuredFile) (survey.Survey, crs.CRS, error) {
	fail := func(err error) (survey.Survey, crs.CRS, error) { return survey.Survey{}, crs.CRS{}, err }
	uses, err := r.uses()
	if err != nil {
		return fail(err)
	}
	o := gdal.SurveyOptions{Form: file.form, Height: file.height, Unit: r.unit, To: r.system, Uses: uses}
	if r.Error != nil {
		o.Error = *r.Error
	}
	if r.FromCRS != "" || r.Columns != "" {
		if err := r.look(ctx, file, &o); err != nil {
			return fail(err)
		}
	}
	got, system, notes, err := r.in.In.Survey(ctx, file.path, o)
	switch {
	case errors.Is(err, gdal.ErrNoSystem) && r.FromCRS == "":
		return fail(sentence("%w; give it as --from-crs EPSG:CODE, or --from-crs m", err))
	case err != nil:
		return fail(err)
	}
	r.in.tell(file.path, notes)
	if r.Error == nil && strings.EqualFold(filepath.Ext(file.path), ".gpx") {
		r.in.say(filepath.Base(file.path) + ": --error METRES gives the error of its heights")
	}
	if file.use != survey.Contour {
		got.Lines = slices.Clone(got.Lines)
		for i := range got.Lines {
			if got.Lines[i].Use == survey.Contour {
				got.Lines[i].Use = file.use
			}
		}
	}
	return got, system, nil
}

// look puts into the options what is said of files of one sort, where this is one.
func (r *reader) look(ctx context.Context, file measuredFile, o *gdal.SurveyOptions) error {
	look, err := r.in.In.Look(ctx, file.path)
	if err != nil {
		return err
	}
	if !look.System.Known() {
		o.System = r.FromCRS
	}
	if look.Table != nil && r.Columns != "" {
		o.Columns, err = r.columns(look.Table, filepath.Base(file.path))
	}
	return err
}

// fromMeasured makes the site of measurements.
func (n *New) fromMeasured(ctx context.Context, s Streams) (plan.Site, error) {
	r := reader{Measured: &n.Measured, in: s, unit: n.HeightUnit}
	if n.CRS != "" {
		var err error
		if r.system, err = gdal.NamedSystem(n.CRS); err != nil {
			return plan.Site{}, err
		}
		if err := r.system.RequireMetres(); err != nil {
			return plan.Site{}, err
		}
	}
	if err := r.read(ctx); err != nil {
		return plan.Site{}, err
	}
	o := groundwork.Options{Bound: n.Bounds.Bound, Tension: -1}
	if n.Cell != nil {
		o.Cell = *n.Cell
	}
	if n.Tension != nil {
		o.Tension = *n.Tension
	}
	if n.LeaveOut {
		o.Leave = groundwork.Proposed
	}
	made, err := groundwork.Make(ctx, r.all, o)
	if err != nil {
		return plan.Site{}, err
	}
	n.tellMade(s, made)
	return plan.Site{
		CRS: r.system, Ground: made.Ground, Survey: made.Survey, Setting: site.SettingFor(plan.UsualSetting(), made.Survey),
	}, nil
}
