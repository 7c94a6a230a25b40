package ui

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"runnel/geo/plan"
)

// toolsOf are the instruments that a step brings, in the order of its column.
func toolsOf(s step) []instrument {
	tools := append([]instrument{selecting}, s.asks...)
	for _, kind := range s.kinds {
		tools = append(tools, drawer(kind))
	}
	return tools
}

// toolCommands take up the tools; one that the step does not bring is taken up in
// the first step that does.
func (w *Window) toolCommands() (list []command) {
	seen := map[instrument]bool{}
	for i, s := range steps {
		for _, tool := range toolsOf(s) {
			if seen[tool] {
				continue
			}
			seen[tool] = true
			c := command{menu: drawMenu, part: i, name: tool.word(), letter: tool.letter(), also: trf("draw tool in the step %s", s.word()),
				cannot: w.needsSite,
				astray: func() string { return w.elsewhere(tool) }, on: func() bool { return w.doc != nil && w.held == tool }, do: func() { w.fetch(tool) }}
			if tool.kind() == plan.NoKind {
				c.part = -1
			}
			list = append(list, c)
		}
	}
	return list
}

// fetch takes up a tool, in a step that brings it.
func (w *Window) fetch(tool instrument) {
	if !slices.Contains(toolsOf(steps[w.step]), tool) {
		w.goTo(stepWith(tool))
	}
	w.choose(tool)
	w.focusMap()
}

// elsewhere says which step brings a tool that this step does not; a letter that was
// struck by mistake must not end what is being drawn.
func (w *Window) elsewhere(tool instrument) string {
	if slices.Contains(toolsOf(steps[w.step]), tool) {
		return ""
	}
	at := stepWith(tool)
	return trf("%[1]s is a tool of the step %[2]s; press Ctrl+%[3]d to go there.", tool.word(), steps[at].word(), at+1)
}

// stepWith is the first step that brings a tool.
func stepWith(tool instrument) int {
	return slices.IndexFunc(steps, func(s step) bool { return slices.Contains(toolsOf(s), tool) })
}

func (w *Window) mapCommands() []command {
	return []command{
		{menu: mapMenu, name: tr("Fit the whole ground"), keys: press(fyne.KeyF, ctrl), also: tr("zoom all extent home"), cannot: w.needsSite, do: func() { w.pane.fit() }},
		{menu: mapMenu, name: tr("Come closer"), keys: press(fyne.KeyEqual, ctrl), also: tr("zoom in larger"), cannot: w.needsSite, do: func() { w.zoomMap(zoomStep) }},
		{menu: mapMenu, name: tr("Go further off"), keys: press(fyne.KeyMinus, ctrl), also: tr("zoom out smaller"), cannot: w.needsSite, do: func() { w.zoomMap(1 / zoomStep) }},
	}
}

// zoomMap scales the map about its middle.
func (w *Window) zoomMap(factor float64) {
	if w.scene != nil {
		size := w.pane.Size()
		w.pane.zoom(fyne.NewPos(size.Width/2, size.Height/2), factor)
	}
}

func (w *Window) layerCommands() (list []command) {
	for _, l := range layers() {
		list = append(list, command{menu: mapMenu, part: 1, name: l.word, also: tr("show hide layer on the map"), cannot: w.needsSite,
			on: func() bool { return w.doc != nil && w.ticked(l.of) }, do: func() { w.turnLayer(l.of) }})
	}
	return list
}

func (w *Window) stepCommands() (list []command) {
	for i, s := range steps {
		list = append(list, command{menu: stepsMenu, name: trf("Step: %s", s.word()), keys: press(fyne.KeyName(fmt.Sprint(i+1)), ctrl), also: s.purpose(),
			cannot: w.needsSite, on: func() bool { return w.doc != nil && w.step == i }, do: func() { w.goTo(i) }})
	}
	return list
}

// needsScheme is why a command cannot run while the site is shown as it is.
func (w *Window) needsScheme() string {
	if why := w.needsSite(); why != "" {
		return why
	}
	if w.board.Scheme == plan.AsItIs {
		return tr("Show a scheme first: press its tab over the map.")
	}
	return ""
}

func (w *Window) schemeCommands() []command {
	return []command{
		{menu: schemeMenu, name: tr("Add an empty scheme"), keys: press(fyne.KeyN, ctrlShift), also: tr("new alternative design"), cannot: w.needsSite, do: w.addScheme},
		{menu: schemeMenu, name: tr("Duplicate this scheme"), keys: press(fyne.KeyC, ctrlShift), also: tr("copy alternative"), cannot: w.needsScheme, do: func() { w.copyScheme(w.board.Scheme) }},
		{menu: schemeMenu, name: tr("Rename this scheme…"), also: tr("name title"), cannot: w.needsScheme, do: func() { w.renameScheme(w.board.Scheme) }},
		{menu: schemeMenu, name: tr("Delete this scheme"), also: tr("remove drop"), cannot: w.needsScheme,
			do: func() { w.deleteScheme(w.board.Scheme) }},
		{menu: schemeMenu, part: 1, name: tr("Show the next scheme"), keys: press(fyne.KeyPageDown, ctrl), also: tr("tab switch"), cannot: w.needsSite, do: func() { w.turnScheme(1) }},
		{menu: schemeMenu, part: 1, name: tr("Show the scheme before"), keys: press(fyne.KeyPageUp, ctrl), also: tr("tab switch previous"), cannot: w.needsSite, do: func() { w.turnScheme(-1) }},
		{menu: schemeMenu, part: 2, name: tr("Find a better line…"), also: tr("propose search optimise course route"), cannot: w.needsSite, do: w.findLine},
		{menu: schemeMenu, part: 2, name: tr("Place the spoil"), also: tr("balance earth raise islands banks"), cannot: w.needsScheme, do: w.placeSpoil},
		{menu: schemeMenu, part: 2, name: tr("Compare the schemes"), keys: press(fyne.KeyK, ctrl), also: tr("side by side table chart"), cannot: w.needsSite,
			on: func() bool { return w.doc != nil && w.comparing.on }, do: w.compareSchemes},
		{menu: schemeMenu, part: 2, name: tr("The channel in figures"), keys: press(fyne.KeyT, ctrl), also: tr("table stations levels pegs setting out numbers"), cannot: w.needsSite,
			on: func() bool { return w.doc != nil && w.channels.on }, do: w.channelFigures},
		{menu: schemeMenu, part: 2, name: tr("The year's water"), keys: press(fyne.KeyJ, ctrl), also: tr("soak season storm well account groundwater mound record months days"), cannot: w.needsSite,
			on: func() bool { return w.doc != nil && w.year.on }, do: w.yearsWater},
		{menu: fileMenu, part: 3, name: tr("Export: Comparison, PNG…"), also: tr("write out side by side picture charts"), cannot: w.needsComparison,
			do: func() { w.comparing.exportPicture() }},
		{menu: fileMenu, part: 3, name: tr("Export: Comparison, CSV…"), also: tr("write out side by side table figures"), cannot: w.needsComparison,
			do: func() { w.comparing.exportTable() }},
		{menu: schemeMenu, part: 2, name: tr("Choose what shows through as a ghost…"), also: tr("under other scheme overlay"), cannot: w.needsSite,
			do: func() { w.menuAt(w.tabs.ghost, w.ghostMenu()) }},
	}
}

// needsComparison is why a command cannot run while the schemes are not compared.
func (w *Window) needsComparison() string {
	if w.doc == nil || !w.comparing.on || len(w.comparing.accounts) == 0 {
		return tr("Compare the schemes first.")
	}
	return ""
}

// turnScheme shows the scheme so many tabs on; the site as it is stands first.
func (w *Window) turnScheme(by int) {
	ids := []plan.SchemeID{plan.AsItIs}
	for _, s := range w.doc.Site().Plan.Schemes {
		ids = append(ids, s.ID)
	}
	at := slices.Index(ids, w.board.Scheme)
	w.showScheme(ids[(at+by+len(ids))%len(ids)])
}
