package ui

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/app/tool"
	"runnel/geo/plan"
)

// A drawbar is the slip over the map that says how the tool in the hand draws, or
// what can be done with what is selected.
type drawbar struct {
	w      *Window
	object *fyne.Container
	slip   *fyne.Container
	row    *fyne.Container
	shown  string
}

func newDrawbar(w *Window) *drawbar {
	b := &drawbar{w: w, row: container.New(wrapping{w})}
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameBackground))
	ground.StrokeColor, ground.StrokeWidth, ground.CornerRadius = theme.Color(theme.ColorNameSeparator), 1, 4
	b.slip = container.NewStack(ground, container.New(layout.NewCustomPaddedLayout(2, 2, gap, gap), b.row))
	b.object = container.New(layout.NewCustomPaddedLayout(2*gap, 0, 2*gap, 0),
		container.NewVBox(container.NewHBox(b.slip, layout.NewSpacer())))
	return b
}

// A wrapping row goes on beneath where the map has no more width.
type wrapping struct{ w *Window }

// room is the width that a row has [dp].
func (r wrapping) room() float32 {
	if wide := r.w.panes.mapWidth - 6*gap; wide > 0 {
		return wide
	}
	return math.MaxFloat32
}

// places returns where each object stands, and the size of all.
func (r wrapping) places(objects []fyne.CanvasObject) (at []fyne.Position, size fyne.Size) {
	x, y, high, room := float32(0), float32(0), float32(0), r.room()
	for _, o := range objects {
		least := o.MinSize()
		if x > 0 && x+least.Width > room {
			x, y, high = 0, y+high, 0
		}
		at = append(at, fyne.NewPos(x, y))
		high = max(high, least.Height)
		size = size.Max(fyne.NewSize(x+least.Width, y+high))
		x += least.Width + gap
	}
	return at, size
}

// Layout implements fyne.Layout.
func (r wrapping) Layout(objects []fyne.CanvasObject, _ fyne.Size) {
	at, _ := r.places(objects)
	for i, o := range objects {
		o.Move(at[i])
		o.Resize(o.MinSize())
	}
}

// MinSize implements fyne.Layout.
func (r wrapping) MinSize(objects []fyne.CanvasObject) fyne.Size {
	_, size := r.places(objects)
	return size
}

// refresh offers what goes with the tool in the hand.
func (b *drawbar) refresh() {
	w := b.w
	if w.doc == nil || w.board == nil {
		return
	}
	kind, several := w.held.kind(), len(w.board.Chosen(w.doc.Site().Plan))
	shown := fmt.Sprint(w.held, w.units, w.board.Grid, w.board.Step, w.held == selecting && several > 0, kind != plan.NoKind && kind.CanCurve() && w.board.Manner(kind) > 0, w.manner())
	if shown == b.shown {
		return
	}
	b.shown = shown
	b.row.RemoveAll()
	switch {
	case w.held == selecting && several > 0:
		b.arrange()
	case kind != plan.NoKind && kind.CanCurve():
		b.manners(kind)
		b.spacing(tr("Grid"), 0)
		b.spacing(tr("Steps"), 1)
	case kind != plan.NoKind:
		b.spacing(tr("Grid"), 0)
	}
	if len(b.row.Objects) == 0 {
		b.slip.Hide()
	} else {
		b.slip.Show()
	}
	b.object.Refresh()
}

// manner is how the tool in the hand draws.
func (w *Window) manner() tool.Manner {
	if kind := w.held.kind(); kind != plan.NoKind {
		return w.board.Manner(kind)
	}
	return tool.Straight
}

func mannerWords(m tool.Manner) string {
	return []string{tr("Straight"), tr("Curved"), tr("Circle")}[m]
}

// manners offers the ways in which a kind can be drawn.
func (b *drawbar) manners(kind plan.Kind) {
	for _, m := range tool.Manners(kind) {
		button := newButton(mannerWords(m), func() {
			b.w.board.SetManner(kind, m)
			b.refresh()
			b.w.focusMap()
			b.w.used()
		})
		button.Importance = widget.LowImportance
		if b.w.board.Manner(kind) == m {
			button.Importance = widget.HighImportance
		}
		b.row.Add(button)
	}
}

// spacing offers the spacings of the grid or of lengths.
func (b *drawbar) spacing(label string, of int) {
	w := b.w
	all := w.spacings()
	var words []string
	for _, v := range all {
		if v == 0 {
			words = append(words, tr("off"))
		} else {
			words = append(words, w.units.length(v))
		}
	}
	choice := widget.NewSelect(words, nil)
	choice.Selected = words[max(0, slices.Index(all, *w.snapping(of)))]
	choice.OnChanged = func(word string) {
		*w.snapping(of) = all[max(0, slices.Index(words, word))]
		w.menu.refresh()
		w.focusMap()
	}
	b.row.Add(container.NewCenter(text(label, caption)))
	b.row.Add(choice)
}

// arrange offers what can be done with what is selected.
func (b *drawbar) arrange() {
	w := b.w
	for _, a := range []struct {
		word string
		do   func() error
	}{
		{tr("Duplicate"), w.duplicate},
		{tr("Mirror east–west"), w.mirror(0)},
		{tr("Mirror north–south"), w.mirror(90)},
		{tr("Mirror about a line"), func() error { w.takeUp(mirroring); return nil }},
		{tr("Quarter turn"), w.rotate(quarter)},
	} {
		button := newButton(a.word, func() {
			w.pane.tool.Cancel()
			w.arrange(a.do)
			w.focusMap()
		})
		button.Importance = widget.LowImportance
		b.row.Add(button)
	}
}
