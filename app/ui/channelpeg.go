package ui

import (
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/earthwork"
	"runnel/app/report"
	"runnel/geo/plan"
)

// A pegPart tells where pegs are set, how far apart, and what stands on each.
type pegPart struct {
	*channelPage
	table  *figureTable
	fields []*pegField
	fault  *widget.Label
	show   *pageButton
	note   *widget.RichText
	// top holds the fields, foot the table over the note.
	top, foot *fyne.Container
}

// A pegField is a length that the pegs are set by.
type pegField struct {
	row    fyne.CanvasObject
	answer *answer
	of     func(*earthwork.SetOutOptions) *float64
}

func (p *pegPart) word() string { return tr("Pegs") }

func (p *pegPart) works() []worked { return []worked{p.pegs} }

func (p *pegPart) focus() *figureTable { return p.table }

func (p *pegPart) lines() []lineChoice {
	if !p.pegs.last() {
		return nil
	}
	return linesOf(p.channelPage, p.pegs.value.Pegs, func(g earthwork.Peg) (plan.ID, string) { return g.ID, g.Title })
}

func (p *pegPart) content() fyne.CanvasObject {
	p.table, p.note = newFigureTable(p.key), quiet("")
	p.show = newPageButton(tr("Show on the map"), p.leave, p.key)
	p.show.Hide()
	p.table.onChoose = func(row int) {
		p.pin = p.table.sheet.place(row)
		p.show.Show()
		p.top.Refresh()
	}
	p.table.onPress = p.leave
	every := p.newField(tr("A peg every"), earthwork.UsualPegSpacing, func(o *earthwork.SetOutOptions) *float64 { return &o.Spacing })
	stake := p.newField(tr("Stakes outside the bank tops by"), earthwork.UsualPegOffset, func(o *earthwork.SetOutOptions) *float64 { return &o.Offset })
	p.fields = []*pegField{every, stake}
	p.fault = wrappedLabel("")
	p.fault.Importance = widget.DangerImportance
	p.fault.Hide()
	fields := container.New(folding{&p.width, 6 * gap}, every.row, stake.row)
	p.top = container.New(folding{width: &p.width}, fields, p.show)
	p.foot = container.New(footed(0.3), p.table, container.NewVScroll(flush(p.note)))
	return container.New(down{}, container.NewVBox(p.top, flush(p.fault), space(gap)), p.foot, space(0))
}

// newField makes the field of a length in the units that are shown.
func (p *pegPart) newField(label string, usual float64, of func(*earthwork.SetOutOptions) *float64) *pegField {
	f := &pegField{of: of}
	one := p.w.units.yard(1)
	f.answer = newAnswer("", func(typed string) error { return p.complain(p.take(f, typed)) })
	f.answer.SetPlaceHolder(typedNumber(inField(usual, one.each)))
	const wide = 64
	f.row = container.New(layout.NewCustomPaddedHBoxLayout(2*gap), container.NewCenter(text(label, body)),
		container.New(widthOf(wide), f.answer), container.NewCenter(text(one.unit, caption)))
	return f
}

// complain says beneath the fields what is wrong with one, which it gives back.
func (p *pegPart) complain(err error) error {
	shown(p.fault, err != nil)
	if err != nil {
		p.fault.SetText(sentence(p.w.units.told(err.Error())))
	}
	return err
}

// take sets the pegs by what was typed; an empty field is the usual length.
func (p *pegPart) take(f *pegField, typed string) error {
	one, o, length := p.w.units.yard(1), p.pegging.options(), 0.0
	if typed != "" {
		v, _, err := plan.Field{Label: tr("The length"), Unit: one.unit, Low: 0.01, High: 10_000}.Parse(typed)
		if err != nil {
			return err
		}
		length = v.Number * one.each
	}
	*f.of(&o) = length
	p.setPegging(o)
	return nil
}

func (p *pegPart) update() {
	p.table.show(p.sheets()[0])
	one := p.w.units.yard(1)
	options := p.pegging.options()
	for _, f := range p.fields {
		held := ""
		if v := *f.of(&options); v != 0 {
			held = typedNumber(inField(v, one.each))
		}
		f.answer.put(held)
	}
	shown(p.show, p.pin.id != 0)
	setQuiet(p.note, runOn(p.said()))
	p.foot.Refresh() // the note may have grown
}

// said is how the table is read, or why there is none.
func (p *pegPart) said() []string {
	if p.pegs.why != "" {
		return []string{trf("There are no pegs: %s", sentence(p.w.units.told(p.pegs.why)))}
	}
	said := []string{
		tr("Left and right are as seen down the line; round an island left is its crest. The stake to the bed is how far the bed lies below the ground at the stake. A dash: not known, or no bank, as where another channel opens."),
		tr("Eastings and northings are metres of the site's reference system, whatever units are shown."),
	}
	for _, f := range p.pegs.value.Problems {
		said = append(said, sentence(p.w.units.told(f.Err.Error())))
	}
	return append(said, told(report.Beware))
}

// rows are the pegs of what is told of.
func (p *pegPart) rows() []earthwork.Peg {
	if !p.pegs.last() || p.pegs.why != "" {
		return nil
	}
	all := p.pegs.value.Pegs
	if p.line == 0 {
		return all
	}
	return slices.DeleteFunc(slices.Clone(all), func(g earthwork.Peg) bool { return g.ID != p.line })
}

func (p *pegPart) sheets() []figureSheet {
	rows, u := p.rows(), p.w.units
	one, metres := u.yard(1), metric.yard(1)
	level := func(head string, of func(earthwork.Peg) float64) figureColumn {
		return one.column(head, 2, func(row int) float64 { return of(rows[row]) })
	}
	s := figureSheet{
		rows: len(rows), stale: !p.pegs.current(),
		place: func(row int) sheetPlace {
			return sheetPlace{rows[row].At, rows[row].ID, trf("Peg %d", rows[row].Number)}
		},
		columns: []figureColumn{
			countColumn(tr("Peg"), func(row int) int { return rows[row].Number }),
			wordColumn(tr("Line"), func(row int) string { return p.nameOfLine(rows[row].ID, rows[row].Title) }),
			level(tr("Chainage"), func(g earthwork.Peg) float64 { return g.Chainage }),
			wordColumn(tr("Marks"), func(row int) string { return p.marks(rows[row]) }),
			level(tr("Ground"), func(g earthwork.Peg) float64 { return g.Ground }),
			level(tr("Bed"), func(g earthwork.Peg) float64 { return g.Bed }),
			level(tr("Cut"), func(g earthwork.Peg) float64 { return g.Cut }),
			level(tr("Water"), func(g earthwork.Peg) float64 { return g.Water }),
			level(tr("Width of the bed"), func(g earthwork.Peg) float64 { return g.BedWidth }),
			level(tr("Drop"), func(g earthwork.Peg) float64 { return dropOf(g) }),
			level(tr("Left bank top"), func(g earthwork.Peg) float64 { return g.Left.Level }),
			level(tr("Left bank top from the line"), func(g earthwork.Peg) float64 { return g.Left.Off }),
			level(tr("Left stake to the bed"), func(g earthwork.Peg) float64 { return g.Left.StakeCut }),
			level(tr("Right bank top"), func(g earthwork.Peg) float64 { return g.Right.Level }),
			level(tr("Right bank top from the line"), func(g earthwork.Peg) float64 { return g.Right.Off }),
			level(tr("Right stake to the bed"), func(g earthwork.Peg) float64 { return g.Right.StakeCut }),
			metres.column(tr("Easting"), 2, func(row int) float64 { return rows[row].At[0] }),
			metres.column(tr("Northing"), 2, func(row int) float64 { return rows[row].At[1] }),
		},
	}
	if len(p.lines()) < 2 {
		s.columns = slices.Delete(s.columns, 1, 2)
	}
	return []figureSheet{s}
}

// dropOf is how far the bed steps down at a peg; where it does not, nothing is told.
func dropOf(g earthwork.Peg) float64 {
	if g.Drop == 0 {
		return math.NaN()
	}
	return g.Drop
}

// marks names what a peg marks.
func (p *pegPart) marks(g earthwork.Peg) string {
	var words []string
	for _, r := range g.What {
		word := markWord(r.Why)
		if r.Of != "" {
			word = trf("%s: %s", word, told(r.Of))
		}
		words = append(words, word)
	}
	return strings.Join(words, "; ")
}

// markWord is a reason for a peg.
func markWord(why earthwork.Why) string {
	word, ok := map[earthwork.Why]string{
		earthwork.PegStation: tr("station"), earthwork.PegStart: tr("start"), earthwork.PegEnd: tr("end"), earthwork.PegCorner: tr("corner"),
		earthwork.PegBendBegins: tr("bend begins"), earthwork.PegBendMiddle: tr("middle of the bend"), earthwork.PegBendEnds: tr("bend ends"),
		earthwork.PegSill: tr("sill"), earthwork.PegDrop: tr("drop"), earthwork.PegSection: tr("section"), earthwork.PegSpillway: tr("spillway"),
		earthwork.PegJunction: tr("junction"), earthwork.PegTie: tr("tie-in"), earthwork.PegMoatBegins: tr("moat begins"),
		earthwork.PegMoatEnds: tr("moat ends"), earthwork.PegCrossing: tr("crossing"),
		earthwork.PegCrest: tr("crest to fill to"), earthwork.PegLeftOpen: tr("left bank open to"), earthwork.PegRightOpen: tr("right bank open to"),
		earthwork.PegLeftUnknown: tr("left bank where the ground is not known"), earthwork.PegRightUnknown: tr("right bank where the ground is not known"),
	}[why]
	if !ok {
		return string(why)
	}
	return word
}
