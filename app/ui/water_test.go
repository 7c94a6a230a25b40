package ui

import (
	"math"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/paulmach/orb"

	"runnel/analysis/flow"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/geo/plan"
)

// watered is the valley with a hollow 1 m deep, a roof with its downpipe, and a
// yard with an inlet beside it.
func watered() plan.Site {
	s := valley()
	for y := 60; y < 70; y++ {
		for x := 20; x < 30; x++ {
			s.Ground.Set(x, y, 99.5)
		}
	}
	at := func(east, north float64) orb.Point { return orb.Point{500_000 + east, 4_800_000 + north} }
	box := func(east, north, size float64) orb.Polygon {
		return orb.Polygon{{at(east, north), at(east+size, north), at(east+size, north+size), at(east, north+size), at(east, north)}}
	}
	s.Plan.Features = append(s.Plan.Features,
		plan.Feature{ID: 101, Kind: plan.Roof, Name: "Shed", Geometry: box(40, 50, 8)},
		plan.Feature{ID: 102, Kind: plan.Downpipe, Geometry: at(39, 51)},
		plan.Feature{ID: 103, Kind: plan.Paving, Name: "Yard", Geometry: box(10, 60, 6)},
		plan.Feature{ID: 104, Kind: plan.Inlet, Name: "Gully", Geometry: at(30.2, 20)})
	return s
}

// openWatered shows the watered site in the step Water, with all that is asked of it.
func openWatered(t *testing.T) *bench {
	b := newBench(t)
	b.put(site.New(watered(), ""))
	b.settle()
	b.goTo(1)
	b.settle()
	b.until("the storm", b.rained)
	b.until("the fates", func() bool { return b.waters.fates.of == b.scene })
	return b
}

func TestTheStormSliderRainsOnTheMapAndLeavesTheSiteAlone(t *testing.T) {
	b := openWatered(t)
	if got := b.rain(); got != 40 {
		t.Fatalf("it begins at %g mm, want the design storm of 40", got)
	}
	before, stored := b.doc.Site(), b.waters.storm.stored
	b.lookAtRain(120)
	b.until("the storm", func() bool { return b.waters.storm.rain == 0.12 })
	if b.doc.Site() != before {
		t.Error("looking at another storm changes the site")
	}
	s := b.waters.storm
	if !(s.stored > stored) || b.pane.scene.Storm != s.water || math.Abs(s.water.Rain-0.12) > 1e-12 {
		t.Errorf("%g m³ stand after 120 mm and %g m³ after 40", s.stored, stored)
	}
	if sum := s.stored + s.left + s.swallowed + s.soaked; math.Abs(sum-s.runs) > 1e-6*s.runs || s.runs >= s.fell {
		t.Errorf("%g m³ fell, %g run off, and %g are told of", s.fell, s.runs, sum)
	}
	if s.worth > s.stored+1e-9 || !(s.worth > 0) || !s.hasInlets || s.hasCulverts {
		t.Errorf("of %g m³ that stand %g are shown; inlets %v, culverts %v", s.stored, s.worth, s.hasInlets, s.hasCulverts)
	}
	shown := texts(b.ledger.object)
	for _, want := range []string{"120\u00a0mm", "Make this the design storm", "Goes down inlets", metric.volume(s.stored), metric.volume(s.fell)} {
		if !strings.Contains(shown, want) {
			t.Errorf("the ledger does not show %q:\n%s", want, shown)
		}
	}
	if strings.Contains(shown, "culverts") || strings.Contains(shown, "Soaks in") {
		t.Error("the ledger speaks of culverts, or of soaking, where there is none")
	}
}

func TestTheSliderGoesDownToNoRain(t *testing.T) {
	b := openWatered(t)
	b.lookAtRain(0)
	b.until("the storm", func() bool { return b.waters.storm.rain == 0 })
	if s := b.waters.storm; b.rain() != 0 || s.fell != 0 || s.stored != 0 || s.water.Deepest() != 0 {
		t.Errorf("of %g mm %g m³ fall and %g stand", b.rain(), s.fell, s.stored)
	}
}

// The newest storm is shown, though one before it was asked for twice.
func TestAStormComesBackWhenTheSliderDoes(t *testing.T) {
	b := openWatered(t)
	b.lookAtRain(90)
	b.lookAtRain(40)
	b.until("the storm", func() bool { return b.waters.asked == b.waters.storm.downpour })
	for range 20 {
		time.Sleep(5 * time.Millisecond)
		b.pump()
	}
	if got := b.waters.storm.rain; got != 0.04 {
		t.Errorf("shown is the storm of %g m, looked at is one of 0.04", got)
	}
}

func TestAStormCanBeMadeTheDesignStormAndTakenBack(t *testing.T) {
	b := openWatered(t)
	b.lookAtRain(75)
	b.keepStorm()
	if got := b.doc.Site().Setting.Storm; got != 75 || b.rain() != 75 {
		t.Fatalf("the design storm is %g mm, looked at are %g", got, b.rain())
	}
	b.doc.Undo()
	if got := b.doc.Site().Setting.Storm; got != 40 || b.rain() != 40 {
		t.Errorf("taken back, the design storm is %g mm and looked at are %g", got, b.rain())
	}
}

func TestWaterSoaksInWhereItIsLetTo(t *testing.T) {
	b := openWatered(t)
	dry := b.waters.storm
	b.waters.soaks = true
	b.askOfWater()
	b.until("the soaking storm", func() bool { return b.waters.storm.soil != "" })
	wet := b.waters.storm
	if !(wet.soaked > 0) || !(wet.runs > dry.runs) || wet.soil != "loam" {
		t.Errorf("%g m³ of %g soak into %s; %g ran off before", wet.soaked, wet.runs, wet.soil, dry.runs)
	}
	if ends := wet.stored + wet.left + wet.swallowed + wet.soaked; math.Abs(ends-wet.runs) > 1e-6*wet.runs {
		t.Errorf("of %g m³ %g are told of", wet.runs, ends)
	}
}

func TestNothingSoaksInUnderRoofsAndPaving(t *testing.T) {
	b := openWatered(t)
	d := b.scene.Drainage
	rates := soakOf(d.Surface, 0.001).Rates
	open := len(rates)
	for _, source := range d.Surface.Sources {
		for _, c := range source.Cells {
			if rates[c] != 0 {
				t.Fatalf("%g m/s soak in under %s", rates[c], b.called(source.Feature))
			}
			open--
		}
	}
	for _, r := range rates {
		if r == 0.001 {
			open--
		}
	}
	if open != 0 {
		t.Errorf("%d cells of open ground do not soak at the soil's rate", open)
	}
}

func TestAnInletOfTheStormTakesNoMoreThanItCan(t *testing.T) {
	b := openWatered(t)
	f, _ := b.doc.Site().Plan.Find(104)
	if err := b.doc.Do(&site.Replace{After: f.With("capacity", plan.Value{Number: 1e-6})}); err != nil {
		t.Fatal(err)
	}
	b.settle()
	b.until("the storm", b.rained)
	if got, most := b.waters.storm.swallowed, 1e-6*2*3600; got > most+1e-9 || !(got > 0) {
		t.Errorf("%g m³ go down an inlet that can take %g", got, most)
	}
}

func TestTheWaterOfARoofIsFollowedOnTheMap(t *testing.T) {
	b := openWatered(t)
	if n := len(b.waters.fates.list); n != 2 || len(b.waters.trails) != 0 {
		t.Fatalf("%d surfaces, %d trails", n, len(b.waters.trails))
	}
	shown := texts(b.ledger.object)
	for _, want := range []string{"Shed", "Yard", "Old drain", "Mean year", metric.volume(b.waters.fates.list[0].Storm)} {
		if !strings.Contains(shown, want) {
			t.Errorf("the ledger does not show %q:\n%s", want, shown)
		}
	}
	first := b.waters.fates.list[0].Feature
	trails := func() int { return len(b.pane.scene.Trails) }
	row := b.fateRow("Shed")
	row.MouseIn(&desktop.MouseEvent{})
	if trails() != 1 || len(b.pane.scene.Trails[0].Lines[0]) < 2 {
		t.Errorf("pointed at, it has %d trails", trails())
	}
	row.MouseOut()
	if trails() != 0 {
		t.Errorf("pointed elsewhere, %d trails stay", trails())
	}
	b.chooseTrail(first)
	b.pointAt(first)
	b.pointAt(0)
	if trails() != 1 {
		t.Errorf("chosen, it has %d trails", trails())
	}
	b.chooseTrail(first)
	b.board.Select(103)
	if trails() != 1 || b.pane.scene.Trails[0].Name != "Yard" {
		t.Errorf("with the yard selected there are %d trails", trails())
	}
}

// fateRow is the row of the ledger that tells of a surface.
func (b *bench) fateRow(name string) *pressRow {
	b.t.Helper()
	b.win.Canvas().Capture()
	for _, o := range test.LaidOutObjects(b.ledger.object) {
		if row, ok := o.(*pressRow); ok && row.onPoint != nil && strings.Contains(texts(row), name) {
			return row
		}
	}
	b.t.Fatalf("the ledger has no row of %s:\n%s", name, texts(b.ledger.object))
	return nil
}

func TestAllTrailsCanBeShownAtOnce(t *testing.T) {
	b := openWatered(t)
	b.waters.allTrails = true
	b.retrail()
	if got := b.pane.scene.Trails; len(got) != 2 || got[0].Number == got[1].Number {
		t.Errorf("the trails are %+v", got)
	}
}

func TestASettingThatCannotBeIsComplainedOfInItsPlace(t *testing.T) {
	b := openWatered(t)
	field := newSettingField(b.Window, site.SurveyError())
	field.update()
	if field.answer.Text != "0.02" {
		t.Errorf("it shows %q", field.answer.Text)
	}
	field.answer.SetText("-3")
	field.answer.settle()
	if !field.fault.Visible() || b.doc.Site().Setting.SurveyError != 0.02 {
		t.Errorf("the error is %g m, and the field says %q", b.doc.Site().Setting.SurveyError, field.fault.Text)
	}
	field.answer.SetText("wide")
	field.answer.settle()
	if want := "The survey error is \"wide\"; give a number from 0 to 10 m."; field.fault.Text != want {
		t.Errorf("it says %q, want %q", field.fault.Text, want)
	}
	field.answer.SetText("0,05")
	field.answer.settle()
	if field.fault.Visible() || b.doc.Site().Setting.SurveyError != 0.05 {
		t.Errorf("the error is %g m, and the field says %q", b.doc.Site().Setting.SurveyError, field.fault.Text)
	}
}

func TestASelectedThingSaysHowWaterDoesNotTakeIt(t *testing.T) {
	b := openWatered(t)
	err := b.doc.Do(&site.Add{Features: []plan.Feature{{ID: 300, Kind: plan.Downpipe, Geometry: orb.Point{500_002, 4_800_002}}}})
	if err != nil {
		t.Fatal(err)
	}
	b.until("the fault", func() bool { return len(b.waterFaults(300)) == 1 })
	b.board.Select(300)
	b.ledger.refresh()
	if shown := texts(b.ledger.object); !strings.Contains(shown, "stands at no roof") {
		t.Errorf("the ledger shows:\n%s", shown)
	}
	if faults := b.waterFaults(101); len(faults) != 0 {
		t.Errorf("of the roof it says %q", faults)
	}
}

func TestRainIsInInchesInUSUnits(t *testing.T) {
	b := openWatered(t)
	b.turnUnits()
	shown := texts(b.ledger.object)
	for _, want := range []string{"1.57\u00a0in", "ft³", "ft²"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the ledger does not show %q:\n%s", want, shown)
		}
	}
	if strings.Contains(shown, "\u00a0mm") || strings.Contains(shown, "m³") || strings.Contains(shown, "0.06\u00a0m ") {
		t.Errorf("the ledger has metric figures:\n%s", shown)
	}
	field := newSettingField(b.Window, site.DesignStorm())
	field.answer.SetText("200")
	field.answer.settle()
	if want := "The design storm is 200; give a number from 0 to 78.74 in."; field.fault.Text != want {
		t.Errorf("it says %q, want %q", field.fault.Text, want)
	}
	field.answer.SetText("2")
	field.answer.settle()
	if got := b.doc.Site().Setting.Storm; math.Abs(got-50.8) > 1e-9 {
		t.Errorf("2 in are taken for %g mm", got)
	}
}

func TestADropsWayIsSaidInWords(t *testing.T) {
	b := openWatered(t)
	leg := []orb.LineString{{{500_010, 4_800_010}, {500_030, 4_800_000}}}
	for _, of := range []struct {
		name string
		j    view.Journey
		want string
	}{
		{"off the ground", view.Journey{Legs: leg}, "A drop here runs 10.0\u00a0m, falls 1.00\u00a0m and leaves on the south edge"},
		{"from a roof", view.Journey{Legs: leg, Roof: 101}, "A drop here leaves Shed by its downpipe, runs 10.0\u00a0m, falls 1.00\u00a0m and leaves on the south edge"},
		{"down an inlet", view.Journey{Legs: leg, Inlet: 104, End: flow.StayEnd}, "A drop here runs 10.0\u00a0m, falls 1.00\u00a0m and goes down Gully"},
		{"through two culverts", view.Journey{Legs: leg, Through: []plan.ID{101, 103}, End: flow.NoDataEnd},
			"A drop here runs 10.0\u00a0m, falls 1.00\u00a0m, through Shed and Yard and leaves where the ground is not known"},
	} {
		if got := metric.drop(10, 1, b.told(of.j))[0]; got != of.want {
			t.Errorf("%s: it says %q, want %q", of.name, got, of.want)
		}
	}
}
