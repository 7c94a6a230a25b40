package ui

import (
	"image"
	"image/draw"
	"math"

	"runnel/app/view"
)

// compose makes one frame of the map. The toolkit calls it with the size in
// pixels, on the interface's goroutine, and takes the picture over at once; so
// two of them in turn are enough.
func (m *mapPane) compose(w, h int) image.Image {
	resized := w != m.width || h != m.height
	m.width, m.height = w, h
	if width := m.Size().Width; width > 0 {
		m.scale = float64(w) / float64(width)
	}
	frame := m.blank(w, h)
	if m.scene == nil {
		return frame
	}
	switch {
	case !m.fitted, resized && !m.moved:
		m.fit()
	case resized:
		m.redraw()
	}
	if m.settled.image != nil {
		stretch(frame, m.settled, m.camera)
	}
	live := *m.scene
	live.Site = m.site()
	view.DrawOverlay(frame, &live, m.overlay, m.camera, m.dense())
	view.Furniture(frame, m.camera, m.dense(), m.furniture)
	return frame
}

func (m *mapPane) blank(w, h int) *image.RGBA {
	m.frame = 1 - m.frame
	frame := m.frames[m.frame]
	if frame == nil || frame.Rect.Dx() != w || frame.Rect.Dy() != h {
		frame = image.NewRGBA(image.Rect(0, 0, w, h))
		m.frames[m.frame] = frame
	}
	draw.Draw(frame, frame.Rect, image.NewUniform(m.palette.Desk), image.Point{}, draw.Src)
	return frame
}

// stretch lays a settled picture where it belongs under another camera: whole
// rows where the scales are the same, else the nearest pixel of each.
func stretch(dst *image.RGBA, p picture, c view.Camera) {
	left, top := c.ToScreen(p.camera.ToGround(0, 0))
	if p.camera.Scale == c.Scale {
		at := image.Pt(int(math.Round(left)), int(math.Round(top)))
		draw.Draw(dst, p.image.Rect.Add(at), p.image, image.Point{}, draw.Src)
		return
	}
	ratio := p.camera.Scale / c.Scale
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	columns := make([]int, w)
	for x := range columns {
		columns[x] = pixel((float64(x)+0.5-left)*ratio, p.image.Rect.Dx())
	}
	for y := range h {
		row := pixel((float64(y)+0.5-top)*ratio, p.image.Rect.Dy())
		if row < 0 {
			continue
		}
		from, to := p.image.Pix[row*p.image.Stride:], dst.Pix[y*dst.Stride:]
		for x, column := range columns {
			if column >= 0 {
				copy(to[4*x:4*x+4], from[4*column:4*column+4])
			}
		}
	}
}

// pixel returns the pixel that holds v, or -1 where the picture has none.
func pixel(v float64, size int) int {
	if !(v >= 0 && v < float64(size)) {
		return -1
	}
	return int(v)
}
