package ui

import (
	"context"
	"fmt"
	"math"
	"path/filepath"

	"runnel/app/groundwork"
	"runnel/app/site"
	"runnel/app/work"
	"runnel/geo/weather"
)

// recordEnds are how files of a daily record end.
var recordEnds = []string{".csv", ".txt", ".tsv", ".dat"}

// askRecord asks for a file of days.
func (w *Window) askRecord() { w.askFile(tr("Daily record of the weather"), recordEnds, w.bringRecord) }

// A lookedAt is what a file of days looks like, and a record of no days that has the
// place of the site.
type lookedAt struct {
	look   weather.Look
	placed weather.Record
}

// bringRecord looks at a file of days and asks how it is to be read.
func (w *Window) bringRecord(path string) {
	s := w.doc.Site()
	var got lookedAt
	w.start(job{
		doing: trf("Reading %s", filepath.Base(path)),
		run: func(context.Context) (err error) {
			if got.look, err = weather.LookAt(path); err != nil {
				return err
			}
			// A site whose place is not known asks for it.
			got.placed, _ = groundwork.Placed(s, weather.Record{Latitude: math.NaN(), Elevation: math.NaN()})
			return nil
		},
		done: func(err error) {
			switch {
			case w.doc == nil:
			case err != nil:
				w.report(trouble{tr("The record was not read"), err, tr("The site has not changed.")})
			default:
				w.askHowRecorded(path, got)
			}
		},
	})
}

// recordOrPoints goes on with a dropped file of rows: as a daily record where it is
// plainly one, else it asks what it is for.
func (w *Window) recordOrPoints(path string) {
	switch {
	case !endsIn(path, recordEnds):
		w.askWhatFor(path)
		return
	case !endsIn(path, measureEnds):
		w.bringRecord(path)
		return
	}
	var look weather.Look
	w.start(job{
		doing: trf("Reading %s", filepath.Base(path)),
		run: func(context.Context) (err error) {
			look, err = weather.LookAt(path)
			return err
		},
		done: func(err error) {
			switch {
			case w.doc == nil:
			case err == nil && plainlyRecord(look):
				w.bringRecord(path)
			default:
				w.askWhatFor(path)
			}
		},
	})
}

// plainlyRecord reports a file of days by its columns: points have no dates with rain
// and temperatures, nor hundreds of dates with rain.
func plainlyRecord(l weather.Look) bool {
	const many = 300
	c := l.Columns
	return c.Check() == nil && len(l.Header) > 0 && c.Rain >= 0 && (c.Low >= 0 && c.High >= 0 || l.Rows >= many)
}

// A readRecord is a record as it was read when it was asked for so many times.
type readRecord struct {
	asked  int
	record weather.Record
	report weather.Report
	fault  error
}

// A recording asks how a file of days is to be read, and shows what was found in it.
type recording struct {
	w    *Window
	path string
	lookedAt
	latest *work.Latest[readRecord]
	// got is what was read last, asked counts how often it was asked for.
	got   readRecord
	asked int
	form  *recordForm
}

func (w *Window) askHowRecorded(path string, found lookedAt) {
	r := &recording{w: w, path: path, lookedAt: found}
	r.latest = work.NewLatest(func(got readRecord, err error) { w.post(func() { r.take(got) }) })
	r.form = newRecordForm(r)
	r.form.ask()
	w.trace.say("record", "path", path, "rows", found.look.Rows)
	r.read()
}

// read reads the file by what is set now; the newest wins.
func (r *recording) read() {
	r.asked++
	path, look, asked := r.path, r.look, r.asked
	r.form.show()
	r.latest.Request(func(ctx context.Context) (readRecord, error) {
		record, report, err := weather.Read(ctx, path, look)
		return readRecord{asked, record, report, err}, ctx.Err()
	})
}

func (r *recording) take(got readRecord) {
	if got.asked != r.asked {
		return
	}
	r.got = got
	r.form.show()
	r.w.trace.say("recorded", "days", got.report.Days, "findings", len(got.report.Findings), "ok", got.fault == nil)
}

// over gives up what is being read.
func (r *recording) over() {
	r.asked++
	r.latest.Request(func(context.Context) (readRecord, error) { return readRecord{}, context.Canceled })
}

// known reports whether what was read is what is set now.
func (r *recording) known() bool { return r.got.asked == r.asked }

// bringIn puts the record into the site, in one step.
func (r *recording) bringIn(record weather.Record) error {
	switch {
	case !r.known():
		return fmt.Errorf("the file is still being read; wait a moment")
	case r.got.fault != nil:
		return r.got.fault
	}
	return r.w.doc.Do(&site.SetWeather{Record: record})
}
