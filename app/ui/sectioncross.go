package ui

import (
	"image"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// A sheetPane is a part of the section panel: one raster, made anew for another size.
type sheetPane struct {
	widget.BaseWidget
	p      *sectionPanel
	raster *canvas.Raster
	pixels pixels
}

// CreateRenderer shows the raster alone.
func (s *sheetPane) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(s.raster) }

// MinSize lets the pane be small.
func (s *sheetPane) MinSize() fyne.Size { return fyne.NewSize(100, 80) }

// sized asks for sections of the size that the pane has now.
func (s *sheetPane) sized(w, h int) {
	if now := pixelsOf(s, w, h); now != s.pixels {
		s.pixels = now
		s.p.w.post(s.p.refresh)
	}
}

// A crossPane shows the cross-section; nothing is done in it.
type crossPane struct{ sheetPane }

func newCrossPane(p *sectionPanel) *crossPane {
	c := &crossPane{sheetPane{p: p}}
	c.raster = canvas.NewRaster(c.compose)
	c.ExtendBaseWidget(c)
	return c
}

func (c *crossPane) compose(w, h int) image.Image {
	c.sized(w, h)
	return c.p.paper(c.p.drawn.crossPicture, w, h)
}

// paper returns a picture if it is of a size, else as much of it as a sheet of that
// size holds, until it is drawn anew; nothing of one with text of another size.
func (p *sectionPanel) paper(drawn *image.RGBA, w, h int) *image.RGBA {
	if drawn != nil && drawn.Rect.Dx() == w && drawn.Rect.Dy() == h {
		return drawn
	}
	sheet := blankSheet(w, h, p.w.look.palette.Paper)
	if look := p.drawn.request.look; drawn != nil && look != nil && look.size == p.w.look.size {
		draw.Draw(sheet, drawn.Rect, drawn, image.Point{}, draw.Src)
	}
	return sheet
}

// longShare is the share of the panel's width that is the long section's, where that
// leaves the cross-section so much [dp].
const (
	longShare  = 0.66
	leastCross = 150
)

// sideBySide gives the first object longShare of the width and the second the rest.
type sideBySide struct{}

// Layout implements fyne.Layout.
func (sideBySide) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	left := float32(math.Round(float64(min(size.Width*longShare, max(size.Width/2, size.Width-scaled(leastCross))))))
	objects[0].Move(fyne.NewPos(0, 0))
	objects[0].Resize(fyne.NewSize(left, size.Height))
	objects[1].Move(fyne.NewPos(left, 0))
	objects[1].Resize(fyne.NewSize(size.Width-left, size.Height))
}

// MinSize implements fyne.Layout.
func (sideBySide) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, 80) }
