package ui

import (
	"image"
	"image/draw"

	"runnel/app/view"
)

// compose makes one frame of the map. The toolkit calls it with the size in
// pixels, on the interface's goroutine, and takes the picture over at once; so
// two of them in turn are enough.
func (m *mapPane) compose(w, h int) image.Image {
	resized := w != m.width || h != m.height
	m.width, m.height = w, h
	m.tiles.Pause()
	defer m.tiles.Resume()
	dense := m.scale
	if width := m.Size().Width; width > 0 {
		m.scale = float64(w) / float64(width)
	}
	frame := m.nextFrame(w, h)
	if m.scene == nil {
		draw.Draw(frame, frame.Rect, image.NewUniform(m.palette.Desk), image.Point{}, draw.Src)
		return frame
	}
	if m.scale != dense {
		m.tiles.Show(m.scene, m.dense())
	}
	switch {
	case !m.fitted, resized && !m.moved:
		m.fit()
	case resized:
		m.redraw()
	}
	camera := m.camera.Settled()
	m.stale = m.tiles.Lay(frame, camera, m.turned)
	live := *m.scene
	live.Site = m.site()
	view.DrawOverlay(frame, &live, m.overlay, camera, m.dense())
	if !m.bare {
		view.Furniture(frame, camera, m.dense(), m.furniture)
	}
	m.drawCross(frame)
	return frame
}

// nextFrame returns the frame that is not on the screen.
func (m *mapPane) nextFrame(w, h int) *image.RGBA {
	m.frame = 1 - m.frame
	frame := m.frames[m.frame]
	if frame == nil || frame.Rect.Dx() != w || frame.Rect.Dy() != h {
		frame = image.NewRGBA(image.Rect(0, 0, w, h))
		m.frames[m.frame] = frame
	}
	return frame
}
