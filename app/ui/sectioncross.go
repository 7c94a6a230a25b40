package ui

import (
	"image"
	"image/draw"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// A crossPane shows the cross-section; nothing is done in it.
type crossPane struct {
	widget.BaseWidget
	p      *sectionPanel
	raster *canvas.Raster
	pixels pixels
}

func newCrossPane(p *sectionPanel) *crossPane {
	c := &crossPane{p: p}
	c.raster = canvas.NewRaster(c.compose)
	c.ExtendBaseWidget(c)
	return c
}

// CreateRenderer shows the raster alone.
func (c *crossPane) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(c.raster) }

// MinSize lets the pane be small.
func (c *crossPane) MinSize() fyne.Size { return fyne.NewSize(100, 80) }

func (c *crossPane) compose(w, h int) image.Image {
	if now := pixelsOf(c, w, h); now != c.pixels {
		c.pixels = now
		c.p.w.post(c.p.refresh)
	}
	return c.p.paper(c.p.drawn.crossPicture, w, h)
}

// paper returns a picture if it is of a size, else as much of it as a sheet of that
// size holds, until it is drawn anew.
func (p *sectionPanel) paper(drawn *image.RGBA, w, h int) *image.RGBA {
	if drawn != nil && drawn.Rect.Dx() == w && drawn.Rect.Dy() == h {
		return drawn
	}
	sheet := blankSheet(w, h, p.w.look.palette.Paper)
	if drawn != nil {
		draw.Draw(sheet, drawn.Rect, drawn, image.Point{}, draw.Src)
	}
	return sheet
}
