package ui

import (
	"context"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/app/work"
	"runnel/geo/plan"
)

// A sectionPanel shows a line from its side: its long section at the left and at
// the right the cross-section at one station of it. It follows what is selected.
//
// Both are drawn by a worker; what follows the pointer is drawn onto each frame.
// While a level is dragged the section keeps its scale, so that the level stays
// under the pointer.
type sectionPanel struct {
	w *Window
	// doc is the document that it belongs to.
	doc    *site.Document
	object fyne.CanvasObject
	long   *longPane
	cross  *crossPane
	// both holds the two; hint says in their place what to select.
	both     *fyne.Container
	hint     *widget.Label
	sections *work.Latest[sectioned]
	maker    sectionMaker
	// of is the line that is followed, or 0; station how far along it the
	// cross-section is [m], or atMiddle.
	of      plan.ID
	station float64
	// asked is what was asked for last, drawn what came of it.
	asked sectionRequest
	drawn sectioned
	// pointed is set while the map shows the station.
	pointed bool
	hold    hold
}

func newSectionPanel(w *Window) *sectionPanel {
	p := &sectionPanel{w: w, doc: w.doc, station: atMiddle}
	p.long, p.cross = newLongPane(p), newCrossPane(p)
	p.hint = widget.NewLabel("")
	p.hint.Alignment, p.hint.Wrapping = fyne.TextAlignCenter, fyne.TextWrapWord
	p.sections = work.NewLatest(func(s sectioned, err error) { w.post(func() { p.take(s, err) }) })
	p.sections.Patience = patience
	p.build()
	return p
}

// build makes what is seen anew, in the look that is set. What was drawn stays until
// it is drawn in that look.
func (p *sectionPanel) build() {
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameBackground))
	p.both = container.New(sideBySide{}, p.long, edged(p.cross, before))
	p.both.Hidden = p.hint.Text != ""
	p.object = container.NewStack(ground, p.both, container.NewVBox(space(10*gap), p.hint))
}

// atMiddle stands for the station in the middle of a line. Requests are compared, so
// it is no NaN.
const atMiddle = -1

// follows reports whether the panel can show a feature from its side. A sill is
// short, and stands in the section of what it crosses.
func follows(f plan.Feature) bool {
	return f.Kind != plan.NoKind && f.Kind != plan.Sill && len(f.Line()) > 1
}

// followed returns the line that the panel is about: what is selected, or the line that
// it stands in, else the scheme's first channel. What stands in none leaves the line
// before.
func (p *sectionPanel) followed() (plan.Feature, bool) {
	s, scheme := p.w.doc.Site(), p.w.board.Scheme
	chosen, selected := p.w.selected()
	if selected && follows(chosen) {
		return chosen, true
	}
	if of, stands := p.w.lineAt(chosen); selected && stands && p.w.figures.known {
		return s.Plan.Find(of)
	}
	drawn := s.Plan.In(scheme)
	if i := slices.IndexFunc(drawn, func(f plan.Feature) bool { return f.ID == p.of && follows(f) }); selected && i >= 0 {
		return drawn[i], true
	}
	if i := slices.IndexFunc(drawn, func(f plan.Feature) bool { return f.Kind == plan.Channel && follows(f) }); i >= 0 {
		return drawn[i], true
	}
	return plan.Feature{}, false
}

// taped returns the line that is being measured on the map, if one is.
func (p *sectionPanel) taped() (plan.Feature, bool) {
	if p.w.held != taping || p.w.pane.tool == nil {
		return plan.Feature{}, false
	}
	points := p.w.pane.tool.Sketch().Points
	return plan.Feature{Name: tr("Measured line"), Geometry: slices.Clone(points)}, len(points) > 1
}

// refresh brings the panel up to date with the document and the selection.
func (p *sectionPanel) refresh() {
	if p.w.doc == nil || !p.w.panes.shown(sectionPane) {
		return
	}
	f, ok := p.taped()
	if !ok {
		f, ok = p.followed()
	}
	if f.ID != p.of || !ok {
		p.of, p.station = f.ID, atMiddle
		p.drop()
	}
	if !ok {
		p.say(tr("Select a channel, a drain, a path or any other line: its ground, its water and its section are shown here."))
		p.asked, p.drawn = sectionRequest{}, sectioned{}
		p.redraw()
		return
	}
	p.say("")
	r := sectionRequest{
		site: p.w.doc.Site(), scheme: p.w.board.Scheme, look: p.w.look, units: view.Units(p.w.units),
		of: f.ID, measured: p.measured(f), station: p.station, long: p.long.pixels, cross: p.cross.pixels, note: p.note(f),
	}
	if o := p.w.outcomes.flow; o.current() && o.why == "" {
		r.flow = o.value
	}
	if p.hold.on {
		r.view = p.hold.view
	}
	p.ask(r, f)
}

// followTape shows the line that is being measured, and no more of it once it is
// not.
func (p *sectionPanel) followTape() {
	if _, ok := p.taped(); ok || p.asked.measured != "" {
		p.refresh()
	}
}

// measured tells lines apart that are no features.
func (p *sectionPanel) measured(f plan.Feature) string {
	if f.ID != 0 {
		return ""
	}
	return lineKey(f.Line())
}

// note gives the figure that the section is about, of the newest account.
func (p *sectionPanel) note(f plan.Feature) string {
	if !p.w.figures.known {
		return ""
	}
	for _, l := range p.w.figures.scheme.Channels {
		if l.ID == f.ID {
			return trf("contact %s", p.w.units.area(l.Measure.Contact))
		}
	}
	return ""
}

// ask has the sections drawn, unless they are what was asked for last.
func (p *sectionPanel) ask(r sectionRequest, f plan.Feature) {
	if r == p.asked || r.long.w == 0 || r.cross.w == 0 {
		return
	}
	p.asked = r
	doc, maker := p.w.doc, &p.maker
	var known *channel.Network
	if f := p.w.figures; f.site == r.site && f.of == r.scheme {
		known = f.scheme.Network
	}
	p.sections.Request(func(ctx context.Context) (sectioned, error) {
		made, err := maker.make(ctx, r, f, known)
		made.doc = doc
		return made, err
	})
}

// take shows sections that have been drawn.
func (p *sectionPanel) take(s sectioned, err error) {
	if err != nil || p.w.doc == nil || s.doc != p.w.doc || p.asked.of != s.request.of || p.asked.site == nil {
		return
	}
	p.drawn = s
	p.redraw()
	if p.pointed {
		p.point()
	}
	p.w.trace.say("section", "id", s.request.of, "station", s.cross.Station, "P", s.cross.WettedPerimeter, "level", levelOrNil(s.cross.Level))
	p.w.places.tellGrips()
}

// levelOrNil is what a trace, which has no NaN, says of a level.
func levelOrNil(v float64) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return v
}

func (p *sectionPanel) redraw() {
	p.long.raster.Refresh()
	p.cross.raster.Refresh()
}

// say puts words in the place of the sections; none bring them back.
func (p *sectionPanel) say(words string) {
	if p.hint.Text != words {
		p.hint.SetText(words)
	}
	if p.both.Hidden == (words == "") {
		p.both.Hidden = words != ""
		p.both.Refresh()
	}
}

// moveTo takes the cross-section to another station [m].
func (p *sectionPanel) moveTo(station float64) {
	length := p.drawn.long.Length
	p.station = max(0, min(length, station))
	p.refresh()
	p.long.raster.Refresh()
}

// here is the station of the cross-section [m].
func (p *sectionPanel) here() float64 {
	if p.station == atMiddle {
		return p.drawn.long.Length / 2
	}
	return min(p.station, p.drawn.long.Length) // which may be of another line still
}

// point shows the station on the map.
func (p *sectionPanel) point() {
	o := &p.w.pane.overlay
	p.pointed = true
	o.Station, o.Section = nil, nil
	if len(p.drawn.cross.Line) > 1 {
		at := p.drawn.cross.At
		o.Station, o.Section = &at, p.drawn.cross.Line
	}
	p.w.pane.raster.Refresh()
}

// unpoint takes the station off the map.
func (p *sectionPanel) unpoint() {
	if p.pointed {
		p.pointed = false
		p.w.pane.overlay.Station, p.w.pane.overlay.Section = nil, nil
		p.w.pane.raster.Refresh()
	}
}

// nearLine is how near to a line the pointer takes its section along [dp].
const nearLine = 16

// followMap takes the section to where the pointer is on the map, if that is by
// the line that is shown.
func (p *sectionPanel) followMap(at orb.Point, inside bool) {
	if p.long.inside || p.w.dragging() {
		return
	}
	line := p.drawn.line
	if !inside || len(line) < 2 || !p.w.panes.shown(sectionPane) {
		p.unpoint()
		return
	}
	chainage, off := channel.Chainage(line, at)
	if off > max(nearLine*p.w.pane.scale/p.w.pane.camera.Scale, p.drawn.half) {
		p.unpoint()
		return
	}
	p.moveTo(chainage)
	p.point()
}
