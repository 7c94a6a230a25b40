package ui

import (
	"bytes"
	"context"
	"encoding/csv"
	"io"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"runnel/geo/plan"
)

// A pageHead holds the page's title, its parts to choose from, what its figures are
// told of, and what can be done with them.
type pageHead struct {
	p      *figurePage
	object fyne.CanvasObject
	title  *canvas.Text
	state  *canvas.Text
	tabs   []*pageButton
	back   *pageButton
	// copy and save are there where there are figures; stop while they are worked out,
	// again once that was given up.
	copy, save, stop, again *pageButton
	pick                    *picker
	picked                  *fyne.Container
	lines                   []lineChoice
	// since is when what is shown began to be overtaken; the zero Time where it is not.
	since time.Time
}

func (p *figurePage) newHead() *pageHead {
	h := &pageHead{p: p, title: text(p.is.title(), heading), state: text("", caption)}
	h.back = newPageButton(tr("Back to the map"), p.leave, p.key)
	h.copy = newPageButton(tr("Copy as CSV"), p.copyTable, p.key)
	h.save = newPageButton(tr("Save as…"), func() { p.saveMenu(h.save) }, p.key)
	h.stop = newPageButton(tr("Stop"), func() { p.stopWork() }, p.key)
	h.again = newPageButton(tr("Work it out"), func() { p.workAgain() }, p.key)
	h.pick = p.w.newPicker(nil)
	h.pick.keys = p.key
	h.picked = container.New(widthOf(150), h.pick)
	parts := container.NewHBox()
	for i, part := range p.parts {
		b := newPageButton(part.word(), func() { p.turnTo(i); p.w.win.Canvas().Focus(p.head.tabs[i]) }, p.key)
		b.mark(i == p.part)
		h.tabs = append(h.tabs, b)
		parts.Add(b)
	}
	fold := folding{width: &p.width}
	buttons := container.NewHBox(h.copy, h.save, h.back)
	rest := container.NewHBox(container.NewCenter(h.state), h.stop, h.again, container.NewCenter(h.picked))
	h.object = edged(container.New(layout.NewCustomPaddedLayout(gap, gap, 3*gap, gap),
		container.New(layout.NewCustomPaddedVBoxLayout(gap), container.New(fold, h.title, buttons), container.New(fold, parts, rest))), below)
	return h
}

// update shows what can be done now.
func (h *pageHead) update() {
	p := h.p
	known := !p.is.bare() && slices.ContainsFunc(p.now().sheets(), func(s figureSheet) bool { return s.rows > 0 })
	shown(h.copy, known)
	shown(h.save, known)
	h.showLines()
	h.showWork()
}

// showLines offers what the figures can be told of alone, where there are several.
func (h *pageHead) showLines() {
	var lines []lineChoice
	if !h.p.is.bare() {
		lines = h.p.now().lines()
	}
	shown(h.picked, len(lines) > 1)
	if slices.Equal(lines, h.lines) {
		return
	}
	h.lines = lines
	words, at := []string{h.p.now().all()}, 0
	for i, l := range lines {
		words = append(words, shortened(l.name, mostOfName))
		if l.id == h.p.line {
			at = i + 1
		}
	}
	if at == 0 {
		h.p.line = 0
	}
	h.pick.OnChanged = nil
	h.pick.SetOptions(words)
	h.pick.SetSelectedIndex(at)
	h.pick.OnChanged = func(string) {
		h.p.line = 0
		if i := h.pick.SelectedIndex(); i > 0 {
			h.p.line = h.lines[i-1].id
		}
		h.p.refresh()
	}
}

// showWork says that newer figures are worked out, once that takes a while, and lets it
// be given up.
func (h *pageHead) showWork() {
	working, given := h.p.working()
	if !working {
		h.since = time.Time{}
	} else if h.since.IsZero() {
		h.since = time.Now()
		time.AfterFunc(patience, func() { h.p.w.post(h.showWork) })
	}
	long := working && time.Since(h.since) >= patience
	said := ""
	switch {
	case given:
		said = tr("Stopped; what is shown is of the drawing before.")
	case long:
		said = tr("Working…")
	}
	say(h.state, said)
	shown(h.stop, long)
	shown(h.again, given)
	h.relay()
}

// relay makes room for what is shown now.
func (h *pageHead) relay() {
	if h.p.frame == nil || h.p.head != h {
		return
	}
	h.object.Refresh()
	if h.object.MinSize().Height != h.object.Size().Height {
		h.p.frame.Layout.Layout(h.p.frame.Objects, h.p.frame.Size())
	}
}

// copyTable puts the part's tables on the clipboard, in the units that are shown.
func (p *figurePage) copyTable() {
	var b bytes.Buffer
	if err := csv.NewWriter(&b).WriteAll(joinedRecords(p.now().sheets())); err != nil {
		p.w.complain(err)
		return
	}
	p.w.app.Clipboard().SetContent(b.String())
	p.w.tellBelow(trf("%s copied as CSV; paste it into a spreadsheet.", p.now().word()))
}

// saveMenu asks as what the part's tables are saved, where there is a choice.
func (p *figurePage) saveMenu(under fyne.CanvasObject) {
	if of, ok := p.now().(interface{ saveItems() []*fyne.MenuItem }); ok {
		p.w.menuAt(under, of.saveItems())
		return
	}
	p.saveTable()
}

// saveTable saves the part's tables as CSV, in the units that are shown.
func (p *figurePage) saveTable() {
	rows := joinedRecords(p.now().sheets())
	name := p.w.schemeFile(fileName(p.now().word()) + ".csv")
	p.w.export(destination{title: tr("Save the table"), name: name, end: ".csv"},
		func(_ context.Context, path string, _ *plan.Site, _ plan.SchemeID) error {
			return replaceFile(path, func(to io.Writer) error { return csv.NewWriter(to).WriteAll(rows) })
		})
}

// centred puts a title, a paragraph and perhaps a button in the middle of the page.
func centred(title, words string, do *button) fyne.CanvasObject {
	const wide = 380
	box := container.NewVBox(text(title, heading), container.New(widthOf(wide), paragraph(words)), space(gap))
	if do != nil {
		box.Add(container.NewHBox(do))
	}
	return container.NewCenter(box)
}
