package ui

import (
	"fmt"
	"image"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/app/groundwork"
	"runnel/app/view"
	"runnel/geo/survey"
)

// showAsk asks for the cell and the part of the ground.
func (c *surveying) showAsk() {
	if !c.survey.Measured() {
		c.face.ground.show(c, "none", func() []fyne.CanvasObject { return nil })
		return
	}
	p, b := c.face.ground, c.survey.Bound()
	kerbs, edges := c.uses()
	c.ask.turnTo(c.w.units)
	p.show(c, fmt.Sprint(c.ask, b, c.faults.asked, kerbs, edges, c.drawKerbs, c.drawEdge), func() []fyne.CanvasObject {
		usual := tr("chosen from the data")
		if c.ask.usual > 0 {
			usual = c.ask.written(c.ask.usual)
		}
		unit, metres := c.ask.in.lengthUnit()
		cell := c.typed(p, c.ask.typedCell, usual, func(typed string) error { c.ask.typedCell = typed; return c.askAgain() })
		part := make([]fyne.CanvasObject, len(c.ask.typedPart))
		for i, v := range []float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]} {
			part[i] = c.typed(p, c.ask.typedPart[i], strconv.FormatFloat(v/metres, 'f', 0, 64), func(typed string) error { c.ask.typedPart[i] = typed; return c.askAgain() })
		}
		rows := parted(text(tr("The ground"), strong), newQuestion(tr("Cell size"), cell, unit).row,
			newQuestion(tr("Part to take: west, south"), container.NewGridWithColumns(2, part[:2]...), unit).row,
			newQuestion(tr("east, north"), container.NewGridWithColumns(2, part[2:]...), unit).row)
		if c.ask.fault != nil {
			rows = append(rows, danger(sentence(c.w.units.told(c.ask.fault.Error()))))
		}
		rows = append(rows, c.coarseRows(p)...)
		if kerbs {
			rows = append(rows, c.turned(p, tr("Draw the kerbs on the plan as well"), c.drawKerbs, func(on bool) { c.drawKerbs = on }))
		}
		if edges {
			rows = append(rows, c.turned(p, tr("Draw the edge as the boundary of the plot"), c.drawEdge, func(on bool) { c.drawEdge = on }))
		}
		return rows
	})
}

// uses reports whether there are kerbs and edges among the lines.
func (c *surveying) uses() (kerbs, edges bool) {
	for _, l := range c.survey.Lines {
		kerbs, edges = kerbs || l.Use == survey.Kerb, edges || l.Use == survey.Edge
	}
	return kerbs, edges
}

// showQuality shows how good the ground is that was made.
func (c *surveying) showQuality() {
	p := c.face.quality
	p.show(c, fmt.Sprintf("%p", c.made)+fmt.Sprint(c.w.units), func() []fyne.CanvasObject {
		if c.made == nil {
			return nil
		}
		rows := parted(text(tr("The ground that was made"), strong))
		for _, f := range c.qualityFacts() {
			rows = append(rows, c.figureRow(f))
		}
		for _, words := range c.qualityWords() {
			rows = append(rows, paragraph(words))
		}
		if words := c.suitWords(); words != "" {
			rows = append(rows, danger(words))
		}
		return rows
	})
}

// A madeFigure is a figure of the ground that was made, with the key of its method;
// empty for what needs none.
type madeFigure struct{ label, key, value string }

// qualityFacts are the figures of the ground.
func (c *surveying) qualityFacts() []madeFigure {
	u, m, q := c.w.units, c.made, c.made.Survey.Quality
	facts := []madeFigure{
		{tr("Cells"), "", trf("%[1]s × %[2]s of %[3]s", decimal(float64(m.Ground.W), 0), decimal(float64(m.Ground.H), 0), u.length(m.Ground.DX))},
		{tr("Typical miss"), "", u.length(m.off.median)}, {tr("Largest miss"), "", u.length(m.off.worst)},
		{tr("Tension of the surface"), "survey-surface", decimal(q.Tension, 2)},
	}
	if m.Sunk > 0 {
		facts = append(facts, madeFigure{tr("Hollows let out"), "survey-hollows", decimal(float64(m.Sunk), 0)})
	}
	if m.Stayed > 0 {
		facts = append(facts, madeFigure{tr("Hollows not let out"), "survey-hollows", decimal(float64(m.Stayed), 0)})
	}
	if q.HeldOut > 0 {
		facts = append(facts, madeFigure{tr("Measurements held out"), "survey-held-out", decimal(float64(q.HeldOut), 0)},
			madeFigure{tr("Root mean square there"), "survey-held-out", u.length(q.RMSE)}, madeFigure{tr("Bias there"), "survey-held-out", u.length(q.Bias)},
			madeFigure{tr("Worst there"), "survey-held-out", u.length(q.Worst)})
	}
	if q.Error > 0 {
		facts = append(facts, madeFigure{tr("Error reckoned with"), "survey-error", trf("%[1]s over %[2]s", u.length(q.Error), u.length(q.Reach))})
	}
	return facts
}

// figureRow is a figure with its '?', where it has one.
func (c *surveying) figureRow(f madeFigure) fyne.CanvasObject {
	label := fyne.CanvasObject(text(f.label, body))
	if f.key != "" {
		mark := c.w.mark(f.key)
		mark.keys = c.key
		label = container.NewHBox(label, container.NewCenter(mark))
	}
	return container.New(columns{13, 10}, label, rightText(f.value, body))
}

// qualityWords say what the figures mean, and what was done on the way.
func (c *surveying) qualityWords() []string {
	m := c.made
	words := []string{tr("A miss is how far the ground passes a measurement by, at the points of lines and at spots.")}
	if m.Survey.Quality.HeldOut > 0 {
		words = append(words, tr("Measurements were kept back in turn and compared with a ground made of the others. Where contours lie far apart the ground may be off by more."))
	}
	if groundwork.Unchecked(m.Survey) {
		words = append(words, tr("Nothing could be held out, so how far the ground is off is not known."))
	}
	if m.Left > 0 {
		words = append(words, either(m.Left, tr("1 measurement was left out, as you agreed."), trf("%d measurements were left out, as you agreed.", m.Left)))
	}
	if m.Stayed > 0 {
		words = append(words, tr("Water will be shown to stand in the hollows that were not let out, where the ground may have none."))
	}
	return words
}

// tellBar brings the bar of what is under way up to date.
func (c *surveying) tellBar() {
	for _, o := range c.face.foot.box.Objects {
		if bar, ok := o.(*widget.ProgressBar); ok {
			bar.SetValue(c.share)
		}
	}
}

// shareBar shows how much is done of what is under way.
func (c *surveying) shareBar() fyne.CanvasObject {
	if c.doing == tr("Reading…") {
		bar := widget.NewProgressBarInfinite()
		return bar
	}
	bar := widget.NewProgressBar()
	bar.SetValue(c.share)
	return bar
}

// drawing is what the map shows now.
func (c *surveying) drawing() *view.Surveyed {
	shown := *c.seen
	s := &shown
	s.Marks, s.Chosen = c.faults.marks(), c.faults.chosen
	if c.made != nil {
		s.Ground, s.Bare = c.made.scene, c.made.bare
		if c.made.bare {
			s.Marks = nil
		}
	}
	if c.hand.line >= 0 {
		s.Lit = c.survey.Continued(c.hand.line)
	}
	s.Stroke = c.hand.stroke.at
	for _, l := range c.hand.stroke.levels {
		s.Lit = append(s.Lit, l.Line)
	}
	s.Tags = c.countTags()
	if c.purpose != beginning && c.w.doc != nil {
		s.Plan = c.w.doc.Site().Plan.In(c.w.board.Scheme)
	}
	return s
}

// showScale says what the colours of the lines stand for.
func (c *surveying) showScale() {
	f, s := c.face, c.seen
	shown(f.bar, s.High >= s.Low)
	say(f.low, c.w.units.height(s.Low))
	say(f.high, c.w.units.height(s.High))
	missing := c.missing()
	say(f.missing, trf("%d without a height", missing))
	shown(f.missing, missing > 0)
	shown(f.dash, missing > 0)
}

func (c *surveying) scaleImage() image.Image { return view.SurveyScale(220, 16, c.w.look.palette) }

func (c *surveying) missingImage() image.Image { return view.LooseSample(56, 16, c.w.look.palette) }

// pointAt says what is under the pointer: where it is, and the height of a line there.
func (c *surveying) pointAt(at orb.Point, line int) {
	unit, metres := c.w.units.lengthUnit()
	words := trf("E %[1]s  N %[2]s %[3]s", decimal(at[0]/metres, 1), decimal(at[1]/metres, 1), unit)
	if line >= 0 && line < len(c.survey.Lines) {
		l := c.survey.Lines[line]
		use := told(l.Use.String())
		switch {
		case !l.Known():
			words = trf("%[1]s  ·  line %[2]d, %[3]s, no height", words, l.Number, use)
		case l.Use != survey.Contour || len(l.Z) > 1:
			words = trf("%[1]s  ·  line %[2]d, %[3]s", words, l.Number, use)
		default:
			words = trf("%[1]s  ·  line %[2]d, %[3]s at %[4]s", words, l.Number, use, c.w.units.height(l.Level()))
		}
	}
	say(c.face.below, words)
}
