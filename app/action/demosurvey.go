package action

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"path/filepath"

	"github.com/paulmach/orb/simplify"

	"runnel/analysis/terrain"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

const (
	demoInterval = 0.25 // between the contours of the demo's survey [m]
	demoThinned  = 0.02 // how far a contour may be off for having fewer points [m]
)

// writeSurvey writes an invented small survey of the demo ground, for people to make
// a site of: its contours, and points as they would have been measured.
func writeSurvey(ctx context.Context, dir string, site *plan.Site) error {
	if err := folder(dir); err != nil {
		return err
	}
	contours, err := contourFeatures(ctx, site)
	if err != nil {
		return err
	}
	if err := writeFile(filepath.Join(dir, "contours.geojson"), func(w io.Writer) error { return writeLines(w, contours) }); err != nil {
		return err
	}
	return writeFile(filepath.Join(dir, "points.csv"), writeShots)
}

// writeLines writes features as a collection, one a line.
func writeLines(w io.Writer, all []feature) error {
	between := `{"type":"FeatureCollection","features":[`
	for _, f := range all {
		line, err := json.Marshal(f)
		if err != nil {
			return err
		}
		if _, err := fmt.Fprintf(w, "%s\n%s", between, line); err != nil {
			return err
		}
		between = ","
	}
	_, err := fmt.Fprintln(w, "\n]}")
	return err
}

// contourFeatures are the contours of a site's ground with their heights in the field
// elev, in longitude and latitude as GeoJSON has it.
func contourFeatures(ctx context.Context, site *plan.Site) ([]feature, error) {
	levels, err := terrain.Contours(ctx, site.Ground, demoInterval)
	if err != nil {
		return nil, err
	}
	move, release, err := lonLat(site.CRS)
	if err != nil {
		return nil, err
	}
	defer release()
	var all []feature
	for _, level := range levels {
		height := math.Round(level.Level*100) / 100
		for _, line := range level.Lines {
			places, err := lineTo(simplify.DouglasPeucker(demoThinned).LineString(line.Clone()), move)
			if err != nil {
				return nil, err
			}
			if len(places) > 1 {
				all = append(all, feature{"Feature", geometry{"LineString", places}, map[string]any{"elev": height}})
			}
		}
	}
	return all, nil
}

// writeShots writes the points in the order number, north, east, height and code.
func writeShots(w io.Writer) error {
	if _, err := fmt.Fprintln(w, "point,north,east,height,code"); err != nil {
		return err
	}
	for _, s := range demo.Shots() {
		if _, err := fmt.Fprintf(w, "%d,%.3f,%.3f,%.3f,%s\n", s.Number, s.At[1], s.At[0], s.Z, s.Code); err != nil {
			return err
		}
	}
	return nil
}
