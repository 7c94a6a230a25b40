package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"

	"runnel/analysis/caution"
)

// recentShown is how many recent files the start screen lists.
const recentShown = 4

// The columns of the start screen [dp].
const (
	startBegin = 372
	startSteps = 452
	bannerTall = 150
)

// startScreen is what the window shows while no site is open.
func (w *Window) startScreen() fyne.CanvasObject {
	begin := container.NewVBox(text(tr("Begin"), caption), space(gap), w.beginnings())
	if len(w.recents) > 0 {
		begin.Add(space(3 * gap))
		begin.Add(text(tr("Recent sites"), caption))
		begin.Add(space(gap))
		for _, r := range w.recentFiles()[:min(len(w.recents), recentShown)] {
			begin.Add(w.recentRow(r, func() { w.openAny(r.path) }))
		}
	}
	job := container.NewVBox(text(tr("The job, in the order it is done"), caption), space(gap))
	for _, s := range steps {
		job.Add(stepLine(s))
	}
	columns := container.NewHBox(container.New(widthOf(startBegin), begin), space(0), container.New(widthOf(1), rule()), space(0), container.New(widthOf(startSteps), job))
	banner := canvas.NewImageFromResource(banner(w.look.palette))
	banner.FillMode = canvas.ImageFillStretch
	banner.SetMinSize(fyne.NewSize(1, bannerTall))
	sheet := canvas.NewRectangle(theme.Color(theme.ColorNameBackground))
	sheet.StrokeColor, sheet.StrokeWidth = theme.Color(theme.ColorNameSeparator), 1
	page := container.NewVBox(
		container.NewStack(banner, container.New(layout.NewCustomPaddedLayout(4*gap, 0, 10*gap, 10*gap), container.NewVBox(w.masthead()))),
		container.New(layout.NewCustomPaddedLayout(6*gap, 6*gap, 10*gap, 10*gap), container.NewVBox(columns, space(4*gap), container.NewCenter(text(told(caution.Deference), caption)))))
	desk := canvas.NewRectangle(theme.Color(theme.ColorNameHeaderBackground))
	return container.NewStack(desk, container.NewScroll(container.NewCenter(container.NewStack(sheet, page))))
}

// masthead is the program's mark and name, and what it is for.
func (w *Window) masthead() fyne.CanvasObject {
	mark := canvas.NewImageFromResource(iconIn("mark", theme.Color(theme.ColorNamePrimary)))
	mark.FillMode = canvas.ImageFillContain
	mark.SetMinSize(fyne.NewSquareSize(64))
	name := text("Runnel", heading)
	name.TextSize *= 1.9
	return container.New(layout.NewCustomPaddedHBoxLayout(4*gap), mark, container.NewCenter(container.New(layout.NewCustomPaddedVBoxLayout(0),
		name, text(tr("Where seasonal water runs on a small planted place, and how it may linger there."), body))))
}

// beginnings are the ways into the work. A first-time user is offered the tour above
// all others, once.
func (w *Window) beginnings() fyne.CanvasObject {
	ways := container.New(layout.NewCustomPaddedVBoxLayout(gap))
	if w.options.DemoSite != nil {
		tourWords := tr("A few short stops through the seven steps, on the demo site.")
		if !w.app.Preferences().Bool(tourPreference) {
			ways.Add(framed(wayIn("mark", tr("New here? Take the tour"), tourWords, w.startTour)))
		}
		ways.Add(wayIn("water", tr("Open the demo site"), tr("A garden with a drain, to try things on. Nothing you do to it is kept unless you save it."), w.openDemo))
	}
	ways.Add(wayIn("survey", tr("New from an elevation raster…"), tr("Begin a site from the ground: GeoTIFF, ASCII grid and others."), w.newFromRaster))
	ways.Add(wayIn("tape", tr("New from contours or points…"), tr("Make the ground of a contour drawing or a list of measured points."), w.newFromMeasurements))
	ways.Add(wayIn("handover", tr("Open…"), tr("Go on with a site that was saved. A file may also be dropped here."), w.askOpen))
	return ways
}

// wayIn is an icon, what is done and a word on it.
func wayIn(icon, title, words string, do func()) fyne.CanvasObject {
	return newPressRow(container.New(layout.NewCustomPaddedLayout(gap, gap, 2*gap, 2*gap), container.NewBorder(nil, nil,
		container.NewCenter(iconOf(icon, 7*gap)), nil, container.New(layout.NewCustomPaddedLayout(0, 0, 2*gap, 0),
			container.New(layout.NewCustomPaddedVBoxLayout(0), text(title, strong), paragraph(words))))), do)
}

// framed puts a frame in the window's first colour around an object.
func framed(o fyne.CanvasObject) fyne.CanvasObject {
	frame := canvas.NewRectangle(theme.Color(theme.ColorNameSelection))
	frame.StrokeColor, frame.StrokeWidth, frame.CornerRadius = theme.Color(theme.ColorNamePrimary), 1, gap
	return container.NewStack(frame, o)
}

func iconOf(name string, size float32) fyne.CanvasObject {
	icon := canvas.NewImageFromResource(iconIn(name, theme.Color(theme.ColorNamePrimary)))
	icon.FillMode = canvas.ImageFillContain
	icon.SetMinSize(fyne.NewSquareSize(scaled(size)))
	return icon
}

// stepLine is a step's icon, its name and what it is for.
func stepLine(s step) fyne.CanvasObject {
	return container.New(layout.NewCustomPaddedLayout(gap, gap, 0, 0), container.NewBorder(nil, nil,
		container.NewHBox(container.NewCenter(iconOf(s.icon, iconSize)), container.New(widthOf(84), text(s.word(), strong))), nil, flush(wrappedLabel(s.purpose()))))
}
