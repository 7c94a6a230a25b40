package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"runnel/analysis/compare"
	"runnel/app/report"
	"runnel/app/site"
	"runnel/geo"
	"runnel/geo/plan"
)

// marks lists the '?' that are shown in an object.
func marks(o fyne.CanvasObject) (found []*queryMark) {
	for _, part := range test.LaidOutObjects(o) {
		if m, ok := part.(*queryMark); ok && m.Visible() {
			found = append(found, m)
		}
	}
	return found
}

func TestEveryFigureThatIsShownHasAMethod(t *testing.T) {
	keys := map[string]bool{}
	for _, f := range accountFigures() {
		keys[f.key] = true
	}
	for _, r := range stormRows() {
		keys[r.key] = true
	}
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	for i := range steps {
		b.goTo(i)
		b.win.Canvas().Capture()
		for _, m := range marks(b.win.Content()) {
			keys[m.key] = true
		}
	}
	for key := range keys {
		if m, ok := report.MethodOf(key); !ok || m.How == "" {
			t.Errorf("the figure %q has no method", key)
		}
	}
	for _, want := range []string{"range", "fate", "hollow", "sureness", "conductivity"} {
		if !keys[want] {
			t.Errorf("no step has the '?' of %q", want)
		}
	}
}

func TestAMarkSaysHowItsFigureWasFound(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(3)
	b.win.Canvas().Capture()
	for _, m := range marks(b.ledger.object) {
		m.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		method, _ := report.MethodOf(m.key)
		said := strings.ReplaceAll(b.dialogText(), "\n", " ")
		for _, want := range []string{method.Figure, strings.Fields(method.How)[0], "Source: "} {
			if !strings.Contains(said, want) {
				t.Errorf("%s: the popover has no %q: %s", m.key, want, said)
			}
		}
		if over := b.win.Canvas().Overlays().Top(); over == nil || over.Position().X+over.MinSize().Width > 1280 {
			t.Errorf("%s: the popover does not lie in the window", m.key)
		}
		b.dialogKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		if b.covered() {
			t.Fatalf("%s: Escape leaves the popover", m.key)
		}
	}
	b.showMethods()
	said := b.dialogText()
	for _, m := range report.Methods() {
		if !strings.Contains(said, m.Figure) {
			t.Errorf("the list of methods has no %q", m.Figure)
		}
	}
}

// row finds the ledger's row of a figure.
func (b *bench) row(key string) *figureRow {
	b.t.Helper()
	for _, p := range b.ledger.parts {
		if panel, ok := p.(*figuresPanel); ok {
			for _, r := range panel.rows {
				if r.figure.key == key {
					return r
				}
			}
		}
	}
	b.t.Fatalf("the ledger has no row %q", key)
	return nil
}

func TestAFigureStandsBesideAsItIsWithDifferenceAndRange(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	b.until("the ranges", b.ranges.current)
	row, f := b.row("contact"), &b.figures
	if row.now.Text != metric.area(f.scheme.Contact) || row.was.Text != metric.area(f.asItIs.Contact) {
		t.Errorf("the row says %q and %q", row.now.Text, row.was.Text)
	}
	if want := "+" + metric.area(f.scheme.Contact-f.asItIs.Contact) + " · " + times(f.scheme.Ratio); row.differs.Text != want {
		t.Errorf("the difference is %q, want %q", row.differs.Text, want)
	}
	if want := row.figure.between(metric, b.ranges.scheme.Contact); row.span.Text != want || want == dash || want == "" {
		t.Errorf("the range is %q, want %q", row.span.Text, want)
	}
	b.showScheme(plan.AsItIs)
	b.settle()
	b.until("the ranges", b.ranges.current)
	if row := b.row("contact"); row.now.Text != "" || row.differs.Text != "" || row.span.Text != "" || row.wasIn.Text == dash {
		t.Errorf("of the site alone the row says %q, %q, %q and %q", row.now.Text, row.differs.Text, row.span.Text, row.wasIn.Text)
	}
}

func TestRangesAreNotWorkedOutWhileAThingIsDragged(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	b.settle()
	b.until("the ranges", b.ranges.current)
	before := b.ranges.site
	b.pane.hand.dragging = true
	if err := b.doc.Do(&site.Replace{After: f.With("bed_width", plan.Value{Number: 1.5})}); err != nil {
		t.Fatal(err)
	}
	b.settle()
	asked := b.ranges.asked
	b.until("another wait", func() bool { return b.ranges.asked > asked })
	if b.ranges.site != before || b.ranges.current() {
		t.Error("the ranges are of what is being dragged")
	}
	if ink := b.row("contact").span.Color; ink == text("", caption).Color {
		t.Error("ranges that are overtaken are not paler")
	}
	b.pane.hand.dragging = false
	b.until("the ranges at rest", b.ranges.current)
}

func TestADifferenceHasItsSignAndItsUnit(t *testing.T) {
	f := figure{write: units.area, counts: true}
	for _, c := range []struct {
		now, was float64
		want     string
	}{
		{247, 68.4, "+179\u00a0m² · ×\u00a03.61"},
		{60, 68.4, "−8.40\u00a0m² · ×\u00a00.88"},
		{68.4, 68.4, "no difference · ×\u00a01.00"},
		{12, 0, "+12.0\u00a0m²"},
	} {
		if got := f.differenceAndRatio(metric, c.now, c.was); got != c.want {
			t.Errorf("%g beside %g is %q, want %q", c.now, c.was, got, c.want)
		}
	}
	if got := f.between(usFeet, geo.Range{Low: 234, Likely: 247, High: 259}); got != "2\u2009519–2\u2009788\u00a0ft²" {
		t.Errorf("the range in feet is %q", got)
	}
	if disjoint(geo.Range{Low: 1, High: 3}, geo.Range{Low: 3, High: 4}) || !disjoint(geo.Range{Low: 4, High: 5}, geo.Range{Low: 1, High: 3}) {
		t.Error("ranges that meet are apart, or those apart are not")
	}
}

// A large site has figures of many digits, which must keep clear of each other.
func TestFiguresOfALargeSiteFitTheLedgerInBothUnits(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	big := compare.Account{Contact: 12_345, ContactOnGround: 12_000, WetBank: 4_321, Surface: 11_900, Storage: 5_432, Length: 2_100, Depth: 1.2, Cut: 9_876, Fill: 4_321}
	small := big
	small.Contact, small.Storage, small.Cut, small.Fill = 1_234, 987, 0, 0 // nothing is dug
	wide := func(a compare.Account) compare.Spread {
		span := func(v float64) geo.Range { return geo.Range{Low: 0.9 * v, Likely: v, High: 1.1 * v} }
		return compare.Spread{Contact: span(a.Contact), WetBank: span(a.WetBank), Surface: span(a.Surface), Depth: span(a.Depth),
			Storage: span(a.Storage), Cut: span(a.Cut), Fill: span(a.Fill)}
	}
	for _, u := range []units{metric, usFeet} {
		b.units = u
		b.figures.scheme, b.figures.asItIs = big, small
		b.ranges.ranged = ranged{doc: b.figures.doc, site: b.figures.site, of: b.figures.of, asItIs: wide(small), scheme: wide(big), known: true}
		b.ledger.refresh()
		b.win.Canvas().Capture()
		for _, key := range []string{"contact", "storage", "cut"} {
			r := b.row(key)
			for _, pair := range [][2]*canvas.Text{{r.differs, r.span}, {r.span, r.wasIn}, {r.now, r.was}} {
				left, right := pair[0], pair[1]
				end, begin := left.Position().X+left.MinSize().Width, right.Position().X+right.Size().Width-right.MinSize().Width
				if left.Alignment == fyne.TextAlignTrailing {
					end = left.Position().X + left.Size().Width
				}
				if end > begin-2 {
					t.Errorf("%s: %q runs into %q", key, left.Text, right.Text)
				}
			}
		}
	}
}
