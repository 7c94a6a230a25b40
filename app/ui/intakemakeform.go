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

// A groundAsk is how the ground is asked for.
type groundAsk struct {
	typedCell string
	typedPart [4]string
	// cell and bound are what was typed, and usual the cell where none is.
	cell, usual float64
	bound       orb.Bound
	fault       error
}

// showAsk asks for the cell and the part of the ground.
func (c *surveying) showAsk() {
	if !c.survey.Measured() {
		c.face.ground.show(c, "none", func() []fyne.CanvasObject { return nil })
		return
	}
	p, b := c.face.ground, c.survey.Bound()
	kerbs, edges := c.uses()
	p.show(c, fmt.Sprint(c.ask, b, c.faults.asked, kerbs, edges, c.drawKerbs, c.drawEdge), func() []fyne.CanvasObject {
		c.ask.usual = 0
		if f, err := groundwork.Frame(c.survey, 0, orb.Bound{}); err == nil {
			c.ask.usual = f.DX
		}
		usual := tr("chosen from the data")
		if c.ask.usual > 0 {
			usual = typedNumber(c.ask.usual)
		}
		cell := c.typed(p, c.ask.typedCell, usual, func(typed string) error { c.ask.typedCell = typed; return c.askAgain() })
		part := make([]fyne.CanvasObject, len(c.ask.typedPart))
		for i, v := range []float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]} {
			part[i] = c.typed(p, c.ask.typedPart[i], strconv.FormatFloat(v, 'f', 0, 64), func(typed string) error { c.ask.typedPart[i] = typed; return c.askAgain() })
		}
		rows := parted(text(tr("The ground"), strong), newQuestion(tr("Cell size"), cell, "m").row,
			newQuestion(tr("Part to take: west, south"), container.NewGridWithColumns(2, part[:2]...), "m").row,
			newQuestion(tr("east, north"), container.NewGridWithColumns(2, part[2:]...), "m").row)
		if c.ask.fault != nil {
			rows = append(rows, danger(sentence(c.w.units.told(c.ask.fault.Error()))))
		}
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

// askAgain reads what is typed of the ground.
func (c *surveying) askAgain() error {
	a := &c.ask
	if a.cell, a.fault = cellSize(a.typedCell); a.fault == nil {
		a.bound, a.fault = partOf(c.survey.Bound(), a.typedPart)
	}
	c.made = nil
	c.refresh()
	return a.fault
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
			rows = append(rows, f.row())
		}
		for _, words := range c.qualityWords() {
			rows = append(rows, paragraph(words))
		}
		return rows
	})
}

// qualityFacts are the figures of the ground.
func (c *surveying) qualityFacts() []fact {
	u, g, q := c.w.units, c.made.Ground, c.made.Survey.Quality
	facts := []fact{
		{tr("Cells"), "", trf("%[1]s × %[2]s of %[3]s", decimal(float64(g.W), 0), decimal(float64(g.H), 0), u.length(g.DX))},
		{tr("Typical miss"), "", u.length(c.made.off.median)}, {tr("Largest miss"), "", u.length(c.made.off.worst)},
	}
	if q.HeldOut > 0 {
		facts = append(facts, fact{tr("Kept back and compared"), "", decimal(float64(q.HeldOut), 0)},
			fact{tr("RMSE there"), "", u.length(q.RMSE)}, fact{tr("Bias"), "", u.length(q.Bias)}, fact{tr("Worst"), "", u.length(q.Worst)})
	}
	if q.Error > 0 {
		facts = append(facts, fact{tr("Error reckoned with"), "", trf("%[1]s over %[2]s", u.length(q.Error), u.length(q.Reach))})
	}
	return facts
}

// qualityWords say what the figures mean, and what was done on the way.
func (c *surveying) qualityWords() []string {
	m := c.made
	words := []string{tr("A miss is how far the ground passes a measurement by, at the points of lines and at spots.")}
	if m.Survey.Quality.HeldOut > 0 {
		words = append(words, tr("Measurements were kept back in turn and compared with a ground made of the others. Where contours lie far apart the ground may be off by more."))
	}
	if m.Left > 0 {
		words = append(words, trf("%d measurements were left out, as you agreed.", m.Left))
	}
	if m.Sunk > 0 {
		words = append(words, trf("%d hollows that no measurement calls for were let out.", m.Sunk))
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
	s.Stroke = c.hand.stroke
	for _, l := range c.hand.levels {
		s.Lit = append(s.Lit, l.Line)
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
	words := trf("E %[1]s  N %[2]s", decimal(at[0], 1), decimal(at[1], 1))
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
