package view

import (
	"encoding/binary"
	"image"
	"math"
	"runtime"
	"sync"
)

// A laying is a tile, or a part of one, and where it goes on a picture.
type laying struct {
	image *image.RGBA
	// key is what it shows, scale how many of its pixels go into one of the picture.
	key   tileKey
	scale float64
	to    image.Rectangle
}

// inBands calls draw for each of as many bands of a picture as there are processors,
// all at a time.
func inBands(dst *image.RGBA, draw func(band *image.RGBA)) {
	var wait sync.WaitGroup
	bands := runtime.GOMAXPROCS(0)
	for i := range bands {
		r := dst.Rect
		r.Min.Y, r.Max.Y = r.Dy()*i/bands, r.Dy()*(i+1)/bands
		wait.Go(func() { draw(dst.SubImage(r).(*image.RGBA)) })
	}
	wait.Wait()
}

// lay copies whole rows where the scales are the same, else the nearest pixels.
func (g laying) lay(dst *image.RGBA, corner image.Point) {
	from := g.key.bounds()
	g.to = g.to.Intersect(dst.Rect.Add(corner))
	if g.scale == 1 {
		part := g.to.Intersect(from)
		at, of := part.Sub(corner), part.Sub(from.Min)
		for y := range part.Dy() {
			copy(dst.Pix[dst.PixOffset(at.Min.X, at.Min.Y+y):][:4*part.Dx()], g.image.Pix[g.image.PixOffset(of.Min.X, of.Min.Y+y):])
		}
		return
	}
	to := image.Rectangle{firstPixels(from.Min, g.scale), firstPixels(from.Max, g.scale)}.Intersect(g.to)
	if to.Empty() {
		return
	}
	spans := sampled(to, g.scale, from.Min.X)
	last := -1
	var before []uint8
	for y := to.Min.Y; y < to.Max.Y; y++ {
		row := nearestPixel(y, g.scale, from.Min.Y)
		out := dst.Pix[dst.PixOffset(to.Min.X-corner.X, y-corner.Y):][:4*to.Dx()]
		if row == last {
			copy(out, before)
		} else {
			in := g.image.Pix[row*g.image.Stride:][:g.image.Stride]
			for _, s := range spans {
				copy(out[s.to:s.to+s.size], in[s.from:s.from+s.size])
			}
		}
		last, before = row, out
	}
}

// A sample is bytes of a row that are copied to another.
type sample struct{ to, from, size int32 }

// sampled returns what is copied of a tile that starts at a column: pixels that are
// neighbours in both rows go together, which is much faster than one by one.
func sampled(to image.Rectangle, scale float64, start int) []sample {
	var all []sample
	for x := range to.Dx() {
		from := 4 * int32(nearestPixel(to.Min.X+x, scale, start))
		if n := len(all); n > 0 && all[n-1].from+all[n-1].size == from {
			all[n-1].size += 4
		} else {
			all = append(all, sample{int32(4 * x), from, 4})
		}
	}
	return all
}

// firstPixels returns the first pixel whose middle lies at or after one of another
// scale.
func firstPixels(p image.Point, scale float64) image.Point {
	at := func(v int) int { return int(math.Ceil(float64(v)/scale - 0.5)) }
	return image.Pt(at(p.X), at(p.Y))
}

// nearestPixel returns the place in a tile of the pixel under the middle of another.
func nearestPixel(v int, scale float64, start int) int {
	return max(0, min(tileSide-1, int(math.Floor((float64(v)+0.5)*scale))-start))
}

// fill paints a rectangle in one opaque colour.
func fill(dst *image.RGBA, r image.Rectangle, c Colour) {
	if r = r.Intersect(dst.Rect); r.Empty() {
		return
	}
	first := dst.Pix[dst.PixOffset(r.Min.X, r.Min.Y):][:4*r.Dx()]
	for x := range r.Dx() {
		binary.LittleEndian.PutUint32(first[4*x:], pixel(c))
	}
	for y := r.Min.Y + 1; y < r.Max.Y; y++ {
		copy(dst.Pix[dst.PixOffset(r.Min.X, y):][:4*r.Dx()], first)
	}
}
