package view

import (
	"context"
	"image"
	"math"

	"github.com/paulmach/orb"
)

// tileSide is the side of a tile [px].
const tileSide = 256

// A level is a scale of the map, in steps so fine that a picture's far edge is less
// than a hundredth of a pixel off, so that coming back to a scale finds its tiles.
type level int32

// levelsPerDouble is how many levels the scale doubles in.
const levelsPerDouble = 1 << 20

func levelOf(scale float64) level { return level(math.Round(math.Log2(scale) * levelsPerDouble)) }

func (l level) scale() float64 { return math.Exp2(float64(l) / levelsPerDouble) }

// corner returns the pixel of a level at which a view begins. Pixels of a level are
// counted right and down from the ground's nought.
func (c Camera) corner(l level) image.Point {
	return image.Pt(int(math.Round(c.West*l.scale())), int(math.Round(-c.North*l.scale())))
}

func cameraAt(l level, corner image.Point) Camera {
	return Camera{West: float64(corner.X) / l.scale(), North: -float64(corner.Y) / l.scale(), Scale: l.scale()}
}

// Settled returns the camera that is seen through tiles: c moved by half a pixel at
// most, so that its pixels are those of the tiles. What is drawn over them is seen
// by it too.
func (c Camera) Settled() Camera {
	if c.check(1, 1) != nil {
		return c
	}
	l := levelOf(c.Scale)
	return cameraAt(l, c.corner(l))
}

// A sheetKey says of which edition of a map and at which level tiles are.
type sheetKey struct {
	edition uint64
	level   level
}

// A tileKey is a tile's place on its sheet.
type tileKey struct {
	sheetKey
	col, row int
}

func (k tileKey) bounds() image.Rectangle {
	return image.Rect(k.col*tileSide, k.row*tileSide, (k.col+1)*tileSide, (k.row+1)*tileSide)
}

// tilesOver returns the columns and rows of the tiles that pixels of a level touch.
func tilesOver(r image.Rectangle) image.Rectangle {
	down := func(v int) int { return int(math.Floor(float64(v) / tileSide)) }
	return image.Rect(down(r.Min.X), down(r.Min.Y), down(r.Max.X-1)+1, down(r.Max.Y-1)+1)
}

// An edition is one look of one scene. Editions with one number have the same
// tiles.
type edition struct {
	number uint64
	mark   imprint
	// words tells what is laid over the map.
	words uint64
	plate *plate
	look  Palette
	// bound is the ground that it covers.
	bound orb.Bound
}

// outline is an edition that can be told apart and no more be drawn: it does not keep
// the scene from being freed.
func (e *edition) outline() *edition {
	return &edition{number: e.number, mark: e.mark, words: e.words, bound: e.bound}
}

// drawTile draws one tile, or nothing once ctx has ended.
func (k *canvas) drawTile(ctx context.Context, e *edition, key tileKey) (*image.RGBA, error) {
	tile := image.NewRGBA(image.Rect(0, 0, tileSide, tileSide))
	k.clear()
	k.use(e, cameraAt(key.level, key.bounds().Min), tile)
	if err := steps(ctx, func(ctx context.Context) error { return k.drawMap(ctx, e.plate, nil) }); err != nil {
		return nil, err
	}
	return tile, nil
}

// use has a canvas draw an edition through a camera on a picture of the canvas's
// size.
func (k *canvas) use(e *edition, c Camera, dst *image.RGBA) {
	k.dst, k.camera, k.look, k.px = dst, c, e.look, e.look.unit()
	k.prepare(e.plate)
}

func newTileCanvas() *canvas {
	return newCanvas(image.NewRGBA(image.Rect(0, 0, tileSide, tileSide)), Camera{Scale: 1}, Palette{})
}
