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
var figuresTo = destination{"Export the figures and cautions", "figures.txt", ".txt", ".json"}

// exports are what the last step gives out.
func (w *Window) exports() []action {
	return []action{
		{"Figures and cautions…", func() {
			w.export(figuresTo, w.writeFigures)
		}},
		{"Map, PNG…", func() {
			w.export(destination{"Export the map", w.schemeFile("map.png"), ".png", ""}, w.pictureWriter())
		}},
		{"Drawing, GeoJSON…", func() {
			w.export(destination{"Export the drawing", "drawing.geojson", ".geojson", ""}, w.writeGeoJSON)
		}},
		{"Site, GeoPackage…", func() {
			w.export(destination{"Export a copy of the site", "site-copy.gpkg", ".gpkg", ""}, w.writeSite)
		}},
		{"New ground, GeoTIFF…", func() {
			w.export(destination{"Export the proposed ground", w.schemeFile("proposed-ground.tif"), ".tif", ""}, w.writeGround)
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
			doing: "Writing " + filepath.Base(path),
			run:   func(ctx context.Context) error { return write(ctx, path, s, scheme) },
			done: func(err error) {
				if err != nil {
					w.report(trouble{tr("The file was not written"), err, tr("The site has not changed, and a file of that name that was there before is as it was.")})
					return
				}
				w.trace.say("exported", "path", path)
				also := ""
				if second := d.second(path); second != "" {
					also = " and " + filepath.Base(second)
				}
				w.tellBelow(fmt.Sprintf("%s%s written to %s", filepath.Base(path), also, filepath.Dir(path)))
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
	return replaceFile(figuresTo.second(path), f.WriteJSON)
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
		drawn, err := view.Picture(ctx, scene, pictureWidth, pictureHeight, view.Light(), s.Name)
		if err != nil {
			return err
		}
		return replaceFile(path, func(to io.Writer) error { return png.Encode(to, drawn) })
	}
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
