package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// A fold is a head in the ledger, with what stands under it in short beside it. Pressed,
// it opens and closes what stands under it in full.
type fold struct {
	w *Window
	// key is what it is remembered by.
	key    string
	object *fyne.Container
	under  *fyne.Container
	sign   *widget.Icon
	sum    *widget.Label
}

func newFold(w *Window, key, head string, under ...fyne.CanvasObject) *fold {
	f := &fold{w: w, key: key, sign: widget.NewIcon(theme.MenuExpandIcon()), sum: widget.NewLabel("")}
	f.sum.SizeName, f.sum.Truncation, f.sum.Alignment = captionSize, fyne.TextTruncateEllipsis, fyne.TextAlignTrailing
	row := container.NewBorder(nil, nil, container.NewHBox(f.sign, container.NewCenter(text(head, strong))), nil, flush(f.sum))
	f.under = container.New(layout.NewCustomPaddedLayout(0, gap, 0, 0), container.NewVBox(under...))
	f.object = container.NewVBox(newPressRow(row, f.turn), f.under)
	f.lay()
	return f
}

// turn opens what is closed and closes what is open.
func (f *fold) turn() {
	if f.w.unfolded == nil {
		f.w.unfolded = map[string]bool{}
	}
	f.w.unfolded[f.key] = !f.w.unfolded[f.key]
	f.lay()
	f.w.ledger.box.Refresh()
	f.w.trace.say("folded", "part", f.key, "open", f.w.unfolded[f.key])
}

func (f *fold) lay() {
	open := f.w.unfolded[f.key]
	shown(f.under, open)
	shown(f.sum, !open)
	f.sign.SetResource(theme.MenuExpandIcon())
	if open {
		f.sign.SetResource(theme.MenuDropDownIcon())
	}
	f.object.Refresh()
}

// say puts in short what stands under the head.
func (f *fold) say(words string) {
	if f.sum.Text != words {
		f.sum.SetText(words)
	}
}
