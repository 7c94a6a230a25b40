package ui

import (
	"context"
	"errors"
	"fmt"
	"image/png"
	"io"
	"os"
	"path/filepath"

	"runnel/analysis/compare"
	"runnel/analysis/earthwork"
	"runnel/app/report"
	"runnel/app/view"
	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/geojson"
	"runnel/geo/plan"
)

// The picture of the map is a landscape A3 sheet at 150 dots to the inch.
const (
	pictureWidth  = 2480
	pictureHeight = 1754
)

// figuresTo is a table for a person, with the same as JSON beside it.
func figuresTo() destination {
	return destination{title: tr("Export the figures and cautions"), name: "figures.txt", end: ".txt", beside: ".json",
		says: tr("The figures of the site as it is and of every scheme, and the cautions: a table as text, and beside it the same as JSON.")}
}

// exports are what the last step gives out.
func (w *Window) exports() []action {
	return []action{
		{tr("Figures and cautions…"), func() {
			w.export(figuresTo(), w.writeFigures)
		}},
		{tr("Map, PNG…"), func() {
			w.export(destination{title: tr("Export the map"), name: w.schemeFile("map.png"), end: ".png",
				says: trf("The map of %s with the layers that are shown now.", w.schemeName())}, w.pictureWriter())
		}},
		{tr("Drawing, GeoJSON…"), func() {
			w.export(destination{title: tr("Export the drawing"), name: "drawing.geojson", end: ".geojson",
				says: tr("Everything that is drawn: of the site as it is and of every scheme. Each thing says which scheme is its own.")}, w.writeGeoJSON)
		}},
		{tr("Site, GeoPackage…"), func() {
			w.export(destination{title: tr("Export a copy of the site"), name: "site-copy.gpkg", end: ".gpkg",
				says: tr("The whole site with its ground and every scheme. The file that is open stays the one that is saved.")}, w.writeSite)
		}},
		{tr("New ground, GeoTIFF…"), func() {
			w.export(destination{title: tr("Export the proposed ground"), name: w.schemeFile("proposed-ground.tif"), end: ".tif",
				says: trf("The ground with what %s digs and fills.", w.schemeName())}, w.writeGround)
		}},
	}
}

// schemeFile names a file of the scheme that is shown.
func (w *Window) schemeFile(name string) string { return fileName(w.schemeName()) + "-" + name }

// A writer writes one product of a scheme of a site.
type writer func(ctx context.Context, path string, s *plan.Site, scheme plan.SchemeID) error

func (w *Window) export(d destination, write writer) {
	s, scheme := w.doc.Site(), w.board.Scheme
	d.name = fileName(s.Name) + "-" + d.name
	w.askWhere(d, func(path string) {
		w.start(job{
			doing: trf("Writing %s", filepath.Base(path)),
			run:   func(ctx context.Context) error { return write(ctx, path, s, scheme) },
			done: func(err error) {
				if err != nil {
					w.report(trouble{tr("The file was not written"), err, tr("The site has not changed, and a file of that name that was there before is as it was.")})
					return
				}
				w.trace.say("exported", "path", path)
				if second := d.second(path); second != "" {
					w.tellBelow(trf("%[1]s written; with it goes %[2]s; both are in %[3]s", filepath.Base(path), filepath.Base(second), filepath.Dir(path)))
					return
				}
				w.tellBelow(trf("%[1]s written; it is in %[2]s", filepath.Base(path), filepath.Dir(path)))
			},
		})
	})
}

// writeFigures writes what every scheme measures, and its cautions: a table for
// a person, and the same as JSON beside it.
func (w *Window) writeFigures(ctx context.Context, path string, s *plan.Site, _ plan.SchemeID) error {
	accounts, err := compare.Schemes(ctx, s, compare.Options{})
	if err != nil {
		return err
	}
	f := report.Of(s, accounts)
	if err := replaceFile(path, f.WriteTable); err != nil {
		return err
	}
	return replaceFile(figuresTo().second(path), f.WriteJSON)
}

// pictureWriter writes the map with what is shown on it now.
func (w *Window) pictureWriter() writer {
	var seen view.Scene
	if w.pane.scene != nil {
		seen = *w.pane.scene
	}
	return func(ctx context.Context, path string, s *plan.Site, scheme plan.SchemeID) error {
		scene := &seen
		if seen.Site != s || seen.Scheme != scheme || seen.Drainage == nil || seen.Stale || seen.Lacks(seen.Show) {
			account, err := compare.Measure(ctx, s, scheme, compare.Options{})
			if err != nil {
				return err
			}
			if scene, err = (view.Maker{Show: seen.Show, Units: seen.Units}).Scene(ctx, s, &account); err != nil {
				return err
			}
			if seen.Show != 0 {
				scene.Show = seen.Show
			}
		}
		drawn, err := view.Picture(ctx, scene, pictureWidth, pictureHeight, printed(), s.Name)
		if err != nil {
			return err
		}
		return replaceFile(path, func(to io.Writer) error { return png.Encode(to, drawn) })
	}
}

// printed is the look of pictures that are given out.
func printed() view.Palette {
	p := view.Light()
	p.Tongue = spoken().drawn
	return p
}

func (w *Window) writeGeoJSON(_ context.Context, path string, s *plan.Site, _ plan.SchemeID) error {
	lonlat, release, err := gdal.NewTransform(s.CRS, crs.LonLat())
	if err != nil {
		return err
	}
	defer release()
	return replaceFile(path, func(to io.Writer) error { return geojson.Write(to, s, lonlat) })
}

func (w *Window) writeSite(_ context.Context, path string, s *plan.Site, _ plan.SchemeID) error {
	return gdal.SaveSite(path, s)
}

func (w *Window) writeGround(ctx context.Context, path string, s *plan.Site, scheme plan.SchemeID) error {
	proposed, _, err := earthwork.Proposed(ctx, s, scheme)
	if err != nil {
		return err
	}
	return gdal.WriteRaster(ctx, path, proposed, gdal.Place(proposed.Frame, s.CRS))
}

// replaceFile writes a file beside the one of that name and then puts it in its
// place, so that a failure leaves what was there.
func replaceFile(path string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*")
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	// A temporary file is its writer's alone; what is handed over is not.
	err = errors.Join(write(f), f.Chmod(0o644), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}
