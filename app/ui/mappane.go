package ui

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/app/tool"
	"runnel/app/view"
	"runnel/geo/plan"
)

// A mapPane shows the map and hands the pointer to the tool in use.
//
// It is one raster. The map is drawn in tiles on other goroutines; each frame lays
// those that there are, and draws what follows the pointer over them.
type mapPane struct {
	widget.BaseWidget
	raster *canvas.Raster
	// width and height of the pane, in pixels of the device; scale is how many
	// of them go into one of the toolkit's units.
	width, height int
	scale         float64
	camera        view.Camera
	// fitted is set once the camera has a place; moved once a person has moved
	// it, from when on another size of the window leaves it where it is.
	fitted, moved bool
	// bare is set where no scale and no north arrow stand on it: it shows an image.
	bare bool

	scene     *view.Scene
	palette   view.Palette
	furniture view.FurnitureOptions
	overlay   view.Overlay
	tiles     *view.Tiles
	// turned is when the camera last moved.
	turned time.Time
	// stale is since when the pane has not shown sharply all that it should; the zero
	// time where it does.
	stale  time.Time
	frames [2]*image.RGBA
	frame  int

	tool tool.Tool
	hand hand
	// cross stands for the pointer while the keyboard draws.
	cross cross
	// draws is set while a press draws.
	draws bool
	// site returns the site as it is now, which may be ahead of the scene's.
	site func() *plan.Site
	// at is where the pointer is; inside is clear while it is off the map.
	at     orb.Point
	inside bool
	on     mapEvents
}

// mapEvents is what the pane tells the window.
type mapEvents struct {
	// hovered is called when the pointer has come to another place or left.
	hovered func()
	// used is called after the tool has answered to the pointer or a key.
	used func()
	// keyed hands a key to the tool and reports whether it had a use for it.
	keyed func(tool.Key) bool
	// letter is called for a letter that the map itself has no use for.
	letter func(rune)
	// plot takes a digit that begins a figure; it reports whether there is any use
	// for one.
	plot func(rune) bool
	// escaped is called when the tool had no use for Escape.
	escaped func()
	// seen is called when another part of the ground, or more of it, is in the pane.
	seen func()
	// common takes a key that is the window's wherever the keyboard is, and reports
	// whether it was one.
	common func(*fyne.KeyEvent) bool
	// menu is called for a press of the second button.
	menu func(at fyne.Position)
}

func newMapPane(post func(func()), on mapEvents) *mapPane {
	m := &mapPane{on: on, scale: 1}
	m.raster = canvas.NewRaster(m.compose)
	m.tiles = view.NewTiles(func() { post(m.raster.Refresh) })
	m.ExtendBaseWidget(m)
	return m
}

// CreateRenderer shows the raster alone.
func (m *mapPane) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(m.raster) }

// MinSize lets the map be as small as the window makes it.
func (m *mapPane) MinSize() fyne.Size { return fyne.NewSize(200, 160) }

// show puts another scene or palette on the map.
func (m *mapPane) show(s *view.Scene, p view.Palette) {
	m.scene, m.palette = s, p
	m.tiles.Show(s, m.dense())
	if !m.fitted && m.width > 0 {
		m.fit()
		return
	}
	m.redraw()
}

// forget takes the map off the pane, for another site.
func (m *mapPane) forget() {
	m.fitted, m.scene = false, nil
	m.tiles.Clear()
}

// fit brings the whole ground into the pane.
func (m *mapPane) fit() {
	if m.scene == nil || m.width == 0 {
		return
	}
	m.fitted, m.moved = true, false
	m.camera = m.clear()
	m.redraw()
}

// barStrip is the height of the strip that the slip over the map takes [dp].
const barStrip = 40

// leastClear is how large the ground is at least when it is shown clear, of what it is
// over the whole pane; in less, as in a small window with large text, more is lost than
// what lies over the map hides.
const leastClear = 0.7

// clear is the camera that shows the whole ground clear of what lies over the map: the
// slip along the upper edge, and the scale in the lower left corner, above or beside it.
func (m *mapPane) clear() view.Camera {
	if m.bare {
		return view.Fit(m.scene.Ground.Bound(), m.width, m.height)
	}
	wide, high := view.FurnitureSize(m.dense())
	top := m.scale * float64(scaled(barStrip))
	above := view.FitBeside(m.scene.Ground.Bound(), m.width, m.height, view.Margins{Top: top, Bottom: high})
	beside := view.FitBeside(m.scene.Ground.Bound(), m.width, m.height, view.Margins{Top: top, Left: wide})
	if beside.Scale > above.Scale {
		above = beside
	}
	if whole := view.Fit(m.scene.Ground.Bound(), m.width, m.height); above.Scale < leastClear*whole.Scale {
		return whole
	}
	return above
}

// redraw shows the map from where the camera is now.
func (m *mapPane) redraw() {
	m.raster.Refresh()
	if m.scene == nil || m.width == 0 {
		return
	}
	if m.on.seen != nil {
		m.on.seen()
	}
	m.turned = time.Now()
}

// dense is the palette for the pixels of this display.
func (m *mapPane) dense() view.Palette {
	if m.scale == 1 {
		return m.palette
	}
	return m.palette.Scaled(m.scale)
}

// smallest is how small the whole ground gets as the map is zoomed out, of what it
// is when it fits.
const smallest = 0.25

// zoom scales the map about a place in the pane [dp].
func (m *mapPane) zoom(at fyne.Position, factor float64) {
	m.moved = true
	if m.scene != nil && factor < 1 {
		least := smallest * m.clear().Scale
		factor = max(factor, min(1, least/m.camera.Scale))
	}
	m.camera = m.camera.ZoomAbout(float64(at.X)*m.scale, float64(at.Y)*m.scale, factor)
	m.redraw()
}

// pan moves the map with the pointer [dp].
func (m *mapPane) pan(dx, dy float32) {
	m.moved = true
	m.camera = m.camera.Pan(float64(dx)*m.scale, float64(dy)*m.scale)
	m.redraw()
}

// centre brings a place into the middle of the pane.
func (m *mapPane) centre(at orb.Point) {
	x, y := m.camera.ToScreen(at)
	m.pan(float32((float64(m.width)/2-x)/m.scale), float32((float64(m.height)/2-y)/m.scale))
}

// approach brings a part of the ground into the pane, near enough to tell its
// shape; a map that shows it so already stays.
func (m *mapPane) approach(b orb.Bound) {
	if m.width == 0 {
		return
	}
	const share = 0.12 // of the pane's smaller side
	size := max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) * m.camera.Scale
	seen := m.camera.Bound(m.width, m.height)
	if size < share*float64(min(m.width, m.height)) {
		factor := 2 * share * float64(min(m.width, m.height)) / max(size, 1)
		x, y := m.camera.ToScreen(b.Center())
		m.camera = m.camera.ZoomAbout(x, y, factor)
	} else if seen.Contains(b.Min) && seen.Contains(b.Max) {
		return
	}
	m.centre(b.Center())
}

func (m *mapPane) ground(at fyne.Position) orb.Point {
	return m.camera.ToGround(float64(at.X)*m.scale, float64(at.Y)*m.scale)
}

// Cursor is a cross where a press draws.
func (m *mapPane) Cursor() desktop.Cursor {
	if m.draws {
		return desktop.CrosshairCursor
	}
	return desktop.DefaultCursor
}
