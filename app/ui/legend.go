package ui

import (
	"fmt"
	"image"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/app/view"
)

const (
	legendPreference = "legend folded"
	legendWidth      = 228                 // [dp]
	legendRoom       = legendWidth - 4*gap // of its rows [dp]
	sampleWidth      = 34                  // of the sample before a name [dp]
	sampleHeight     = 15
	scaleHeight      = 27 // of a sample with its figures [dp]
)

// A legend lies over the map and says what is shown on it now.
type legend struct {
	w      *Window
	object fyne.CanvasObject
	head   *pressable
	rows   *fyne.Container
	body   *container.Scroll
	said   string
	// opened is set while it has been opened although a tool is in the hand.
	opened bool
	// due is set while it is about to be brought up to date.
	due bool
}

func newLegend(w *Window) *legend {
	l := &legend{w: w, rows: container.New(layout.NewCustomPaddedVBoxLayout(2))}
	l.head = newPressable("", "", lying, l.turn)
	l.body = container.NewVScroll(container.New(layout.NewCustomPaddedLayout(0, 2*gap, 2*gap, 2*gap), l.rows))
	sheet := canvas.NewRectangle(veiled(w.look.palette.Paper, 0xF8))
	sheet.StrokeColor, sheet.StrokeWidth, sheet.CornerRadius = theme.Color(theme.ColorNameSeparator), 1, gap
	l.object = container.New(corner{l}, newShield(container.NewStack(sheet, container.New(legendStack{}, l.head, l.body))))
	l.retitle()
	l.object.Hide() // until there is something to list
	return l
}

func veiled(c view.Colour, alpha uint8) color.Color {
	c.A = alpha
	return c
}

// folded reports whether only its head is seen. While a tool is in the hand that is so,
// unless it has been opened since, for what it lies on is the map's to be pressed.
func (l *legend) folded() bool {
	if l.w.pane.draws {
		return !l.opened
	}
	return l.w.app.Preferences().BoolWithFallback(legendPreference, true)
}

// turn folds the legend up, or opens it.
func (l *legend) turn() {
	if l.w.pane.draws {
		l.opened = !l.opened
	} else {
		l.w.app.Preferences().SetBool(legendPreference, !l.folded())
	}
	l.refold()
	l.w.menu.refresh()
}

// giveWay folds the legend up for a tool that was taken up, and brings it back as it
// was once the tool is laid down.
func (l *legend) giveWay() {
	l.opened = false
	l.refold()
}

func (l *legend) refold() {
	l.said = ""
	l.retitle()
	l.update()
}

func (l *legend) retitle() {
	l.head.word = tr("Legend") + "  ▾"
	if l.folded() {
		l.head.word = tr("Legend") + "  ▴"
	}
	l.head.Refresh()
}

// follow brings the legend up to date a moment later: scales change with each turn
// of the wheel.
func (l *legend) follow() {
	if l.due {
		return
	}
	l.due = true
	l.w.soon(func() {
		l.due = false
		l.update()
	})
}

// update lists what the map shows, where that has changed.
func (l *legend) update() {
	scene := l.w.pane.scene
	if scene == nil || l.w.pane.width == 0 {
		shown(l.object, false)
		return
	}
	entries := scene.Legend(l.w.pane.camera)
	said := fmt.Sprint(l.folded())
	for _, e := range entries {
		said += "\n" + e.Text() + strings.Join(e.Figures, "|")
	}
	if said == l.said {
		return
	}
	l.said = said
	l.rows.RemoveAll()
	for _, e := range entries {
		l.rows.Add(l.row(e))
	}
	shown(l.object, len(entries) > 0)
	shown(l.body, !l.folded())
	l.object.Refresh()
}

// row shows one entry: its sample before its name, a scale under it.
func (l *legend) row(e view.Entry) fyne.CanvasObject {
	palette := l.w.look.palette
	sample := canvas.NewRaster(func(w, h int) image.Image {
		height := float64(sampleHeight)
		if e.IsScale() {
			height = scaleHeight
		}
		return e.Sample(w, h, palette.Scaled(float64(h)/height))
	})
	words := l.w.units.told(e.Text())
	if e.IsScale() {
		sample.SetMinSize(fyne.NewSize(legendRoom, scaleHeight))
		return container.New(layout.NewCustomPaddedVBoxLayout(0), space(gap/2), legendName(words, legendRoom), sample)
	}
	return container.New(sampleRow{}, sample, legendName(words, legendRoom-sampleWidth-2*gap))
}

// legendName writes what an entry is called in as many lines as a width calls for.
func legendName(words string, width float32) fyne.CanvasObject {
	lines := container.New(layout.NewCustomPaddedVBoxLayout(-gap / 2))
	for _, line := range brokenInto(text("", caption), words, width) {
		t := text(line, caption)
		t.Color = theme.Color(theme.ColorNameForeground)
		lines.Add(t)
	}
	return lines
}

// brokenInto breaks a text between its words into lines of a width; a word that is longer
// is cut short.
func brokenInto(like *canvas.Text, words string, width float32) (lines []string) {
	wide := func(s string) bool { return fyne.MeasureText(s, like.TextSize, like.TextStyle).Width > width }
	for _, word := range strings.Split(words, " ") { // what may not be broken keeps its own spaces
		if last := len(lines) - 1; last >= 0 && !wide(lines[last]+" "+word) {
			lines[last] += " " + word
			continue
		}
		lines = append(lines, fitting(like, width, []string{word}))
	}
	return lines
}

// sampleRow lays a sample before its name.
type sampleRow struct{}

// Layout implements fyne.Layout.
func (sampleRow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	sample, name := objects[0], objects[1]
	sample.Resize(fyne.NewSize(sampleWidth, sampleHeight))
	sample.Move(fyne.NewPos(0, (size.Height-sampleHeight)/2))
	name.Resize(name.MinSize()) // its lines were broken for the legend when it lies open
	name.Move(fyne.NewPos(sampleWidth+2*gap, (size.Height-name.MinSize().Height)/2))
}

// MinSize implements fyne.Layout.
func (sampleRow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(0, max(sampleHeight+2, objects[1].MinSize().Height))
}

// legendStack lays the head of a legend over its rows.
type legendStack struct{}

// Layout implements fyne.Layout.
func (legendStack) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	head := objects[0].MinSize().Height
	objects[0].Move(fyne.NewPos(0, 0))
	objects[0].Resize(fyne.NewSize(size.Width, head))
	objects[1].Move(fyne.NewPos(0, head))
	objects[1].Resize(fyne.NewSize(size.Width, max(0, size.Height-head)))
}

// MinSize implements fyne.Layout.
func (legendStack) MinSize(objects []fyne.CanvasObject) fyne.Size { return objects[0].MinSize() }

// corner lays a legend in the lower right corner of the map, as high as its rows
// need and the map allows.
type corner struct{ of *legend }

// Layout implements fyne.Layout.
func (c corner) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	const margin = 2 * gap
	least := c.of.head.MinSize()
	want := fyne.NewSize(least.Width+2*gap, least.Height)
	if !c.of.folded() {
		want = fyne.NewSize(legendWidth, least.Height+c.of.body.Content.MinSize().Height)
	}
	// More than half of the map's height is the map's; the rest of the legend scrolls.
	want = want.Min(fyne.NewSize(size.Width-2*margin, max(least.Height, size.Height*0.48)))
	objects[0].Resize(want)
	objects[0].Move(fyne.NewPos(size.Width-want.Width-margin, size.Height-want.Height-margin))
}

// MinSize implements fyne.Layout; the legend takes what room there is.
func (corner) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

// A shield keeps the pointer from what lies under it.
type shield struct {
	widget.BaseWidget
	content fyne.CanvasObject
}

func newShield(content fyne.CanvasObject) *shield {
	s := &shield{content: content}
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer shows the content alone.
func (s *shield) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(s.content) }

// MouseIn does nothing.
func (s *shield) MouseIn(*desktop.MouseEvent) {}

// MouseMoved does nothing.
func (s *shield) MouseMoved(*desktop.MouseEvent) {}

// MouseOut does nothing.
func (s *shield) MouseOut() {}

// MouseDown does nothing.
func (s *shield) MouseDown(*desktop.MouseEvent) {}

// MouseUp does nothing.
func (s *shield) MouseUp(*desktop.MouseEvent) {}

// Dragged does nothing.
func (s *shield) Dragged(*fyne.DragEvent) {}

// DragEnd does nothing.
func (s *shield) DragEnd() {}
