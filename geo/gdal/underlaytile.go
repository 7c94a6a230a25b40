package gdal

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"

	"runnel/geo/plan"
)

// jpegQuality keeps what an aerial picture shows at a tenth of its size.
const jpegQuality = 88

// fewColours is up to how many colours a tile is kept exactly, as a drawing is.
const fewColours = 256

// encodeTiles cuts an image into tiles: a PNG where a tile has few colours or is
// clear in parts, a JPEG where it is a photograph, nothing where all is clear.
func encodeTiles(ctx context.Context, img *image.RGBA) (*plan.Picture, error) {
	across, down := tilesIn(img.Rect.Dx()), tilesIn(img.Rect.Dy())
	p := &plan.Picture{TileW: img.Rect.Dx() / across, TileH: img.Rect.Dy() / down}
	for y := range down {
		for x := range across {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			corner := image.Pt(x*p.TileW, y*p.TileH)
			part := img.SubImage(image.Rectangle{corner, corner.Add(image.Pt(p.TileW, p.TileH))}).(*image.RGBA)
			tile, err := encodeTile(part)
			if err != nil {
				return nil, fmt.Errorf("its pixels cannot be kept: %w", err)
			}
			p.Tiles = append(p.Tiles, tile)
		}
	}
	return p, nil
}

func encodeTile(img *image.RGBA) ([]byte, error) {
	colours, opaque := coloursOf(img)
	var b bytes.Buffer
	var err error
	switch {
	case len(colours) == 1 && colours[color.RGBA{}]:
		return nil, nil
	case opaque && len(colours) > fewColours:
		err = jpeg.Encode(&b, img, &jpeg.Options{Quality: jpegQuality})
	default:
		err = png.Encode(&b, straight(img))
	}
	return b.Bytes(), err
}

// coloursOf lists the colours of an image, up to one more than few, and reports
// whether it is opaque.
func coloursOf(img *image.RGBA) (colours map[color.RGBA]bool, opaque bool) {
	colours, opaque = make(map[color.RGBA]bool), true
	for y := img.Rect.Min.Y; y < img.Rect.Max.Y; y++ {
		for x := img.Rect.Min.X; x < img.Rect.Max.X; x++ {
			c := img.RGBAAt(x, y)
			opaque = opaque && c.A == 255
			if len(colours) <= fewColours {
				colours[c] = true
			} else if !opaque {
				return colours, false
			}
		}
	}
	return colours, opaque
}

// straight returns an image whose colours are not multiplied by their opacity, as
// a PNG has them.
func straight(img *image.RGBA) *image.NRGBA {
	out := image.NewNRGBA(image.Rect(0, 0, img.Rect.Dx(), img.Rect.Dy()))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			out.Set(x, y, img.RGBAAt(img.Rect.Min.X+x, img.Rect.Min.Y+y))
		}
	}
	return out
}
