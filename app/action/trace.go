package action

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/flow"
	"runnel/app/report"
	"runnel/geo/plan"
)

// Trace follows a drop of water.
type Trace struct {
	Site     string  `arg:"" help:"The site (.gpkg)."`
	Easting  float64 `arg:"" help:"Metres east, in the site's reference system."`
	Northing float64 `arg:"" help:"Metres north."`
}

// Run writes the path as a GeoJSON feature.
func (t *Trace) Run(ctx context.Context, s Streams) error {
	if math.IsNaN(t.Easting-t.Easting) || math.IsNaN(t.Northing-t.Northing) {
		return mistyped("the place is %g east, %g north; give metres", t.Easting, t.Northing)
	}
	site, err := s.In.Site(ctx, t.Site)
	if err != nil {
		return err
	}
	path, err := drop(ctx, site, orb.Point{t.Easting, t.Northing})
	if err != nil {
		return err
	}
	place, release, err := lonLat(site.CRS)
	if err != nil {
		return err
	}
	defer release()
	line, err := lineTo(path.Line, place)
	if err != nil {
		return err
	}
	end := "off the ground"
	if path.End == flow.NoDataEnd {
		end = "at ground whose height is not known"
	}
	return writeJSON(s.Out, feature{
		Type:     "Feature",
		Geometry: geometry{"LineString", line},
		Properties: map[string]any{
			"length_m": report.Figure(path.Length), "drop_m": report.Figure(path.Drop), "end": end,
		},
	})
}

// drop follows a drop over the ground of a site as it is.
func drop(ctx context.Context, site *plan.Site, at orb.Point) (flow.Path, error) {
	routed, err := flow.Route(ctx, site.Ground, flow.Options{})
	if err != nil {
		return flow.Path{}, err
	}
	return flow.Drop(site.Ground, routed.Dir, at)
}
