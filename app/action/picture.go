package action

import (
	"context"
	"image/png"
	"io"

	"runnel/app/view"
	"runnel/geo/plan"
)

// A size is that of a picture in pixels.
type size struct{ w, h int }

// writePicture writes the finished map of a scheme as a PNG.
func writePicture(ctx context.Context, path string, site *plan.Site, scheme plan.SchemeID, of size) error {
	scene, err := view.NewScene(ctx, site, scheme)
	if err != nil {
		return err
	}
	picture, err := view.Picture(ctx, scene, of.w, of.h, view.Light(), site.Name)
	if err != nil {
		return err
	}
	return writeFile(path, func(w io.Writer) error { return png.Encode(w, picture) })
}
