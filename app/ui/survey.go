package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/app/site"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A surveyPart says what the site consists of.
type surveyPart struct {
	w      *Window
	box    *fyne.Container
	name   *answer
	asked  *question
	facts  *fyne.Container
	system *widget.RichText
	said   string
}

func newSurveyPart(w *Window) *surveyPart {
	p := &surveyPart{w: w, facts: container.NewVBox(), system: quiet("")}
	p.name = newAnswer("", func(typed string) error { return p.asked.complain(w.doc.Do(&site.Rename{Name: typed})) })
	p.name.turn = w.turn
	p.asked = newQuestion(tr("Name"), p.name, "")
	p.box = container.NewVBox(text(tr("The site"), heading), p.asked.row, p.facts, flush(p.system))
	return p
}

func (p *surveyPart) content() fyne.CanvasObject { return p.box }

func (p *surveyPart) update() {
	s := p.w.doc.Site()
	if p.name.put(s.Name) {
		p.asked.complain(nil)
	}
	setQuiet(p.system, trf("Coordinates: %s", s.CRS))
	facts := p.w.inventory(s)
	if said := fmt.Sprint(facts); said != p.said {
		p.said = said
		p.facts.RemoveAll()
		for _, fact := range facts {
			p.facts.Add(fact.row())
		}
		p.facts.Refresh()
	}
}

// A fact of the survey has how many there are and how large they are together, or one
// of both.
type fact struct{ label, count, size string }

// row keeps how many and how large apart, so that they are not read as one figure.
func (f fact) row() fyne.CanvasObject {
	if f.count == "" {
		return container.New(columns{10, 13}, text(f.label, body), rightText(f.size, body))
	}
	return container.New(columns{10, 3, 10}, text(f.label, body), rightText(f.count, body), rightText(f.size, body))
}

// inventory lists the ground and what is drawn on it, kind by kind.
func (w *Window) inventory(s *plan.Site) []fact {
	u, b := w.units, s.Ground.Bound()
	low, high, _ := grid.Extent(s.Ground)
	lines := []fact{
		{tr("Ground"), "", u.length(b.Max[0]-b.Min[0]) + " × " + u.length(b.Max[1]-b.Min[1])},
		{tr("Cells"), "", u.length(s.Ground.DX)},
		{tr("Lowest and highest"), "", trf("%[1]s to %[2]s", u.height(low), u.height(high))},
	}
	for _, spec := range plan.Specs() {
		features := s.Plan.Of(spec.Kind, w.board.Scheme)
		if len(features) == 0 {
			continue
		}
		size := ""
		switch spec.Shape {
		case plan.LineShape:
			size = u.length(total(features, planar.Length))
		case plan.AreaShape:
			size = u.area(total(features, planar.Area))
		}
		lines = append(lines, fact{told(spec.Label), fmt.Sprint(len(features)), size})
	}
	return lines
}

func total(features []plan.Feature, size func(orb.Geometry) float64) (sum float64) {
	for _, f := range features {
		sum += size(f.Geometry)
	}
	return sum
}
