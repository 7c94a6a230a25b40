package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"runnel/analysis/caution"
	"runnel/geo"
	"runnel/geo/plan"
)

// seasons is the part of the ledger that is about soil and season.
func (b *bench) seasons() *seasonPart {
	b.t.Helper()
	for _, p := range b.ledger.parts {
		if s, ok := p.(*seasonPart); ok {
			return s
		}
	}
	b.t.Fatal("the ledger has no such part")
	return nil
}

// give types into a field as a person does.
func give(a *answer, typed string) {
	a.SetText(typed)
	a.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
}

func (b *bench) unfold(keys ...string) {
	b.unfolded = map[string]bool{}
	for _, key := range keys {
		b.unfolded[key] = true
	}
	b.ledger.build()
	b.ledger.refresh()
}

func TestWhatTheAccountRestsOnIsSetInTheLedger(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(3)
	b.unfold("storm", "groundwater", "clogging", "watering", "prices")
	p := b.seasons()
	setting := func() plan.Setting { return b.doc.Site().Setting }
	water, prices, storm := p.heads[1].(*figureFold), p.heads[4].(*pricesFold), p.heads[0].(*stormFold)
	give(water.fields[1].answer, "8,5")
	if v := setting().Aquifer.Conductivity; v != 8.5 {
		t.Errorf("the aquifer's conductivity is %g", v)
	}
	give(water.fields[2].answer, "3")
	if setting().Aquifer.Yield == 3 || !water.fields[2].fault.Visible() || !strings.Contains(water.fields[2].fault.Text, "0.6") {
		t.Errorf("a yield of 3 is taken, or not told of: %q", water.fields[2].fault.Text)
	}
	give(prices.currency.answer, "EUR")
	if unit := prices.fields[0].field.Unit; unit != "EUR/m³" || prices.fields[3].field.Unit != "EUR" {
		t.Errorf("digging is priced in %q, a sill in %q", unit, prices.fields[3].field.Unit)
	}
	give(prices.fields[0].answer, "12.5")
	storm.shape.pick.SetSelected(plan.OwnStorm)
	if !storm.table.row.Visible() || !storm.amiss.Visible() {
		t.Error("the table is not asked for")
	}
	give(storm.table.answer, "0 0, 0.5 0.2")
	if setting().StormTable != "" || !storm.table.fault.Visible() {
		t.Errorf("the table is %q", setting().StormTable)
	}
	give(storm.table.answer, "0 0, 0.5 0.2, 1 1")
	if setting().StormTable == "" || storm.amiss.Visible() || storm.table.fault.Visible() {
		t.Errorf("of a good table it says %q and %q", storm.amiss.Text, storm.table.fault.Text)
	}
	for _, want := range []string{"", "own", "EUR"} { // backwards, a step each
		if want == "" && setting().Costs.Cut != 12.5 {
			t.Errorf("digging costs %g", setting().Costs.Cut)
		}
		b.menu.undo.Action()
	}
	if s := setting(); s.StormTable != "" || s.Distribution != "triangular" || s.Costs.Cut != 0 || s.Costs.Currency != "EUR" {
		t.Errorf("after three steps back the setting is %+v", s)
	}
}

// A foot is 0.3048 m, so that 10 a cubic foot is 10/0.3048³ = 353.1467 a cubic metre.
func TestPricesAndAquifersInFeet(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(3)
	b.units = usFeet
	b.ledger.refresh()
	p := b.seasons()
	give(p.heads[4].(*pricesFold).fields[0].answer, "10")
	give(p.heads[1].(*figureFold).fields[1].answer, "10")
	s := b.doc.Site().Setting
	if v := s.Costs.Cut; v < 353.146 || v > 353.147 {
		t.Errorf("digging costs %g a cubic metre", v)
	}
	if v := s.Aquifer.Conductivity; v != 10*geo.Foot {
		t.Errorf("the aquifer's conductivity is %g m/day", v)
	}
	if unit := p.heads[1].(*figureFold).fields[1].field.Unit; unit != "ft/day" {
		t.Errorf("its unit is %q", unit)
	}
}

func TestHeadsSayInShortWhatStandsUnderThem(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(3)
	said := texts(b.ledger.object)
	for _, want := range []string{"40\u00a0mm in 2 h, triangular", "not known", "down to 50", "drip", "No daily record"} {
		if !strings.Contains(said, want) {
			t.Errorf("the ledger does not say %q:\n%s", want, said)
		}
	}
	if strings.Contains(said, "Specific yield") {
		t.Error("what is folded is shown")
	}
	b.seasons().heads[1].(*figureFold).turn()
	if !strings.Contains(texts(b.ledger.object), "Specific yield") {
		t.Error("what is opened is not shown")
	}
	b.goTo(2)
	b.goTo(3)
	if !strings.Contains(texts(b.ledger.object), "Specific yield") {
		t.Error("another step closes what was opened")
	}
}

func TestLimitsAreSetAndBackToTheUsual(t *testing.T) {
	b := newBench(t)
	b.open()
	limits := func() plan.Limits { return b.doc.Site().Setting.Limits }
	open := func() *line {
		b.run(b.command("Limits of the cautions…"))
		return b.win.Canvas().Focused().(*line)
	}
	well := open()
	if well.Text != "15.24" || !strings.Contains(b.dialogText(), "Minnesota Stormwater Manual") {
		t.Errorf("the well's limit is %q:\n%s", well.Text, b.dialogText())
	}
	b.seen("limits")
	b.answer("Set")
	if limits() != (plan.Limits{}) {
		t.Errorf("the usual limits make the site's own %+v", limits())
	}
	well = open()
	well.SetText("30")
	b.answer("Set")
	want := caution.UsualLimits()
	want.Well = 30
	if limits() != want {
		t.Errorf("the limits are %+v, want %+v", limits(), want)
	}
	well = open()
	well.SetText("-1")
	b.answer("Set")
	if !b.covered() || limits() != want {
		t.Error("a limit below nought is taken")
	}
	b.answer("Usual limits")
	b.answer("Set")
	if b.covered() || limits() != (plan.Limits{}) {
		t.Errorf("back at the usual, the site has %+v", limits())
	}
	b.menu.undo.Action()
	if limits() != want {
		t.Errorf("undo brings %+v", limits())
	}
}

func TestEverySettingIsFound(t *testing.T) {
	b := newBench(t)
	b.open()
	for _, f := range plan.SettingFigures() {
		if f.Part != plan.LimitsPart {
			b.command(trf("Setting: %s…", f.Label))
		}
	}
	for _, f := range plan.SettingTexts() {
		if f.Name != "soil" {
			b.command(trf("Setting: %s…", f.Label))
		}
	}
}
