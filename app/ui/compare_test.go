package ui

import (
	"encoding/csv"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"runnel/app/site"
	"runnel/assets/demo"
	"runnel/geo"
	"runnel/geo/plan"
)

// paint waits for the pictures of the page.
func (b *bench) paint() {
	b.t.Helper()
	b.win.Canvas().Capture()
	b.until("the pictures", func() bool {
		for _, p := range b.comparing.easel.pictures {
			if p.asked.X > 0 && (p.done == nil || p.done.Rect.Size() != p.asked) {
				return false
			}
		}
		return true
	})
}

func TestTheComparisonLaysSchemesSideBySide(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	b.compareSchemes()
	b.compared(2)
	b.paint()
	if b.comparing.stage.Visible() || !b.comparing.page.Visible() {
		t.Error("the page does not take the map's place")
	}
	shown := texts(b.comparing.page)
	for _, want := range []string{"As it is", "Meander", "Contact area", "Storage", "Recharge potential", "Share put back", "Hours to empty", "Cost", "Cautions", "a sure difference", "Back to the map"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the comparison has no %q:\n%s", want, shown)
		}
	}
	if n := len(b.comparing.easel.pictures); n != 2+5 {
		t.Errorf("%d maps and charts, want 2 and 5", n)
	}
}

func TestTheComparisonFollowsTheSiteAndGivesTheMapBack(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	b.compareSchemes()
	b.until("the comparison", func() bool { return len(b.comparing.accounts) == 2 })
	b.copyScheme(b.board.Scheme)
	b.until("three columns", func() bool { return len(b.comparing.accounts) == 3 })
	b.doc.Undo()
	b.until("two again", func() bool { return len(b.comparing.accounts) == 2 })
	before := texts(b.comparing.page)
	b.turnUnits()
	if now := texts(b.comparing.page); now == before || !strings.Contains(now, "ft²") {
		t.Error("the page does not follow the units")
	}
	b.schemeKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.comparing.on || !b.comparing.stage.Visible() || b.comparing.page.Visible() {
		t.Error("Escape does not bring the map back")
	}
	if b.schemeKey(&fyne.KeyEvent{Name: fyne.KeyEscape}) {
		t.Error("with the map shown the page takes Escape")
	}
}

func TestNineColumnsCanBeScrolledByKeys(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	for range 7 {
		b.copyScheme(b.board.Scheme)
	}
	b.settle()
	b.compareSchemes()
	b.until("the comparison", func() bool { return len(b.comparing.accounts) == 9 })
	b.paint()
	for key, moved := range map[fyne.KeyName]func(fyne.Position) bool{
		fyne.KeyRight: func(p fyne.Position) bool { return p.X > 0 },
		fyne.KeyEnd:   func(p fyne.Position) bool { return p.Y > 500 },
		fyne.KeyHome:  func(p fyne.Position) bool { return p.Y == 0 },
	} {
		b.comparing.back.TypedKey(&fyne.KeyEvent{Name: key})
		if !moved(b.comparing.scroll.Offset) && key != fyne.KeyHome {
			t.Errorf("%s scrolls to %v", key, b.comparing.scroll.Offset)
		}
	}
	b.comparing.back.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if b.comparing.on {
		t.Error("the button does not go back to the map")
	}
}

func TestASiteWithoutASchemeIsCompared(t *testing.T) {
	b := newBench(t)
	b.open()
	b.complain(b.doc.Do(&site.RemoveScheme{ID: b.doc.Site().Plan.Schemes[0].ID}))
	b.settle()
	b.compareSchemes()
	b.until("the comparison", func() bool { return len(b.comparing.accounts) == 1 })
	b.paint()
	if shown := texts(b.comparing.page); strings.Contains(shown, "a sure difference") {
		t.Errorf("the site as it is differs from itself:\n%s", shown)
	}
}

func TestTheComparisonIsWrittenAsTableAndAsPicture(t *testing.T) {
	b := newBench(t)
	b.demoCompared()
	c := b.comparing
	rows, err := csv.NewReader(strings.NewReader(csvOf(t, c.records()))).ReadAll()
	if err != nil || len(rows) != 1+3*(len(c.rows())+1) {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	a, was, spread := c.accounts[1], c.accounts[0], [2]geo.Range{c.shapeFor(0).spread.Contact, c.shapeFor(1).spread.Contact}
	contact := []string{"Contact area", "m²", "Winding island channel", plainNumber(a.Contact), plainNumber(spread[1].Low), plainNumber(spread[1].High),
		plainNumber(a.Contact - was.Contact), "no"}
	if spread[1].Low > spread[0].High {
		contact[7] = "yes"
	}
	if !slices.Equal(rows[2], contact) {
		t.Errorf("the contact area of the scheme is written as %q, want %q", rows[2], contact)
	}
	checkRecharge(t, c, rows)
	if plainNumber(math.NaN()) != "" || plainNumber(-0.0001) != "0" || plainNumber(1.23456) != "1.235" {
		t.Error("numbers are not written as a program reads them")
	}
	path := filepath.Join(t.TempDir(), "comparison.png")
	if err := c.pictureWriter()(t.Context(), path, nil, plan.AsItIs); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if drawn, err := png.Decode(f); err != nil || drawn.Bounds().Dx() < 1500 || drawn.Bounds().Dy() < 1500 {
		t.Errorf("the picture is %v (%v)", drawn.Bounds(), err)
	}
}

// checkRecharge holds the row of what is put back to the columns.
func checkRecharge(t *testing.T, c *comparing, rows [][]string) {
	t.Helper()
	column := c.columnFor(1)
	recharge := []string{"Recharge potential", "m³", "Winding island channel", plainNumber(column.Mean.Recharge), plainNumber(column.Spread.Recharge.Low), plainNumber(column.Spread.Recharge.High),
		plainNumber(column.Mean.Recharge - c.soaked[0].Mean.Recharge), "no"}
	if column.MoreRecharge.Sure {
		recharge[7] = "yes"
	}
	if !slices.ContainsFunc(rows, func(row []string) bool { return slices.Equal(row, recharge) }) {
		t.Errorf("no row is %q", recharge)
	}
}

func csvOf(t *testing.T, rows [][]string) string {
	t.Helper()
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// compared waits until all is known of so many schemes.
func (b *bench) compared(schemes int) {
	b.t.Helper()
	b.until("the comparison with its ranges", func() bool {
		c := b.comparing
		return len(c.accounts) == schemes && c.site == b.doc.Site() && c.shapes.site == c.site && c.draws.site == c.site
	})
}

// demo has the demo site on the page.
func (b *bench) demoCompared() {
	b.t.Helper()
	b.put(site.New(demo.Site(), filepath.Join(b.t.TempDir(), "demo.gpkg")))
	b.settle()
	b.compareSchemes()
	b.compared(3)
}

// Another soil changes what soaks in of all schemes at once, and leaves what was known of
// ranges until they are known anew; another bed width changes the scheme that has it alone.
func TestTheComparisonFollowsTheSoilAndABedWidthInStrokes(t *testing.T) {
	b := newBench(t)
	b.demoCompared()
	c := b.comparing
	before, draws := slices.Clone(c.soaked), c.draws
	b.complain(b.setSetting(func(s *plan.Setting) { s.Soil = "clay loam" }))
	b.until("the first stroke", func() bool { return c.site == b.doc.Site() })
	if c.draws.site != draws.site {
		t.Error("the ranges are of a site that they cannot be known of yet")
	}
	recharge := slices.IndexFunc(c.rows(), func(r schemeRow) bool { return r.key == "recharge" })
	for i, r := range c.rows() {
		if i == recharge && (!r.stale || !r.figure.counts || c.surely(r, 1)) {
			t.Error("the range before is shown as good")
		}
	}
	for i, a := range c.soaked {
		if !(a.Mean.Recharge < before[i].Mean.Recharge) {
			t.Errorf("%s: %v m³ on clay loam, %v before", a.Name, a.Mean.Recharge, before[i].Mean.Recharge)
		}
	}
	b.compared(3)
	if b.soaking.spread.value.asItIs.Recharge != c.columnFor(0).Spread.Recharge || !b.soaking.current() {
		t.Error("the ledger tells another account than the page")
	}
	before = slices.Clone(c.soaked)
	f := b.demoChannel()
	b.complain(b.doc.Do(&site.Replace{After: f.With("bed_width", plan.Value{Number: f.Num("bed_width") + 0.3})}))
	b.until("the first stroke", func() bool { return c.site == b.doc.Site() })
	if c.soaked[0] != before[0] || c.soaked[2] != before[2] || c.soaked[1] == before[1] {
		t.Error("more than the scheme with the wider bed is worked out anew")
	}
	if c.columnFor(2).Account != before[2] || !c.draws.columns[0].MoreSoaked.Sure && c.columnFor(2) == nil {
		t.Error("the ranges of the other schemes are gone")
	}
}

// demoChannel is the first channel of the demo's first scheme.
func (b *bench) demoChannel() plan.Feature {
	s := b.doc.Site()
	return s.Plan.Of(plan.Channel, s.Plan.Schemes[0].ID)[0]
}
