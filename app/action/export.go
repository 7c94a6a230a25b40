package action

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"runnel/analysis/earthwork"
	"runnel/geo/gdal"
	"runnel/geo/geojson"
	"runnel/geo/plan"
)

// Export writes a site in another form, which the file's extension names.
type Export struct {
	Site   string  `arg:"" help:"The site (.gpkg)."`
	File   string  `arg:"" help:"The file to write: .geojson the drawing, .gpkg a copy, .tif the proposed ground, .png a map."`
	Scheme string  `placeholder:"NAME" help:"For .tif and .png: the scheme; left out, the site as it is."`
	Size   *Pixels `placeholder:"WIDTHxHEIGHT" help:"For .png: its size in pixels; 1600x1200 where it is left out."`
}

// Pixels is the size of a picture, typed as in 1600x1200.
type Pixels struct{ size }

// UnmarshalText reads a width and a height.
func (p *Pixels) UnmarshalText(text []byte) error {
	var rest string
	n, _ := fmt.Sscanf(strings.ToLower(string(text))+" .", "%dx%d %s", &p.w, &p.h, &rest)
	if n != 3 || rest != "." || min(p.w, p.h) < 1 {
		return sentence("the size is %q; give width x height in pixels, such as 1600x1200", text)
	}
	return nil
}

// Run writes the file.
func (e *Export) Run(ctx context.Context, s Streams) error {
	extension := strings.ToLower(filepath.Ext(e.File))
	if err := e.check(extension); err != nil {
		return err
	}
	site, err := s.In.Site(ctx, e.Site)
	if err != nil {
		return err
	}
	scheme, err := schemeNamed(site, e.Scheme)
	if err != nil {
		return err
	}
	switch extension {
	case ".gpkg":
		return gdal.SaveSite(e.File, site)
	case ".tif":
		return writeProposed(ctx, e.File, site, scheme)
	case ".png":
		of := size{1600, 1200}
		if e.Size != nil {
			of = e.Size.size
		}
		return writePicture(ctx, e.File, site, scheme, of)
	}
	return writeDrawing(e.File, site)
}

func (e *Export) check(extension string) error {
	if e.File == "" {
		return mistyped("the name of the file to write is empty; give one that ends in .geojson, .gpkg, .tif or .png")
	}
	switch extension {
	case ".geojson", ".gpkg":
		if e.Scheme != "" {
			return mistyped("a %s file holds every scheme; leave out --scheme", extension)
		}
	case ".tif", ".png":
	default:
		return mistyped("%s cannot be written; give a name that ends in .geojson, .gpkg, .tif or .png", filepath.Base(e.File))
	}
	if e.Size != nil && extension != ".png" {
		return mistyped("--size is for a .png; leave it out")
	}
	if filepath.Clean(e.Site) == filepath.Clean(e.File) {
		return mistyped("%s is the site itself; give another name to write", e.File)
	}
	return nil
}

// writeDrawing writes what is drawn on a site as GeoJSON.
func writeDrawing(path string, site *plan.Site) error {
	place, release, err := lonLat(site.CRS)
	if err != nil {
		return err
	}
	defer release()
	return writeFile(path, func(w io.Writer) error { return geojson.Write(w, site, place) })
}

// writeProposed writes the ground with a scheme cut into it.
func writeProposed(ctx context.Context, path string, site *plan.Site, scheme plan.SchemeID) error {
	ground, _, err := earthwork.Proposed(ctx, site, scheme)
	if err != nil {
		return err
	}
	return gdal.WriteRaster(ctx, path, ground, gdal.Place(ground.Frame, site.CRS))
}
