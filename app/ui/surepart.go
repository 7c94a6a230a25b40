package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/app/view"
)

// A surePart works out how sure the water paths are, and explains the colours.
type surePart struct {
	w      *Window
	box    *fyne.Container
	ask    *button
	bar    *widget.ProgressBar
	stop   *button
	key    *fyne.Container
	fields []*settingField
}

func newSurePart(w *Window) *surePart {
	p := &surePart{w: w, bar: widget.NewProgressBar(), key: container.NewVBox()}
	p.ask = newButton(tr("Work it out"), w.askHowSure)
	p.stop = newButton(tr("Cancel"), func() { w.dropHowSure(); w.ledger.refresh() })
	p.fields = []*settingField{
		newSettingField(w, site.SurveyError()),
		newSettingField(w, site.SurveyReach()),
	}
	p.key.Add(text(tr("How often water runs there"), caption))
	for i, words := range view.Grades() {
		swatch := canvas.NewRectangle(w.look.palette.Sure[i])
		p.key.Add(container.New(columns{2, 18}, container.New(heightOf(3*gap), swatch), flush(wrapped(told(words)))))
	}
	p.box = container.NewVBox(w.labelled(tr("How sure the paths are"), heading, "sureness"),
		paragraph(trf("A survey is a little off everywhere: two places in three by less than its error, and much alike within the reach of the error. This tries %d grounds that it might as well have found, and colours how often water runs where.", draws)))
	for _, f := range p.fields {
		p.box.Add(f.row)
	}
	p.box.Add(p.ask)
	p.box.Add(p.bar)
	p.box.Add(p.stop)
	p.box.Add(p.key)
	return p
}

func (p *surePart) content() fyne.CanvasObject { return p.box }

func (p *surePart) update() {
	sure := p.w.waters.sure
	busy := sure.cancel != nil
	shown(p.bar, busy)
	shown(p.stop, busy)
	shown(p.ask, !busy && sure.paths == nil)
	shown(p.key, sure.paths != nil)
	if busy {
		p.bar.SetValue(sure.share)
	}
	for _, f := range p.fields {
		f.update()
	}
}
