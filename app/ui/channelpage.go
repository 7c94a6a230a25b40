package ui

import (
	"sync/atomic"

	"fyne.io/fyne/v2"

	"runnel/geo/plan"
)

// A channelPage lays the scheme's channels out as figures.
type channelPage struct {
	figurePage
	stages   *afterwards[staged]
	profiles *afterwards[[]profiled]
	pegs     *afterwards[pegged]
	pegging  pegging
	// levelsIn are the units that the table's levels are round in; another goroutine
	// reads it.
	levelsIn atomic.Uint32
}

func newChannelPage(w *Window) *channelPage {
	p := &channelPage{}
	p.figurePage = newFigurePage(w, pageKind{
		title: func() string { return tr("The channel in figures") }, parts: p.newParts,
		bare: p.bare, nothing: p.nothing, ready: p.followUnits, forget: p.forget,
	})
	p.stages, p.profiles, p.pegs = newAfterwards(w, p.findStages), newAfterwards(w, findProfiles), newAfterwards(w, p.findPegs)
	wanted := func() bool { return p.on && w.figures.of != plan.AsItIs }
	p.stages.wanted, p.profiles.wanted, p.pegs.wanted = wanted, wanted, wanted
	p.stages.took, p.profiles.took, p.pegs.took = p.refresh, p.refresh, p.refresh
	w.outcomes.dig.then(p.refresh)
	w.outcomes.flow.then(p.refresh)
	w.outcomes.worth.then(p.refresh)
	return p
}

func (p *channelPage) newParts() []pagePart {
	return []pagePart{&levelPart{channelPage: p}, &stationPart{channelPage: p}, &worthPart{channelPage: p}, &pegPart{channelPage: p}}
}

// channelFigures lays out the figures of the channels, or goes back to the map.
func (w *Window) channelFigures() { w.channels.turnOver() }

// forget drops what was worked out for the page.
func (p *channelPage) forget() {
	p.stages.forget()
	p.profiles.forget()
	p.pegs.forget()
}

// followUnits drops levels that are round in other units.
func (p *channelPage) followUnits() {
	if was := p.levelsIn.Swap(uint32(p.w.units)); was != uint32(p.w.units) {
		p.stages.forget()
	}
}

// bare reports whether the scheme has no channel to tell of.
func (p *channelPage) bare() bool { return p.w.alone() || len(p.channels()) == 0 }

// channels are those that the scheme has drawn.
func (p *channelPage) channels() []lineChoice {
	var list []lineChoice
	for _, f := range p.w.doc.Site().Plan.In(p.w.board.Scheme) {
		if f.Kind == plan.Channel {
			list = append(list, lineChoice{f.ID, titleOf(f)})
		}
	}
	return list
}

// nothing says what to do in a scheme that has no channel.
func (p *channelPage) nothing() fyne.CanvasObject {
	if p.w.alone() {
		return centred(tr("Nothing is designed in the site as it is."),
			tr("Press the tab of a scheme over the map, or add one, and its channels stand here in figures."), nil)
	}
	draw := newButton(tr("Draw a channel"), p.drawChannel)
	draw.keys = p.key
	return centred(trf("%s has no channel yet.", p.w.schemeName()),
		tr("Draw one from where the water comes in to where it goes; its levels, its stations, what it buys and its pegs then stand here."), draw)
}

// drawChannel goes back to the map with the channel's tool in the hand.
func (p *channelPage) drawChannel() {
	p.leave()
	p.w.fetch(drawer(plan.Channel))
}
