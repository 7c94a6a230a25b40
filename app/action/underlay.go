package action

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// Underlay lays an image under the map of a site.
type Underlay struct {
	Site    string   `arg:"" help:"The site (.gpkg)."`
	Image   string   `arg:"" help:"An aerial picture or another raster: a GeoTIFF, or a PNG or JPEG with its world file."`
	At      []string `sep:"none" placeholder:"PX,PY=E,N" help:"A place in the image, in pixels from its upper left corner, and where it is on the ground, east and north in the site's system; give at least 3."`
	Fit     string   `default:"affine" enum:"affine,similarity" help:"How points lay the image: affine, or similarity, which only turns and scales it and needs 2."`
	CRS     string   `name:"crs" placeholder:"EPSG:CODE" help:"The reference system of the image, where its file does not say or is wrong; site for the site's own."`
	Opacity float64  `default:"100" placeholder:"PERCENT" help:"How strongly it shows, 0 to 100."`
	Name    string   `help:"Its name; left out, that of its file."`
}

// Run lays the image.
func (a *Underlay) Run(ctx context.Context, s Streams) error {
	if !(a.Opacity >= 0 && a.Opacity <= 100) {
		return mistyped("the opacity is %g; give 0 to 100 percent", a.Opacity)
	}
	fit, err := a.fit()
	if err != nil {
		return err
	}
	site, err := s.In.Site(ctx, a.Site)
	if err != nil {
		return err
	}
	if len(site.Underlays) >= plan.MostUnderlays {
		return sentence("the site has %d images under the map already; remove one in the window first", len(site.Underlays))
	}
	o := gdal.UnderlayOptions{Site: site.CRS, System: a.CRS}
	if site.Ground.Len() > 0 {
		o.Ground = site.Ground.Bound()
	}
	if fit != nil {
		o.Place = &fit.Affine
	}
	image, err := a.read(ctx, s, o)
	if err != nil {
		return err
	}
	image.ID, image.Opacity = plan.UnderlayID(site.Plan.NextID()), a.Opacity/100
	if name := strings.TrimSpace(a.Name); name != "" {
		image.Name = name
	}
	site.Underlays = append(site.Underlays, image)
	if err := gdal.SaveSite(a.Site, site); err != nil {
		return err
	}
	s.say(fmt.Sprintf("laid %s under the map, %d by %d pixels", image.Name, image.Frame.W, image.Frame.H))
	if fit != nil {
		tellFit(s, *fit, a.At)
	}
	return nil
}

// read reads the image and tells what was found in it.
func (a *Underlay) read(ctx context.Context, s Streams, o gdal.UnderlayOptions) (plan.Underlay, error) {
	image, notes, err := s.In.Underlay(ctx, a.Image, o)
	switch {
	case errors.Is(err, gdal.ErrNoSystem):
		return image, sentence("%w; give it with --crs EPSG:CODE or --crs site", err)
	case errors.Is(err, gdal.ErrNoPlace):
		return image, sentence("%w, or place it by points with --at PX,PY=E,N", err)
	case err != nil:
		return image, err
	}
	s.tell(a.Image, notes)
	return image, nil
}
