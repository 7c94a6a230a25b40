package ui

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/compare"
	"runnel/analysis/earthwork"
	"runnel/analysis/hydraulics"
)

func TestTheLevelsOnThePageAreTheAnalysis(t *testing.T) {
	b := newBench(t)
	b.figuresOf(0)
	if b.channels.stage.Visible() || !b.channels.page.Visible() {
		t.Error("the page does not take the map's place")
	}
	want, err := compare.StagesRound(t.Context(), b.doc.Site(), b.board.Scheme, 1, tableLevels)
	if err != nil || len(want.Scheme) < tableLevels/3 {
		t.Fatalf("%d levels, %v", len(want.Scheme), err)
	}
	s := b.channels.now().sheets()[0]
	if s.rows != len(want.Scheme) {
		t.Fatalf("%d rows of %d levels", s.rows, len(want.Scheme))
	}
	contact, perimeter, used := b.column(s, "Contact area [m²]"), b.column(s, "Mean wetted perimeter of the channels [m]"), 0
	for i, p := range want.Scheme {
		if contact.value(i) != p.Contact {
			t.Errorf("row %d has %v m² of contact, want %v", i, contact.value(i), p.Contact)
		}
		if s.heavy(i) != p.InUse {
			t.Errorf("row %d is marked: %v", i, s.heavy(i))
		}
		if p.InUse {
			used++
		}
	}
	if used == 0 || perimeter.cell(0) != dash {
		t.Errorf("%d levels are in use; the perimeter of a dry bed is %q", used, perimeter.cell(0))
	}
	if seen := texts(b.channels.page); !strings.Contains(seen, "in use") || !strings.Contains(seen, "[m³]") || !strings.Contains(strings.Join(strings.Fields(seen), " "), "where all is dry") {
		t.Errorf("the page shows:\n%s", seen)
	}
}

func TestTheStationsOnThePageAreTheAnalysis(t *testing.T) {
	b := newBench(t)
	f := b.figuresOf(1)
	n := b.figures.scheme.Network
	earth, err := earthwork.EndAreas(t.Context(), b.doc.Site().Ground, n, 0)
	if err != nil {
		t.Fatal(err)
	}
	s := b.channels.now().sheets()[0]
	if s.rows != len(earth.Stations) || s.rows < 50 {
		t.Fatalf("%d rows of %d stations", s.rows, len(earth.Stations))
	}
	chainage, bed, cut, sum := b.column(s, "Chainage [m]"), b.column(s, "Bed [m]"), b.column(s, "Cut across [m²]"), b.column(s, "Cut so far [m³]")
	for i, e := range earth.Stations {
		if chainage.value(i) != e.Chainage || cut.value(i) != e.Cut || sum.value(i) != e.CutSoFar || bed.value(i) != n.BedAt(f.ID, e.Chainage) {
			t.Errorf("row %d is %v m: bed %v, cut %v, so far %v, want %+v", i, chainage.value(i), bed.value(i), cut.value(i), sum.value(i), e)
		}
	}
	totals := b.channels.parts[1].(*stationPart).totalSheet()
	got := b.column(totals, "Cut [m³]")
	for i, v := range []earthwork.Volumes{earth.AverageEnd, earth.Prismoidal, earth.Grid} {
		if got.value(i) != v.Cut {
			t.Errorf("total %d is %v, want %v", i, got.value(i), v.Cut)
		}
	}
	if off := totals.columns[2].value(1); off != 100*(earth.Prismoidal.Cut/earth.AverageEnd.Cut-1) {
		t.Errorf("the prismoidal is %v %% off", off)
	}
	if seen := texts(b.channels.page); !strings.Contains(seen, "Spoil, on the cart") {
		t.Errorf("the page shows:\n%s", seen)
	}
}

func TestSpeedIsReadBetweenStationsAndInTheFasterArm(t *testing.T) {
	arm := func(v float64) hydraulics.Reach {
		return hydraulics.Reach{ID: 7, Stations: []hydraulics.Station{{Chainage: 2, Velocity: v, Froude: 0.1}, {Chainage: 4, Velocity: v + 0.2, Froude: 0.3}}}
	}
	reaches := []hydraulics.Reach{arm(0.1), arm(0.4), {ID: 8, Stations: []hydraulics.Station{{Chainage: 0, Velocity: 9}, {Chainage: 9, Velocity: 9}}}}
	if v, froude := runningAt(reaches, 7, 3); math.Abs(v-0.5) > 1e-12 || math.Abs(froude-0.2) > 1e-12 {
		t.Errorf("it runs at %v m/s, %v", v, froude)
	}
	if v, _ := runningAt(reaches, 7, 5); !math.IsNaN(v) {
		t.Errorf("beyond the last station it runs at %v", v)
	}
}

func TestWhatTheWindingBuysOnThePageIsTheAnalysis(t *testing.T) {
	b := newBench(t)
	b.figuresOf(2)
	gain, err := compare.GainOf(t.Context(), b.doc.Site(), &b.figures.scheme)
	if err != nil {
		t.Fatal(err)
	}
	sheets := b.channels.now().sheets()
	if got, want := sheets[0].columns[1].plain(0), plainNumber(gain.Winding.Contact); got != want {
		t.Errorf("the winding touches %s, want %s", got, want)
	}
	if sheets[1].rows != 3 {
		t.Errorf("%d levers, want 3", sheets[1].rows)
	}
	if seen := texts(b.channels.page); !strings.Contains(seen, sentence(gain.Sentence())) {
		t.Errorf("the page does not say %q:\n%s", gain.Sentence(), seen)
	}
	for i, row := range joinedRecords(sheets) {
		if len(row) != 5 {
			t.Errorf("row %d of the file is %q", i, row)
		}
	}
}

func TestThePegsFollowTheirSpacing(t *testing.T) {
	b := newBench(t)
	b.figuresOf(3)
	part := b.channels.now().(*pegPart)
	before := part.sheets()[0].rows
	want, err := earthwork.SetOut(t.Context(), b.doc.Site(), b.figures.scheme.Network, earthwork.SetOutOptions{})
	if err != nil || before != len(want) || before < 20 {
		t.Fatalf("%d rows of %d pegs, %v", before, len(want), err)
	}
	every := part.fields[0].answer
	every.SetText("1")
	every.OnSubmitted("1")
	b.worked()
	if now := part.sheets()[0].rows; now < before+15 {
		t.Errorf("at every metre there are %d pegs, %d before", now, before)
	}
	every.SetText("0.1")
	every.OnSubmitted("0.1")
	b.worked()
	if seen := texts(b.channels.page); !strings.Contains(seen, "Pegs every 0.1 m cannot be set") {
		t.Errorf("the page does not say what is wrong:\n%s", seen)
	}
}

func TestTheLevelInUseIsInSight(t *testing.T) {
	b := newBench(t)
	b.figuresOf(0)
	if seen := texts(b.channels.now().focus().body); !strings.Contains(seen, "in use") {
		t.Errorf("the rows in sight are\n%s", seen)
	}
}
