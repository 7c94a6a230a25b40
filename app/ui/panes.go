package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// foldable names a pane that can be folded away.
type foldable uint8

const (
	toolsPane foldable = iota
	ledgerPane
	sectionPane
	// sparePane is the sections in the steps that are not about levels, where they
	// are folded until they are asked for.
	sparePane
	foldableCount
)

// foldPreference is what it is remembered under that a pane is folded.
var foldPreference = [foldableCount]string{"fold tools", "fold ledger", "fold sections", "fold sections elsewhere"}

const (
	ledgerPreference  = "ledger width"
	sectionPreference = "section height"
)

// panes lays out the window: the rail and the tools at the left, the map in the
// middle with the schemes' tabs over it and the sections and the status beneath, the
// ledger at the right. Lengths are of plain text; larger text takes more [dp].
type panes struct {
	w                          *Window
	box                        *fyne.Container
	folded                     [foldableCount]bool
	ledgerWidth, sectionHeight float32
	// mapWidth is that of the map as it was laid out last [dp].
	mapWidth                      float32
	rail, tools, tabs, stage      fyne.CanvasObject
	section, status, ledger       fyne.CanvasObject
	ledgerDivider, sectionDivider *divider
}

const (
	usualSection = 190 // height of the sections [dp]
	leastSection = 120
	leastStage   = 170 // height of the map
	leastMap     = 240 // width of the map
	mostLedger   = 620
)

// newPanes remembers how the panes were left.
func newPanes(w *Window) *panes {
	p := &panes{w: w}
	prefs := w.app.Preferences()
	for i, name := range foldPreference {
		p.folded[i] = prefs.BoolWithFallback(name, foldable(i) == sparePane)
	}
	p.ledgerWidth = clamp(float32(prefs.FloatWithFallback(ledgerPreference, ledgerWidth)), ledgerWidth, mostLedger)
	p.sectionHeight = max(leastSection, float32(prefs.FloatWithFallback(sectionPreference, usualSection)))
	p.ledgerDivider = newDivider(standing, p.moveLedger, p.keep)
	p.sectionDivider = newDivider(flat, p.moveSection, p.keep)
	return p
}

func clamp(v, low, high float32) float32 { return max(low, min(v, high)) }

// keep remembers the sizes and the folds.
func (p *panes) keep() {
	prefs := p.w.app.Preferences()
	for i, name := range foldPreference {
		prefs.SetBool(name, p.folded[i])
	}
	prefs.SetFloat(ledgerPreference, float64(p.ledgerWidth))
	prefs.SetFloat(sectionPreference, float64(p.sectionHeight))
}

// build lays the window's parts into their places.
func (p *panes) build() fyne.CanvasObject {
	w := p.w
	p.rail, p.tools, p.tabs = w.rail.object, edged(w.tools.object, after), edged(w.tabs.object, below)
	p.status, p.ledger = edged(w.status.object, above), w.ledger.object
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameBackground))
	p.section = container.NewStack(ground, w.sectionObject())
	p.stage = w.stage
	p.box = container.New(p, p.rail, p.tools, p.tabs, p.stage, p.sectionDivider, p.section, p.status, p.ledgerDivider, p.ledger)
	return p.box
}

// fold folds a pane away, or brings it back.
func (p *panes) fold(f foldable) {
	f = p.here(f)
	p.folded[f] = !p.folded[f]
	p.keep()
	p.lay()
	p.w.menu.refresh()
}

// lay lays the panes out anew.
func (p *panes) lay() {
	if p.box != nil {
		p.Layout(nil, p.box.Size())
		canvas.Refresh(p.sectionDivider)
		p.w.section.refresh()
	}
}

func (p *panes) moveLedger(by float32) {
	p.ledgerWidth = clamp(p.ledgerWidth-by/scaled(1), ledgerWidth, mostLedger)
	p.lay()
}

func (p *panes) moveSection(by float32) {
	p.sectionHeight = max(leastSection, p.sectionHeight-by/scaled(1))
	p.lay()
}

// here returns the pane that stands for another in the step that is shown.
func (p *panes) here(f foldable) foldable {
	if f == sectionPane && !steps[p.w.step].sections {
		return sparePane
	}
	return f
}

// shown reports whether a pane is shown: folded panes are not, nor are the sections
// beneath a page that takes the map's place.
func (p *panes) shown(f foldable) bool {
	return (!p.folded[p.here(f)] || f == ledgerPane && p.w.inquiry.on()) && (f != sectionPane || p.w.sections != nil && !p.w.paged())
}

// Layout implements fyne.Layout.
func (p *panes) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	left := p.put(p.rail, fyne.NewPos(0, 0), fyne.NewSize(p.rail.MinSize().Width, size.Height)).Width
	if p.appears(p.tools, toolsPane) {
		left += p.put(p.tools, fyne.NewPos(left, 0), fyne.NewSize(p.tools.MinSize().Width, size.Height)).Width
	}
	right := size.Width
	if p.appears(p.ledger, ledgerPane) {
		width := min(scaled(p.ledgerWidth), max(scaled(ledgerWidth), right-left-leastMap))
		right -= p.put(p.ledger, fyne.NewPos(right-width, 0), fyne.NewSize(width, size.Height)).Width
		right -= p.put(p.ledgerDivider, fyne.NewPos(right-dividerWidth, 0), fyne.NewSize(dividerWidth, size.Height)).Width
	}
	p.appears(p.ledgerDivider, ledgerPane)
	p.middle(left, max(0, right-left), size.Height)
}

// middle lays out what stands between the tools and the ledger.
func (p *panes) middle(left, width, height float32) {
	p.w.tabs.fitTo(width)
	p.mapWidth = width
	top := p.put(p.tabs, fyne.NewPos(left, 0), fyne.NewSize(width, p.tabs.MinSize().Height)).Height
	bottom := height - p.status.MinSize().Height
	p.put(p.status, fyne.NewPos(left, bottom), fyne.NewSize(width, height-bottom))
	if p.appears(p.section, sectionPane) {
		tall := max(leastSection, min(scaled(p.sectionHeight), bottom-top-leastStage))
		bottom -= p.put(p.section, fyne.NewPos(left, bottom-tall), fyne.NewSize(width, tall)).Height
		bottom -= p.put(p.sectionDivider, fyne.NewPos(left, bottom-dividerWidth), fyne.NewSize(width, dividerWidth)).Height
	}
	p.appears(p.sectionDivider, sectionPane)
	p.put(p.stage, fyne.NewPos(left, top), fyne.NewSize(width, max(0, bottom-top)))
}

// put gives an object its place, and returns its size.
func (p *panes) put(o fyne.CanvasObject, at fyne.Position, size fyne.Size) fyne.Size {
	o.Move(at)
	o.Resize(size)
	return size
}

// appears shows an object where its pane is shown, hides it where it is not, and
// returns which.
func (p *panes) appears(o fyne.CanvasObject, f foldable) bool {
	if p.shown(f) {
		o.Show()
		return true
	}
	o.Hide()
	return false
}

// MinSize lets the window be as small as it asks for itself.
func (p *panes) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(leastWidth, leastHeight) }
