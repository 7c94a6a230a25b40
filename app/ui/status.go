package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"runnel/app/tool"
)

// A status is the strip beneath the map: where the pointer is, what a drop does
// there, and what the tool would do next.
type status struct {
	object      fyne.CanvasObject
	where, drop *canvas.Text
	next        *canvas.Text
	// trouble says why there are no figures; empty when there are.
	trouble string
}

func newStatus() *status {
	s := &status{where: text("", body), drop: rightText("", body), next: text("", caption)}
	s.object = container.New(layout.NewCustomPaddedLayout(gap, gap, 3*gap, 3*gap),
		container.NewVBox(container.New(tight{}, s.where, s.drop), s.next))
	return s
}

// tight lays one text at the left and one at the right of a strip.
type tight struct{}

// Layout implements fyne.Layout.
func (tight) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(size)
		o.Move(fyne.NewPos(0, 0))
	}
}

// MinSize implements fyne.Layout; the strip's width is the map's.
func (tight) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(0, 4*gap)
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
	return size
}

// place shows the pointer's place and the path of a drop; empty when it is off the map.
func (s *status) place(where, drop string) {
	say(s.where, where)
	say(s.drop, drop)
}

// hint says what the tool would do next, or what is wrong with what is drawn.
func (s *status) hint(k tool.Sketch, u units) {
	if s.trouble != "" {
		say(s.next, s.trouble)
		return
	}
	words := k.Hint
	if k.Fault != "" {
		words = k.Fault
	}
	if k.Area > 0 {
		words = u.area(k.Area) + "   " + words
	}
	if k.Length > 0 {
		words = u.length(k.Length) + "   " + words
	}
	if words == "" {
		words = "Drag to move the map, turn the wheel to come closer. Press a thing to select it."
	}
	say(s.next, words)
}

// fault says why the figures could not be worked out, until they can; nil takes
// it away.
func (s *status) fault(err error) {
	s.trouble = ""
	if err != nil {
		s.trouble = sentence(err.Error())
		say(s.next, s.trouble)
	}
}
