package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// columns lays objects side by side, each with its share of the width, in the
// middle of the row's height.
type columns []float32

// Layout implements fyne.Layout.
func (c columns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	var all, left float32
	for _, share := range c {
		all += share
	}
	for i, o := range objects {
		width := size.Width * c[i] / all
		room := width - gap
		if i == len(objects)-1 {
			room = width
		}
		o.Resize(fyne.NewSize(room, o.Size().Height)) // a text that wraps knows its height only then
		height := min(o.MinSize().Height, size.Height)
		o.Move(fyne.NewPos(left, (size.Height-height)/2))
		o.Resize(fyne.NewSize(room, height))
		left += width
	}
}

// MinSize is the height of the tallest; the width is what the column gives.
func (c columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(0, scaled(5*gap))
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
	return size
}

// across lays three objects side by side with nothing between them: the outer
// two at their least width, the middle one over the rest.
type across struct{}

// Layout implements fyne.Layout.
func (across) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	left, right := objects[0].MinSize().Width, objects[2].MinSize().Width
	middle := max(0, size.Width-left-right)
	for i, at := range []struct{ x, width float32 }{{0, left}, {left, middle}, {left + middle, right}} {
		objects[i].Move(fyne.NewPos(at.x, 0))
		objects[i].Resize(fyne.NewSize(at.width, size.Height))
	}
}

// MinSize implements fyne.Layout.
func (across) MinSize(objects []fyne.CanvasObject) (size fyne.Size) {
	for _, o := range objects {
		least := o.MinSize()
		size = fyne.NewSize(size.Width+least.Width, max(size.Height, least.Height))
	}
	return size
}

// down is across turned: top, middle, bottom.
type down struct{}

// Layout implements fyne.Layout.
func (down) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	top, bottom := objects[0].MinSize().Height, objects[2].MinSize().Height
	middle := max(0, size.Height-top-bottom)
	for i, at := range []struct{ y, height float32 }{{0, top}, {top, middle}, {top + middle, bottom}} {
		objects[i].Move(fyne.NewPos(0, at.y))
		objects[i].Resize(fyne.NewSize(size.Width, at.height))
	}
}

// MinSize implements fyne.Layout.
func (down) MinSize(objects []fyne.CanvasObject) (size fyne.Size) {
	for _, o := range objects {
		least := o.MinSize()
		size = fyne.NewSize(max(size.Width, least.Width), size.Height+least.Height)
	}
	return size
}

// flush takes back the room that the toolkit leaves around a paragraph, so that
// it begins where plain texts do.
func flush(o fyne.CanvasObject) fyne.CanvasObject {
	return container.New(layout.NewCustomPaddedLayout(-gap/2, -gap/2, -gap, -gap), o)
}

// edged puts a thin line along a side of an object.
func edged(o fyne.CanvasObject, s side) fyne.CanvasObject {
	line := rule()
	switch s {
	case above:
		return container.New(down{}, line, o, space(0))
	case below:
		return container.New(down{}, space(0), o, line)
	case before:
		return container.New(across{}, line, o, space(0))
	}
	return container.New(across{}, space(0), o, line)
}

// side is a side of an object.
type side uint8

const (
	above side = iota
	below
	before
	after
	within // a corner of it
)

// widthOf gives what it holds a fixed width, that grows with the text, and the
// height that there is.
type widthOf float32

// Layout implements fyne.Layout.
func (w widthOf) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(size)
	}
}

// MinSize implements fyne.Layout.
func (w widthOf) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(scaled(float32(w)), 0)
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
	return size
}

// heightOf gives what it holds at least a height, that grows with the text.
type heightOf float32

// Layout implements fyne.Layout.
func (h heightOf) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(size)
	}
}

// MinSize implements fyne.Layout.
func (h heightOf) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(0, scaled(float32(h)))
	for _, o := range objects {
		size = size.Max(o.MinSize())
	}
	return size
}

// atLeast gives what it holds at least a size.
type atLeast fyne.Size

// Layout implements fyne.Layout.
func (a atLeast) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(size)
	}
}

// MinSize implements fyne.Layout.
func (a atLeast) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size(a) }

// role says what a piece of text is for; its size and colour follow.
type role uint8

const (
	body    role = iota // plain
	strong              // a figure that counts, a name
	caption             // small and quiet
	heading             // the name of what is shown
)

func text(words string, r role) *canvas.Text {
	t := canvas.NewText(words, theme.Color(theme.ColorNameForeground))
	t.TextSize = theme.Size(theme.SizeNameText)
	switch r {
	case strong:
		t.TextStyle.Bold = true
	case caption:
		t.TextSize = theme.Size(theme.SizeNameCaptionText)
		t.Color = theme.Color(theme.ColorNamePlaceHolder)
	case heading:
		t.TextSize = theme.Size(theme.SizeNameHeadingText)
		t.TextStyle.Bold = true
	}
	return t
}

func rightText(words string, r role) *canvas.Text {
	t := text(words, r)
	t.Alignment = fyne.TextAlignTrailing
	return t
}

// columnHead names a column of figures; a name too long for it is cut off.
func columnHead(words string) *widget.Label {
	l := widget.NewLabelWithStyle(words, fyne.TextAlignTrailing, fyne.TextStyle{Bold: true})
	l.SizeName, l.Truncation = captionSize, fyne.TextTruncateEllipsis
	return l
}

// say changes what a text says, and redraws it if that is something else.
func say(t *canvas.Text, words string) {
	if t.Text != words {
		t.Text = words
		t.Refresh()
	}
}

// rule is a thin line between parts.
func rule() fyne.CanvasObject {
	line := canvas.NewRectangle(theme.Color(theme.ColorNameSeparator))
	line.SetMinSize(fyne.NewSize(1, 1))
	return line
}

func space(height float32) fyne.CanvasObject {
	s := canvas.NewRectangle(color.Transparent)
	s.SetMinSize(fyne.NewSize(1, height))
	return s
}

func padded(o fyne.CanvasObject) *fyne.Container {
	return container.New(layout.NewCustomPaddedLayout(2*gap, 2*gap, 3*gap, 3*gap), o)
}
