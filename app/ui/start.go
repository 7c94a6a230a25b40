package ui

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// recentShown is how many recent files the start screen lists.
const recentShown = 5

// startScreen is what the window shows while no site is open.
func (w *Window) startScreen() fyne.CanvasObject {
	mark := canvas.NewImageFromResource(iconIn("runnel", theme.Color(theme.ColorNamePrimary)))
	mark.FillMode = canvas.ImageFillContain
	mark.SetMinSize(fyne.NewSquareSize(72))
	demo := newButton("Open the demo site", w.openDemo)
	demo.Importance = widget.HighImportance
	if w.options.DemoSite == nil {
		demo.Disable()
	}
	column := container.NewVBox(
		container.NewHBox(mark, container.NewCenter(container.NewVBox(text("Runnel", heading),
			text("Where seasonal water runs on a small planted place, and how it may linger there.", body)))),
		space(4*gap),
		container.NewGridWithColumns(3, demo,
			newButton("New from an elevation raster…", w.newFromRaster),
			newButton("Open…", w.askOpen)),
		space(4*gap),
	)
	if len(w.recents) > 0 {
		column.Add(text("Recent", caption))
		for _, path := range w.recents[:min(len(w.recents), recentShown)] {
			b := newButton(filepath.Base(path)+"   "+filepath.Dir(path), func() { w.openAny(path) })
			b.Alignment, b.Importance = widget.ButtonAlignLeading, widget.LowImportance
			column.Add(b)
		}
		column.Add(space(4 * gap))
	}
	column.Add(text("The job, in the order it is done", caption))
	for _, s := range steps {
		icon := canvas.NewImageFromResource(iconIn(s.icon, theme.Color(theme.ColorNamePrimary)))
		icon.FillMode = canvas.ImageFillContain
		icon.SetMinSize(fyne.NewSquareSize(iconSize))
		column.Add(container.NewHBox(icon, container.New(widthOf(76), text(s.word, strong)), text(s.purpose, body)))
	}
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameHeaderBackground))
	sheet := canvas.NewRectangle(theme.Color(theme.ColorNameBackground))
	sheet.StrokeColor, sheet.StrokeWidth = theme.Color(theme.ColorNameSeparator), 1
	sheet.CornerRadius = 2 * gap
	return container.NewStack(ground, container.NewCenter(
		container.NewStack(sheet, container.New(layout.NewCustomPaddedLayout(8*gap, 8*gap, 10*gap, 10*gap), column))))
}
