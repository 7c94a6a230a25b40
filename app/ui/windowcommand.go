package ui

import (
	"fyne.io/fyne/v2"

	"runnel/assets"
)

// lookCommands choose how the window looks and in which units it speaks.
func (w *Window) lookCommands() (list []command) {
	for i, name := range lookNames() {
		list = append(list, command{menu: windowMenu, part: 3, name: name, also: tr("theme colours view setting contrast"),
			on: func() bool { return w.look.style == lookStyle(i) }, do: func() { w.wear(lookStyle(i)) }})
	}
	list = append(list, command{menu: windowMenu, part: 3, name: tr("Turn light into dark, or back"), keys: press(fyne.KeyD, ctrlShift), also: tr("theme night"),
		do: func() { w.wear(w.look.style ^ darkStyle) }})
	for i, size := range textSizes() {
		list = append(list, command{menu: windowMenu, part: 4, name: size.name, also: tr("font letters bigger smaller view setting"),
			on: func() bool { return w.look.size == i }, do: func() { w.setTextSize(i) }})
	}
	return append(list, command{menu: windowMenu, part: 5, name: tr("US units"), also: tr("feet inches metric metres"),
		on: func() bool { return w.units == usFeet }, do: w.turnUnits})
}

func (w *Window) paneCommands() (list []command) {
	fold := func(name, also string, f foldable, key fyne.KeyName) command {
		return command{menu: windowMenu, part: 1, name: name, keys: press(key, ctrlShift), also: also, cannot: w.needsSite,
			on: func() bool { return w.doc != nil && !w.panes.folded[w.panes.here(f)] }, do: func() { w.panes.fold(f) }}
	}
	return []command{
		fold(tr("Show the tools"), tr("fold hide column pane"), toolsPane, fyne.KeyT),
		fold(tr("Show the ledger"), tr("fold hide figures pane"), ledgerPane, fyne.KeyL),
		{menu: windowMenu, part: 1, name: tr("Open the legend"), also: tr("fold hide key symbols map"), cannot: w.needsSite,
			on: func() bool { return w.doc != nil && !w.legend.folded() }, do: func() { w.legend.turn() }},
		fold(tr("Show the sections"), tr("fold hide long section cross-section pane"), sectionPane, fyne.KeyP),
		{menu: windowMenu, part: 2, name: tr("Go to the next pane"), keys: press(fyne.KeyTab, ctrl), also: tr("focus keyboard"), cannot: w.needsSite, do: func() { w.nextPane(1) }},
		{menu: windowMenu, part: 2, name: tr("Go to the pane before"), keys: press(fyne.KeyTab, ctrlShift), also: tr("focus keyboard"), cannot: w.needsSite, do: func() { w.nextPane(-1) }},
		{menu: windowMenu, part: 2, name: tr("Go to the map"), keys: press(fyne.KeyG, ctrl), also: tr("focus keyboard draw"), cannot: w.needsSite, do: w.focusMap},
	}
}

func (w *Window) helpCommands() []command {
	return []command{
		{menu: helpMenu, name: tr("Find a command…"), keys: press(fyne.KeyP, ctrl), also: tr("search run menu palette"), do: w.findCommand},
		{menu: helpMenu, name: tr("Keys"), also: tr("shortcuts keyboard letters"), do: func() { w.read(tr("Keys"), w.menu.keys()) }},
		{menu: helpMenu, part: 1, name: tr("Take the tour"), also: tr("learn steps introduction begin first"), cannot: w.noTour, do: w.startTour},
		{menu: helpMenu, part: 1, name: tr("How the figures are found"), also: tr("method source formula reference"), do: w.showMethods},
		{menu: helpMenu, part: 2, name: tr("What's new"), also: tr("changes version"), do: func() { w.read(tr("What's new"), assets.Changes) }},
		{menu: helpMenu, part: 2, name: tr("About Runnel"), also: tr("version licence"), do: w.about},
	}
}

func (w *Window) turnUnits() {
	w.units = usFeet - w.units
	w.app.Preferences().SetInt(unitsPreference, int(w.units))
	w.menu.refresh()
	w.surveying.refresh()
	if w.doc != nil {
		if w.figures.known {
			w.draw() // its contours lie at round levels in other units
		}
		w.tabs.refresh()
		w.ledger.refresh()
		w.section.refresh()
		w.reshow()
		w.used()
		w.follow()
	}
}
