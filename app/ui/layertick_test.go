package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"runnel/app/site"
	"runnel/app/view"
	"runnel/geo"
	"runnel/geo/plan"
)

// trails are the numbers of the ways of water that the map shows.
func (b *bench) trails() int {
	if !b.pane.scene.Show.Has(view.Fates) {
		return 0
	}
	return len(b.pane.scene.Trails)
}

func TestABoxIsTickedWhereThereIsSomethingToBeSeen(t *testing.T) {
	b := openWatered(t)
	ends, sure := b.tools.checks[view.Fates], b.tools.checks[view.Certainty]
	if ends.Checked || sure.Checked || b.trails() > 0 {
		t.Fatal("what nobody has asked for is ticked")
	}
	test.Tap(ends)
	if !ends.Checked || b.trails() == 0 {
		t.Error("a tick does not show where all water ends")
	}
	test.Tap(ends)
	if ends.Checked || b.trails() > 0 {
		t.Error("without the tick it is shown still")
	}
	b.pointAt(b.waters.fates.list[0].Feature)
	if b.trails() != 1 || ends.Checked {
		t.Error("the way of the water that is pointed at is not shown, or for a tick")
	}
	b.pointAt(0)
	b.chooseTrail(b.waters.fates.list[0].Feature)
	if !ends.Checked || b.trails() != 1 {
		t.Error("a way that is chosen is not ticked")
	}
	test.Tap(sure)
	if !sure.Checked {
		t.Error("what is being worked out is not ticked")
	}
	b.until("how sure the paths are", func() bool { return b.waters.sure.paths != nil })
	test.Tap(sure)
	if sure.Checked || b.pane.scene.Show.Has(view.Certainty) {
		t.Error("without its tick it is shown still")
	}
}

func TestTheLegendGivesWayToAToolInTheHand(t *testing.T) {
	b := newBench(t)
	b.open()
	b.paint()
	b.goTo(2)
	b.legend.turn()
	if b.legend.folded() {
		t.Fatal("it does not open")
	}
	b.choose("channel")
	if !b.legend.folded() || b.legend.body.Visible() {
		t.Error("it lies open on the map while a channel is drawn")
	}
	b.takeUp(selecting)
	if b.legend.folded() || !b.legend.body.Visible() {
		t.Error("it does not come back")
	}
}

func TestAToolThatNeedsASchemeSaysWhereItDraws(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.showScheme(plan.AsItIs)
	b.settle()
	b.choose("channel")
	if got := b.status.next.Text; !strings.HasPrefix(got, "Drawing in Meander;") {
		t.Errorf("the line below the map says %q", got)
	}
	if !b.tabs.buttons[b.board.Scheme].lit {
		t.Error("its tab is not lit up")
	}
	b.takeUp(selecting)
	b.choose("channel")
	if strings.Count(b.trace.String(), "Drawing in Meander") != 1 {
		t.Error("it is said where no other scheme is shown")
	}
}

func TestTheSectionsFollowTheUnitsAtOnce(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.drawChannel()
	b.settle()
	b.until("the section", func() bool { return b.section.drawn.longPicture != nil })
	b.turnUnits()
	if b.section.asked.units != view.Feet {
		t.Error("nobody asks for sections in feet")
	}
	b.until("the section in feet", func() bool { return b.section.drawn.request.units == view.Feet })
}

func TestTheSectionsAreSeenWhileTheyAreDrawnInAnotherLook(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.drawChannel()
	b.settle()
	b.until("the section", func() bool { return b.section.drawn.longPicture != nil })
	b.wear(darkStyle)
	if b.section.drawn.longPicture == nil || b.section.both.Hidden {
		t.Error("they go blank")
	}
	b.win.Canvas().Capture()
	b.until("the section in the dark", func() bool { return b.section.drawn.request.look == b.look })
}

func TestASiteIsOpenedWhereItWasLeft(t *testing.T) {
	b := newBench(t)
	b.open()
	path := t.TempDir() + "/valley.gpkg"
	b.addScheme()
	b.doc.SavedAt(path, b.doc.Site())
	b.goTo(3)
	second, s := b.board.Scheme, *b.doc.Site()
	b.openDemo()
	if b.step != 0 || b.board.Scheme == second {
		t.Errorf("another site opens in step %d", b.step)
	}
	b.put(site.New(s, path))
	if b.step != 3 || b.board.Scheme != second {
		t.Errorf("the site comes back in step %d with scheme %d, was left in 3 with %d", b.step, b.board.Scheme, second)
	}
	b.remember(path)
	if r := b.recentFiles()[0]; r.name != "Valley – valley.gpkg" {
		t.Errorf("it is listed as %q", r.name)
	}
}

func TestTheGroundIsFittedClearOfWhatLiesOverTheMap(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.win.Canvas().Capture()
	b.pane.fit()
	ground := b.scene.Ground.Bound()
	left, top := b.pane.camera.ToScreen([2]float64{ground.Min[0], ground.Max[1]})
	_, bottom := b.pane.camera.ToScreen([2]float64{ground.Min[0], ground.Min[1]})
	wide, high := view.FurnitureSize(b.pane.dense())
	if left < wide && bottom > float64(b.pane.height)-high {
		t.Errorf("the scale lies over the ground, which begins at %.0f and ends at %.0f of %d", left, bottom, b.pane.height)
	}
	b.choose("channel")
	b.win.Canvas().Capture()
	slip := float64(b.drawbar.slip.Position().Y+b.drawbar.slip.Size().Height) * b.pane.scale
	if top < slip {
		t.Errorf("the slip ends at %.0f, the ground begins at %.0f", slip, top)
	}
}

func TestAFieldInOtherUnitsHasTwoDecimals(t *testing.T) {
	for _, c := range []struct{ held, each, want float64 }{
		{0.6, 0.3048, 1.97}, {0.02, 0.3048, 0.066}, {84.125, 0.3048, 276.0}, {84.125, 1, 84.125}, {40, 25.4, 1.57},
	} {
		if got := inField(c.held, c.each); got != c.want {
			t.Errorf("%g of its own unit is shown as %g, want %g", c.held, got, c.want)
		}
	}
}

func TestARangeNearerThanItsFiguresIsOneFigure(t *testing.T) {
	f := accountFigures()[2] // wet bank
	if got := f.between(metric, geo.Range{Low: 141.8, Likely: 142, High: 142.2}); got != "≈\u00a0142\u00a0m" {
		t.Errorf("it is written %q", got)
	}
}
