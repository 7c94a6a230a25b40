package ui

import (
	"cmp"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// besideOrBelow lays a table and charts beside each other where there is room, else the
// charts below, where they have this share of the height, or the usual one for nought.
type besideOrBelow struct{ share float32 }

// chartsBeside is the width from which the two stand beside each other [dp].
const chartsBeside = 1040

// Layout implements fyne.Layout.
func (b besideOrBelow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	table, charts := objects[0], objects[1]
	table.Move(fyne.NewPos(0, 0))
	if size.Width >= scaled(chartsBeside) {
		wide := size.Width * 0.56
		table.Resize(fyne.NewSize(wide, size.Height))
		charts.Move(fyne.NewPos(wide+3*gap, 0))
		charts.Resize(fyne.NewSize(size.Width-wide-3*gap, size.Height))
		return
	}
	const least = 150 // that charts can be read in
	high := max(least, min(size.Height*cmp.Or(b.share, 0.42), size.Height-table.MinSize().Height))
	table.Resize(fyne.NewSize(size.Width, size.Height-high-2*gap))
	charts.Move(fyne.NewPos(0, size.Height-high))
	charts.Resize(fyne.NewSize(size.Width, high))
}

// MinSize implements fyne.Layout.
func (besideOrBelow) MinSize(objects []fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, 0) }

// evenly parts its room among objects, side by side where it is wider than high.
type evenly struct{}

// Layout implements fyne.Layout.
func (evenly) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	n := float32(len(objects))
	for i, o := range objects {
		if size.Width > 1.2*size.Height {
			o.Move(fyne.NewPos(float32(i)*size.Width/n, 0))
			o.Resize(fyne.NewSize(size.Width/n, size.Height))
			continue
		}
		o.Move(fyne.NewPos(0, float32(i)*size.Height/n))
		o.Resize(fyne.NewSize(size.Width, size.Height/n))
	}
}

// MinSize implements fyne.Layout.
func (evenly) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, 0) }

// A folding row lays one object at the left and one at the right, or one over the other
// where there is no room for both beside each other. It is told how wide it will be.
type folding struct {
	width *float32
	// near has the right one stand so far behind the left [dp]; 0 for at the right.
	near float32
}

func (f folding) folded(objects []fyne.CanvasObject) bool {
	return objects[1].Visible() && *f.width > 0 && objects[0].MinSize().Width+f.between()+objects[1].MinSize().Width > *f.width
}

// Layout implements fyne.Layout.
func (f folding) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	left, right := objects[0], objects[1]
	first, second := left.MinSize(), right.MinSize()
	left.Move(fyne.NewPos(0, 0))
	if f.folded(objects) {
		left.Resize(fyne.NewSize(size.Width, first.Height))
		right.Move(fyne.NewPos(0, first.Height+gap))
		right.Resize(fyne.NewSize(size.Width, second.Height))
		return
	}
	left.Move(fyne.NewPos(0, (size.Height-first.Height)/2))
	left.Resize(first)
	right.Move(fyne.NewPos(size.Width-second.Width, (size.Height-second.Height)/2))
	if f.near > 0 {
		right.Move(fyne.NewPos(first.Width+f.near, (size.Height-second.Height)/2))
	}
	right.Resize(second)
}

// MinSize implements fyne.Layout.
func (f folding) MinSize(objects []fyne.CanvasObject) fyne.Size {
	first, second := objects[0].MinSize(), objects[1].MinSize()
	if f.folded(objects) {
		return fyne.NewSize(max(first.Width, second.Width), first.Height+gap+second.Height)
	}
	return fyne.NewSize(first.Width+f.between()+second.Width, max(first.Height, second.Height))
}

func (f folding) between() float32 { return max(2*gap, f.near) }

// pageWidth tells the rows that fold how wide they are, and lays head and rest below
// each other.
type pageWidth struct{ p *figurePage }

// Layout implements fyne.Layout.
func (w pageWidth) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	w.p.width = size.Width - 6*gap
	down{}.Layout(objects, size)
}

// MinSize implements fyne.Layout.
func (pageWidth) MinSize(objects []fyne.CanvasObject) fyne.Size { return down{}.MinSize(objects) }

// footed lays a table over what belongs to it, which scrolls where it takes more than
// this share of the height.
type footed float32

// Layout implements fyne.Layout.
func (f footed) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[1].Resize(fyne.NewSize(size.Width, objects[1].Size().Height)) // a text that wraps knows its height only then
	foot := objects[1].MinSize().Height
	if scroll, ok := objects[1].(*container.Scroll); ok {
		foot = scroll.Content.MinSize().Height
	}
	foot = min(foot, size.Height*float32(f))
	objects[0].Move(fyne.NewPos(0, 0))
	objects[0].Resize(fyne.NewSize(size.Width, max(0, size.Height-foot-2*gap)))
	objects[1].Move(fyne.NewPos(0, size.Height-foot))
	objects[1].Resize(fyne.NewSize(size.Width, foot))
}

// MinSize implements fyne.Layout.
func (footed) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, 0) }

// turnScroll scrolls what is shown whole by a key.
func turnScroll(s *container.Scroll, key fyne.KeyName) bool {
	const line = 40
	by, ok := map[fyne.KeyName]float32{
		fyne.KeyUp: -line, fyne.KeyDown: line, fyne.KeyPageUp: line - s.Size().Height, fyne.KeyPageDown: s.Size().Height - line,
		fyne.KeyHome: -1e6, fyne.KeyEnd: 1e6,
	}[key]
	if ok {
		most := max(0, s.Content.MinSize().Height-s.Size().Height)
		s.ScrollToOffset(fyne.NewPos(0, clamp(s.Offset.Y+by, 0, most)))
	}
	return ok
}
