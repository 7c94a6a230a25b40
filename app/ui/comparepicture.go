package ui

import (
	"context"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"runnel/app/work"
)

// A painter draws a picture of w by h pixels, of which density make a dp.
type painter func(ctx context.Context, w, h int, density float64) (*image.RGBA, error)

// An easel holds the pictures of a page. They are drawn off the interface's
// goroutine at the size in which they are shown, and again for another.
type easel struct {
	post     func(func())
	pictures []*picturePane
	// turns lets two pictures be drawn at a time.
	turns chan struct{}
}

func newEasel(post func(func())) *easel { return &easel{post: post, turns: make(chan struct{}, 2)} }

// picture puts up a picture.
func (e *easel) picture(paint painter) *picturePane {
	p := &picturePane{paint: paint, turns: e.turns}
	p.latest = work.NewLatest(func(done *image.RGBA, err error) { e.post(func() { p.take(done, err) }) })
	p.raster = canvas.NewRaster(p.generate)
	p.ExtendBaseWidget(p)
	e.pictures = append(e.pictures, p)
	return p
}

// A slot is where one picture of a page stands while the page is made anew.
type slot struct {
	easel *easel
	pane  *picturePane
	key   string
}

// show returns the picture. Where its key is another than before it is painted anew; until
// that is done the one before stays. The empty key is of no picture.
func (s *slot) show(key string, paint painter) *picturePane {
	switch {
	case s.pane == nil:
		s.pane = s.easel.picture(paint)
	case key != s.key:
		s.pane.again(paint)
	}
	s.key = key
	return s.pane
}

// again has a picture painted anew; nil is nothing to paint.
func (p *picturePane) again(paint painter) {
	p.paint, p.asked = paint, image.Point{}
	p.raster.Refresh()
}

// fade shows a picture with an opacity.
func (p *picturePane) fade(opacity float64) {
	if through := 1 - opacity; p.raster.Translucency != through {
		p.raster.Translucency = through
		p.raster.Refresh()
	}
}

// clear gives up what is being drawn of pictures that are shown no more.
func (e *easel) clear() {
	for _, p := range e.pictures {
		p.gone = true
		p.latest.Request(func(context.Context) (*image.RGBA, error) { return nil, nil })
	}
	e.pictures = nil
}

// A picturePane shows one picture.
type picturePane struct {
	widget.BaseWidget
	raster *canvas.Raster
	paint  painter
	turns  chan struct{}
	latest *work.Latest[*image.RGBA]
	done   *image.RGBA
	// asked is the size of the picture that was asked for [px].
	asked image.Point
	gone  bool
}

// CreateRenderer shows the raster.
func (p *picturePane) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(p.raster)
}

// generate gives the picture as far as it is drawn, and asks for it in this size.
func (p *picturePane) generate(w, h int) image.Image {
	size := image.Pt(w, h)
	if paint := p.paint; size != p.asked && !p.gone && paint != nil && w > 1 && h > 1 && p.Size().Width > 0 {
		p.asked = size
		density := float64(w) / float64(p.Size().Width)
		p.latest.Request(func(ctx context.Context) (*image.RGBA, error) {
			select {
			case p.turns <- struct{}{}:
				defer func() { <-p.turns }()
			case <-ctx.Done():
				return nil, ctx.Err()
			}
			return paint(ctx, w, h, density)
		})
	}
	if p.done != nil && p.done.Rect.Size() == size {
		return p.done
	}
	return image.NewRGBA(image.Rect(0, 0, w, h))
}

func (p *picturePane) take(done *image.RGBA, err error) {
	if err == nil && done != nil && !p.gone {
		p.done = done
		p.raster.Refresh()
	}
}
