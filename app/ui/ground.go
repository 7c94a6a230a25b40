package ui

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"runnel/analysis/surface"
	"runnel/app/groundwork"
	"runnel/app/site"
	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// A readGround is a ground as it was read from files that lie side by side.
type readGround struct {
	// from is the first of the files, more are the others.
	from   string
	more   []string
	how    gdal.GroundOptions
	ground grid.Ground
	system crs.CRS
	survey survey.Survey
	void   void
	notes  []string
	// taken is the unit that heights were taken for where a file does not say.
	taken string
}

func (w *Window) newFromRaster() {
	w.askFile(tr("New from an elevation raster"), rasterEnds, w.openAny)
}

func (w *Window) replaceGround() {
	w.askFile(tr("Replace the ground"), slices.Concat(rasterEnds, measureEnds), func(path string) {
		points := func() { w.surveyOn(replacing, path) }
		if !endsIn(path, rasterEnds) {
			points()
			return
		}
		w.gridOrPoints(path, func() { w.askReplacement(readGround{from: path}) }, points)
	})
}

// askNew begins a site from a file, in the file's own metric system or the local one.
func (w *Window) askNew(path string) { w.askGround(readGround{from: path}, w.beginSite) }

// askReplacement reads another ground for the open site, in the site's system
// where things are drawn in it.
func (w *Window) askReplacement(read readGround) {
	if s := w.doc.Site(); len(s.Plan.Features)+len(s.Underlays) > 0 && s.CRS.Code != 0 {
		read.how.CRS = fmt.Sprintf("EPSG:%d", s.CRS.Code)
	}
	w.askGround(read, w.takeGround)
}

// askGround reads a ground as it is asked for, shows what was found, and asks
// whether to bring that in or to read it another way.
func (w *Window) askGround(read readGround, take func(readGround)) {
	w.readAs(read, take, func(read readGround) { w.showGround(read, take) })
}

// readAs reads a ground as it is asked for and then does what comes next. Where
// it cannot be read so, it may be read another way: a part of it, larger cells.
func (w *Window) readAs(read readGround, take, next func(readGround)) {
	w.start(job{
		doing: trf("Reading %s", filepath.Base(read.from)),
		run: func(ctx context.Context) error {
			b, err := w.options.In.Ground(ctx, append([]string{read.from}, read.more...), read.how)
			read.ground, read.system, read.notes, read.taken = b.Ground, b.CRS, b.Notes, b.Taken
			read.survey, read.void = groundwork.OfRasters(b.Sources), voidOf(b.Ground)
			return err
		},
		done: func(err error) {
			if err != nil {
				w.refuseGround(read, err, take)
				return
			}
			next(read)
		},
	})
}

// refuseGround says why a ground cannot be read as it was asked for.
func (w *Window) refuseGround(read readGround, err error, take func(readGround)) {
	w.trace.say("error", "text", err.Error())
	said := sentence(w.units.told(err.Error()))
	choices := closing()
	if !errors.Is(err, gdal.ErrNoOtherWay) {
		choices = []choice{{word: tr("Close")}, {word: tr("Read it another way…"), do: func() {
			w.showGround(readGround{from: read.from, more: read.more, how: read.how}, take)
		}}}
	}
	w.ask(prompt{title: tr("The ground was not read"), content: container.NewVScroll(wrappedLabel(said)), size: w.sizeFor(said), choices: choices})
}

// showGround shows a ground that was read and takes it once it is agreed to.
// Asked for in another way it is read again first.
func (w *Window) showGround(read readGround, take func(readGround)) {
	f := w.newGroundForm(read)
	again := readGround{from: read.from, more: read.more}
	w.askForm(prompt{
		title: trf("Bring in %s", read.called()), size: fyne.NewSize(600, 420),
		choices: []choice{{word: tr("Cancel")}, {word: tr("Add a tile beside it…"), do: func() { w.addTile(read, take) }}, {word: tr("Bring it in"), do: func() {
			if f.how == read.how && len(read.ground.V) > 0 {
				w.filled(read, f.fills(), take)
				return
			}
			again.how = f.how
			w.readAs(again, take, func(read readGround) {
				w.filled(read, f.fills(), func(read readGround) {
					take(read)
					w.note(read)
				})
			})
		}}},
	}, f.items, f.take)
	w.win.Canvas().Focus(f.system)
}

// addTile reads another file with those of a ground, and shows what they make together.
func (w *Window) addTile(read readGround, take func(readGround)) {
	w.askFile(tr("Add a tile beside it"), rasterEnds, func(path string) {
		w.askGround(readGround{from: read.from, more: append(slices.Clip(read.more), path), how: read.how}, take)
	})
}

// tiles are the elevation rasters of files that were let fall, where all are such.
func tiles(files []fyne.URI) (paths []string) {
	for _, f := range files {
		if !endsIn(f.Path(), rasterEnds) {
			return nil
		}
		paths = append(paths, f.Path())
	}
	return paths
}

// called names the files.
func (r readGround) called() string {
	if len(r.more) == 0 {
		return filepath.Base(r.from)
	}
	return trf("%[1]s and %[2]d more", filepath.Base(r.from), len(r.more))
}

// filled works out the heights in the voids of a ground, where that is agreed to, before
// it is taken.
func (w *Window) filled(read readGround, fill bool, take func(readGround)) {
	if !fill || read.void.holes == 0 {
		take(read)
		return
	}
	w.start(job{
		doing: tr("Filling voids in the ground"),
		run: func(ctx context.Context) error {
			m, err := surface.FillHoles(ctx, read.ground)
			read.ground, read.survey.Patches = m.Ground, m.Patches
			return err
		},
		done: func(err error) {
			if err != nil {
				w.complain(err)
				return
			}
			take(read)
		},
	})
}

func sentences(u units, notes []string) []string {
	var lines []string
	for _, n := range notes {
		lines = append(lines, sentence(u.told(n)))
	}
	return lines
}

// note says what was found and assumed when a ground was read.
func (w *Window) note(read readGround) {
	if len(read.notes) > 0 {
		w.tell(tr("About this ground"), strings.Join(sentences(w.units, read.notes), "\n\n"))
	}
}

// beginSite opens a new site on a ground. It counts as not saved.
func (w *Window) beginSite(read readGround) {
	w.put(site.Recovered(plan.Site{
		Name: read.siteName(), CRS: read.system, Ground: read.ground, Survey: read.survey, Setting: site.SettingFor(plan.UsualSetting(), read.survey),
	}, ""))
}

// siteName is what a site is called after its ground: a file, or of several the folder
// that they lie in.
func (r readGround) siteName() string {
	if len(r.more) == 0 {
		return strings.TrimSuffix(filepath.Base(r.from), filepath.Ext(r.from))
	}
	folder := filepath.Dir(r.from)
	name := filepath.Base(folder)
	if strings.ContainsAny(name, `./\`) || slices.ContainsFunc(r.more, func(path string) bool { return filepath.Dir(path) != folder }) {
		return tr("New site")
	}
	return name
}

// takeGround puts a ground in the place of the open site's.
func (w *Window) takeGround(read readGround) {
	w.complain(w.doc.Do(&site.SetGround{Ground: read.ground, CRS: read.system, Survey: read.survey}))
	w.pane.fitted = false
}
