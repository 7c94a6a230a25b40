package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// mostRain is the heaviest storm that the slider goes to [mm].
const mostRain = 150

// A rainSlider sets how much rain falls, with a mark at the storm that the site is
// designed for.
type rainSlider struct {
	object fyne.CanvasObject
	slider *slide
	mark   *canvas.Rectangle
	// design is where the mark stands [mm].
	design float64
	// looked is told of the rain [mm] while the slider is dragged.
	looked func(millimetres float64)
}

func newRainSlider(w *Window) *rainSlider {
	r := &rainSlider{slider: w.newSlide(mostRain), looked: w.lookAtRain}
	r.mark = canvas.NewRectangle(theme.Color(theme.ColorNamePrimary))
	r.object = container.New(r, r.mark, r.slider)
	return r
}

// show puts the slider at a rain and the mark at another [mm], and tells no one.
func (r *rainSlider) show(rain, design float64) {
	r.slider.OnChanged = nil
	r.slider.SetValue(rain)
	r.slider.OnChanged = r.looked
	if r.design != design {
		r.design = design
		r.object.Refresh()
	}
}

// Layout stands the mark where the slider's thumb is at the design storm.
func (r *rainSlider) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	r.slider.Resize(size)
	// The toolkit (2.7.1) keeps this much of the slider free at either end.
	end := theme.Size(theme.SizeNameInlineIcon)/2 + theme.Size(theme.SizeNameInnerPadding) - 1.5
	share := float32(min(1, max(0, r.design/mostRain)))
	r.mark.Resize(fyne.NewSize(2, size.Height-2*gap))
	r.mark.Move(fyne.NewPos(end+share*(size.Width-2*end)-1, gap))
}

// MinSize is the slider's.
func (r *rainSlider) MinSize([]fyne.CanvasObject) fyne.Size { return r.slider.MinSize() }
