// Package intake reads files from elsewhere in a child process: the same
// program, started again to read one file and end. A file that crashes a C
// library, or that takes all memory or time, ends the child; the person loses
// nothing and reads one sentence.
//
// The child bounds its own memory and processor time, on Linux; the parent bounds
// its time everywhere, and stops it when the context ends. What is wrong with a
// file is told in the same words whether a child reads it or not.
package intake

import (
	"context"
	"time"

	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// A Reader reads files from elsewhere. The zero Reader reads them in this process.
type Reader struct {
	// Child reads each file in a child process. The program must call Serve first
	// of all.
	Child bool
	Limits
}

// Limits bound a child. The zero Limits are the usual ones.
type Limits struct {
	// Memory is the address space it may take beyond what it starts with
	// [bytes]; 0 is 4 GiB. Bringing grid.MaxCells to as many cells of another
	// system took 2.7 GB.
	Memory int64
	// Processor is the time it may compute, in whole seconds; 0 is 5 minutes.
	// That same ground took 24 s, and a drawing of 20 million points 33 s.
	Processor time.Duration
	// Wait is how long its parent waits for the whole of its answer; 0 is 15
	// minutes.
	Wait time.Duration
}

// filled puts the usual limits where there are none.
func (l Limits) filled() Limits {
	if l.Memory == 0 {
		l.Memory = 4 << 30
	}
	if l.Processor == 0 {
		l.Processor = 5 * time.Minute
	}
	if l.Wait == 0 {
		l.Wait = 15 * time.Minute
	}
	return l
}

// Ground is gdal.ReadGrounds.
func (r Reader) Ground(ctx context.Context, paths []string, o gdal.GroundOptions) (gdal.Brought, error) {
	if len(paths) == 0 {
		return gdal.ReadGrounds(ctx, paths, o)
	}
	a, err := r.read(ctx, request{As: ground, Path: paths[0], More: paths[1:], Options: o})
	return gdal.Brought{Ground: a.ground, CRS: a.CRS, Sources: a.survey.Sources, Notes: a.Notes, Taken: a.Taken}, err
}

// Drawn is gdal.ReadDrawn.
func (r Reader) Drawn(ctx context.Context, path string, o gdal.DrawnOptions) ([]gdal.Drawn, []string, error) {
	a, err := r.read(ctx, request{As: drawn, Path: path, Drawn: o})
	return a.drawn, a.Notes, err
}

// Site is gdal.OpenSite.
func (r Reader) Site(ctx context.Context, path string) (*plan.Site, error) {
	a, err := r.read(ctx, request{As: site, Path: path})
	if err != nil {
		return nil, err
	}
	return &plan.Site{
		Name: a.Name, CRS: a.CRS, Ground: a.ground, Setting: a.Setting, Plan: a.Plan, Underlays: a.Underlays, Survey: a.survey, Weather: a.Weather,
	}, nil
}

// Underlay is gdal.ReadUnderlay.
func (r Reader) Underlay(ctx context.Context, path string, o gdal.UnderlayOptions) (plan.Underlay, []string, error) {
	a, err := r.read(ctx, request{As: underlay, Path: path, Under: o})
	if err != nil || len(a.Underlays) != 1 {
		return plan.Underlay{}, nil, err
	}
	return a.Underlays[0], a.Notes, nil
}

// Look is gdal.LookAt.
func (r Reader) Look(ctx context.Context, path string) (gdal.Look, error) {
	a, err := r.read(ctx, request{As: look, Path: path})
	return a.Look, err
}

// Survey is gdal.ReadSurvey.
func (r Reader) Survey(ctx context.Context, path string, o gdal.SurveyOptions) (survey.Survey, crs.CRS, []string, error) {
	a, err := r.read(ctx, request{As: measured, Path: path, Survey: o})
	return a.survey, a.CRS, a.Notes, err
}

// read returns the zero answer with an error.
func (r Reader) read(ctx context.Context, q request) (answer, error) {
	var a answer
	var err error
	if r.Child {
		q.Limits = r.Limits.filled()
		a, err = ask(ctx, q)
	} else {
		a, err = q.read(ctx)
	}
	if err != nil {
		return answer{}, err
	}
	return a, nil
}
