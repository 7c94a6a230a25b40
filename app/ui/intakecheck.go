package ui

import (
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A suiting is how a ground suits what is drawn on the site that it comes to.
type suiting struct {
	// away is how far the ground lies from the site's own [m]; 0 where they meet.
	away float64
	// off of all the things that lie wholly on the site's ground would not on the new.
	off, all int
}

// suits sets a ground beside that of the open site.
func (c *surveying) suits(g grid.Ground) (s suiting) {
	if c.purpose == beginning || c.w.doc == nil {
		return s
	}
	was := c.w.doc.Site()
	if was.Ground.Len() > 0 {
		s.away = gapOf(was.Ground.Bound(), g.Bound())
	}
	for _, f := range was.Plan.Features {
		if was.Ground.Len() > 0 && !liesOn(f, was.Ground) {
			continue
		}
		s.all++
		if !liesOn(f, g) {
			s.off++
		}
	}
	return s
}

// liesOn reports whether all the points of a thing are on ground that is known.
func liesOn(f plan.Feature, g grid.Ground) bool {
	for _, line := range f.Points() {
		if slices.ContainsFunc(line, func(p orb.Point) bool { return math.IsNaN(grid.Sample(g, p)) }) {
			return false
		}
	}
	return true
}

// gapOf is how far two rectangles lie apart [m].
func gapOf(a, b orb.Bound) float64 {
	return math.Hypot(max(0, a.Min[0]-b.Max[0], b.Min[0]-a.Max[0]), max(0, a.Min[1]-b.Max[1], b.Min[1]-a.Max[1]))
}

// suitWords say where the ground that was made does not suit the site; empty where it
// does.
func (c *surveying) suitWords() string {
	if c.made == nil {
		return ""
	}
	var said []string
	s := c.suits(c.made.Ground)
	if s.away > 0 {
		said = append(said, trf("This ground lies about %s from that of the site.", c.w.units.far(s.away)))
	}
	switch {
	case s.off == 0:
	case s.off == s.all:
		said = append(said, tr("All that is drawn on the site would lie off it, wholly or in part."))
	default:
		said = append(said, trf("Of %[1]d things that are drawn on the site %[2]d would lie off it, wholly or in part.", s.all, s.off))
	}
	return strings.Join(said, " ")
}

// askIn brings the ground in, but asks first where it does not suit the site.
func (c *surveying) askIn() {
	words := c.suitWords()
	if words == "" {
		c.bringIn()
		return
	}
	c.w.ask(prompt{
		title: tr("Bring this ground in?"), size: fyne.NewSize(480, 170),
		content: container.NewPadded(wrappedLabel(words + " " + tr("What lies off the ground is not reckoned with. Undo brings the old ground back."))),
		choices: []choice{{word: tr("Go on here")}, {word: tr("Bring it in"), do: c.bringIn}},
	})
}

// far writes a length that may be many kilometres [m].
func (u units) far(v float64) string {
	each, sign := 1000.0, "km"
	if u == usFeet {
		each, sign = 1609.344, "mi"
	}
	switch v /= each; {
	case v < 1:
		return u.length(v * each)
	case v < 10:
		return with(decimal(v, 1), sign)
	case v < 100:
		return with(decimal(v, 0), sign)
	}
	return with(decimal(math.Round(v/10)*10, 0), sign)
}

// fewestCells is how many cells must lie across a channel for its water to show.
const fewestCells = 4

// coarse returns the width of the narrowest channel on what was measured, where the cells that are asked for
// are too coarse for it and the site's own are finer; 0 otherwise.
func (c *surveying) coarse() (narrowest float64) {
	cell := c.ask.cell
	if cell == 0 {
		cell = c.ask.usual
	}
	if c.purpose == beginning || c.w.doc == nil || cell <= c.w.doc.Site().Ground.DX {
		return 0
	}
	narrowest = math.Inf(1)
	measured := c.survey.Bound()
	for _, f := range c.w.doc.Site().Plan.Features {
		if w := f.Width(); f.Kind == plan.Channel && w > 0 && measured.Intersects(f.Geometry.Bound()) {
			narrowest = min(narrowest, w)
		}
	}
	if fewestCells*cell <= narrowest {
		return 0
	}
	return narrowest
}

// coarseRows warn of cells that are too coarse for a channel and offer the old ones.
func (c *surveying) coarseRows(p *formPart) []fyne.CanvasObject {
	narrowest := c.coarse()
	if narrowest == 0 {
		return nil
	}
	old := c.w.doc.Site().Ground.DX
	if old == 0 {
		return nil
	}
	return []fyne.CanvasObject{
		danger(trf("The narrowest channel is %[1]s wide, less than %[2]d of these cells: its water may not show.", c.w.units.length(narrowest), fewestCells)),
		c.button(p, trf("Take cells of %s, as the site has now", c.w.units.length(old)), func() {
			c.ask.typedCell = c.ask.written(old)
			_ = c.askAgain() // the site's own cell is one that can be taken
		}),
	}
}
