package ui

import (
	"math"
	"strings"
	"testing"

	"runnel/assets/demo"
	"runnel/geo"
	"runnel/geo/plan"
)

// yearOf opens a part of the page of the demo.
func (b *bench) yearOf(part int) {
	b.t.Helper()
	b.soaked(demo.Site())
	b.yearsWater()
	b.year.turnTo(part)
	b.win.Canvas().Capture()
}

func TestTheYearsWaterIsTheAccounts(t *testing.T) {
	b := newBench(t)
	b.yearOf(0)
	if b.year.stage.Visible() || !b.year.page.Visible() {
		t.Error("the page does not take the map's place")
	}
	a := b.soaking.scheme
	s := b.year.now().sheets()[0]
	recharge, draw := b.column(s, "Recharge potential [m³]"), b.column(s, "Draw from the well [m³]")
	if s.rows != 13 || recharge.value(12) != a.Mean.Recharge || !s.heavy(12) {
		t.Fatalf("%d rows, the year has %v m³, want %v", s.rows, recharge.value(12), a.Mean.Recharge)
	}
	sum := 0.0
	for i := range 12 {
		sum += recharge.value(i)
		if draw.value(i) != a.Months[i].Draw {
			t.Errorf("month %d draws %v m³, want %v", i+1, draw.value(i), a.Months[i].Draw)
		}
	}
	if math.Abs(sum-a.Mean.Recharge) > 1e-6*a.Mean.Recharge {
		t.Errorf("the months add up to %v m³, the year has %v", sum, a.Mean.Recharge)
	}
	b.ranged()
	s = b.year.now().sheets()[0]
	low, high := b.column(s, "Recharge potential, low [m³]"), b.column(s, "Recharge potential, high [m³]")
	spread := b.soaking.spread.value.scheme
	for i := range 12 {
		if low.value(i) != spread.Months[i].Low || high.value(i) != spread.Months[i].High || !(low.value(i) <= recharge.value(i) && recharge.value(i) <= high.value(i)) {
			t.Errorf("month %d is %v from %v to %v m³", i+1, recharge.value(i), low.value(i), high.value(i))
		}
	}
	if low.value(12) != spread.Recharge.Low || high.value(12) != spread.Recharge.High {
		t.Errorf("a mean year is from %v to %v m³", low.value(12), high.value(12))
	}
	b.win.Canvas().Capture()
	b.seen("months")
	b.turnUnits()
	b.accounted()
	s = b.year.now().sheets()[0]
	if got, want := b.column(s, "Recharge potential [ft³]").value(12), a.Mean.Recharge/math.Pow(geo.Foot, 3); math.Abs(got-want) > 1e-6*want {
		t.Errorf("in feet the year has %v, want %v", got, want)
	}
	if seen := texts(b.year.page); strings.Contains(seen, "[m³]") || !strings.Contains(seen, "[in]") {
		t.Errorf("the page does not follow the units:\n%s", seen)
	}
}

func TestAYearOfTheRecordIsChosen(t *testing.T) {
	b := newBench(t)
	b.yearOf(1)
	part := b.year.now().(*recordPart)
	s := part.sheets()[0]
	if s.rows != 10 || s.columns[1].words(1) != "driest" || s.columns[1].words(4) != "wettest" {
		t.Fatalf("%d years; 2012 is %q, 2015 %q", s.rows, s.columns[1].words(1), s.columns[1].words(4))
	}
	if days := len(part.trace(b.soaking.scheme).Level); days != 3653 {
		t.Errorf("the record has %d days in the chart", days)
	}
	part.choose(1)
	if got := b.year.line; got != plan.ID(2012) {
		t.Fatalf("the year %d is chosen", got)
	}
	if days := len(part.trace(b.soaking.scheme).Level); days != 366 {
		t.Errorf("2012 has %d days in the chart", days)
	}
	b.win.Canvas().Capture()
}

func TestTheDesignStormOnThePageIsTheAccounts(t *testing.T) {
	b := newBench(t)
	b.yearOf(2)
	a, sheets := b.soaking.scheme, b.year.now().sheets()
	if sheets[0].rows != 1 || b.column(sheets[0], "Highest water [m]").value(0) != a.Storm.Likely.Pools[0].Peak {
		t.Errorf("%d pools", sheets[0].rows)
	}
	in := a.Storm.Inflows[0]
	if got := b.column(sheets[1], "Runs off [m³]").value(0); got != in.Volume {
		t.Errorf("%v m³ run off, want %v", got, in.Volume)
	}
	b.complain(b.setSetting(func(s *plan.Setting) { s.Storm = 140 }))
	b.accounted()
	over := b.year.now().sheets()[2]
	if want := len(b.soaking.scheme.Storm.Overflows); over.rows != want || want == 0 {
		t.Fatalf("a storm of 140 mm has %d ways over, the table %d", want, over.rows)
	}
	if to := b.column(over, "Nearest building").words(0); to == dash || to == "" {
		t.Errorf("no building is nearest to its way: %q", to)
	}
}

func TestGroundwaterAndBasisAreToldAndSaved(t *testing.T) {
	b := newBench(t)
	b.yearOf(3)
	s := b.year.now().sheets()[0]
	if s.rows != len(b.soaking.scheme.Rises) || s.rows < 3 || b.column(s, "Limit [m]").value(2) != 0.3 {
		t.Errorf("%d places", s.rows)
	}
	b.year.line = 2012
	if from, to := b.year.now().(*moundPart).span(3653); from != 365 || to != 731 {
		t.Errorf("2012 is from day %d to day %d", from, to)
	}
	b.year.turnTo(4)
	b.ranged()
	b.win.Canvas().Capture()
	sheets := b.year.now().sheets()
	if sheets[0].rows < 4 || sheets[1].rows != len(b.soaking.scheme.Setup.Pools.Pools) {
		t.Errorf("%d causes and %d soils", sheets[0].rows, sheets[1].rows)
	}
	b.year.copyTable()
	if held := b.app.Clipboard().Content(); !strings.HasPrefix(held, "Cause,of the recharge's spread [%]") || !strings.Contains(held, "Winding channel") {
		t.Errorf("the clipboard holds:\n%s", held)
	}
}

func TestOnePageOfFiguresGivesWayToAnother(t *testing.T) {
	b := newBench(t)
	b.yearOf(0)
	b.channelFigures()
	if b.year.on || !b.channels.on {
		t.Error("two pages stand in the place of one map")
	}
	b.yearsWater()
	b.compareSchemes()
	if b.year.on || !b.comparing.on {
		t.Error("the comparison does not take the page's place")
	}
	b.comparing.leave()
	b.yearsWater()
	b.year.leave()
	if b.paged() || !b.year.stage.Visible() {
		t.Error("the map does not come back")
	}
}

func TestASiteWithoutWaterSaysWhatToDraw(t *testing.T) {
	b := newBench(t)
	s := demo.Site()
	s.Plan.Features = nil
	b.soaked(s)
	b.yearsWater()
	b.win.Canvas().Capture()
	if seen := texts(b.year.page); !strings.Contains(seen, "No channel and no drain holds water here.") || b.year.head.copy.Visible() {
		t.Errorf("the page shows:\n%s", seen)
	}
}
