package ui

import (
	"context"
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"
	"golang.org/x/image/draw"

	"runnel/app/view"
	"runnel/app/work"
)

// A surveyMap shows the measurements, and the ground once it is made. The picture is
// drawn off the interface's goroutine; while the map is moved the last one is moved and
// stretched with it.
type surveyMap struct {
	widget.BaseWidget
	c      *surveying
	raster *canvas.Raster
	ring   *canvas.Rectangle
	// width and height are in pixels of the device, of which scale make one dp.
	width, height int
	scale         float64
	camera        view.Camera
	fitted        bool
	shows         *view.Surveyed
	latest        *work.Latest[painted]
	done          painted
	// The press of a button, and whether it has become a drag.
	pressed  desktop.MouseButton
	from, at fyne.Position
	dragging bool
	stroke   orb.LineString
}

// painted is a picture with where it was seen from.
type painted struct {
	img    *image.RGBA
	camera view.Camera
}

func newSurveyMap(c *surveying) *surveyMap {
	m := &surveyMap{c: c, scale: 1, ring: canvas.NewRectangle(color.Transparent)}
	m.latest = work.NewLatest(func(p painted, err error) { c.w.post(func() { m.take(p, err) }) })
	m.latest.Patience = mapPatience
	m.raster = canvas.NewRaster(m.compose)
	m.ExtendBaseWidget(m)
	return m
}

// CreateRenderer shows the picture, and a ring round it while it has the keyboard.
func (m *surveyMap) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(&fyne.Container{Layout: full{}, Objects: []fyne.CanvasObject{m.raster, m.ring}})
}

// full gives each object all there is.
type full struct{}

// Layout implements fyne.Layout.
func (full) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(size)
	}
}

// MinSize implements fyne.Layout.
func (full) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, 160) }

// compose gives the picture as far as it is drawn.
func (m *surveyMap) compose(w, h int) image.Image {
	if w != m.width || h != m.height {
		m.width, m.height = w, h
		if size := m.Size().Width; size > 0 {
			m.scale = float64(w) / float64(size)
		}
		if !m.fitted {
			m.place()
		}
		m.ask()
	}
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	look := m.c.w.look.palette
	draw.Draw(dst, dst.Rect, image.NewUniform(look.Paper), image.Point{}, draw.Src)
	if m.done.img != nil {
		m.lay(dst)
	}
	if len(m.stroke) > 1 {
		view.DrawStroke(dst, m.camera, m.stroke, m.dense())
	}
	if m.fitted {
		view.Furniture(dst, m.camera, m.dense(), view.FurnitureOptions{Units: view.Units(m.c.w.units)})
	}
	return dst
}

// lay lays the last picture where the camera sees it now.
func (m *surveyMap) lay(dst *image.RGBA) {
	was, now := m.done.camera, m.camera
	if was == now && m.done.img.Rect == dst.Rect {
		copy(dst.Pix, m.done.img.Pix)
		return
	}
	x, y := now.ToScreen(was.ToGround(0, 0))
	times := now.Scale / was.Scale
	size := m.done.img.Rect.Size()
	to := image.Rect(int(math.Round(x)), int(math.Round(y)), int(math.Round(x+times*float64(size.X))), int(math.Round(y+times*float64(size.Y))))
	draw.ApproxBiLinear.Scale(dst, to, m.done.img, m.done.img.Rect, draw.Src, nil) // squares would look as if that were the picture
}

func (m *surveyMap) dense() view.Palette {
	if m.scale == 1 {
		return m.c.w.look.palette
	}
	return m.c.w.look.palette.Scaled(m.scale)
}

// show shows other measurements, or the same otherwise.
func (m *surveyMap) show(s *view.Surveyed) {
	m.shows = s
	if !m.fitted && m.width > 0 {
		m.place()
	}
	m.ask()
}

// ask has the picture drawn from where the camera is.
func (m *surveyMap) ask() {
	m.raster.Refresh()
	if m.shows == nil || m.width < 2 || m.height < 2 || !(m.camera.Scale > 0) {
		return
	}
	s, camera, size, look := m.shows, m.camera, image.Pt(m.width, m.height), m.dense()
	m.latest.Request(func(ctx context.Context) (painted, error) {
		img, err := view.DrawSurveyed(ctx, s, camera, size, look)
		return painted{img, camera}, err
	})
}

func (m *surveyMap) take(p painted, err error) {
	if err == nil && p.img != nil {
		m.done = p
		m.raster.Refresh()
	}
}

// place sets the camera so that all is seen.
func (m *surveyMap) place() {
	if m.shows == nil || m.width == 0 {
		return
	}
	b := m.shows.Survey.Bound()
	if m.shows.Ground != nil {
		b = m.shows.Ground.Ground.Bound()
	}
	if b.Max[0] < b.Min[0] {
		return
	}
	m.camera, m.fitted = view.Fit(b, m.width, m.height), true
}

// fit shows all there is.
func (m *surveyMap) fit() {
	m.place()
	m.ask()
}

func (m *surveyMap) ground(at fyne.Position) orb.Point {
	return m.camera.ToGround(float64(at.X)*m.scale, float64(at.Y)*m.scale)
}

// zoom scales the map about a place in it [dp].
func (m *surveyMap) zoom(at fyne.Position, factor float64) {
	m.camera = m.camera.ZoomAbout(float64(at.X)*m.scale, float64(at.Y)*m.scale, factor)
	m.ask()
}

func (m *surveyMap) pan(dx, dy float32) {
	m.camera = m.camera.Pan(float64(dx)*m.scale, float64(dy)*m.scale)
	m.ask()
}

// near returns the line under a place; -1 for none.
func (m *surveyMap) near(at fyne.Position) int {
	if m.shows == nil || !m.fitted {
		return -1
	}
	return m.shows.Near(m.ground(at), reach*m.scale/m.camera.Scale)
}
