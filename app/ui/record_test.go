package ui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
)

// twoYears is a record of 2021 and 2022 with columns in an order of its own, a figure
// that stands for none, and a day left out.
func twoYears() string {
	var b strings.Builder
	b.WriteString("Tag;Tmax;Tmin;Niederschlag;Bemerkung\n")
	for day := range 730 {
		on := time.Date(2021, 1, 1+day, 0, 0, 0, 0, time.UTC)
		rain := fmt.Sprint(day % 3)
		switch day {
		case 40:
			rain = "-999"
		case 99:
			continue
		}
		fmt.Fprintf(&b, "%s;%d;%d;%s;x\n", on.Format("02.01.2006"), 12+day%7, 3+day%5, rain)
	}
	return b.String()
}

// recorded waits until the form on top shows what was found.
func (b *bench) recorded() string {
	b.t.Helper()
	b.until("what was found", func() bool {
		said := b.dialogText()
		return strings.Contains(said, "What was found in it") && !strings.Contains(said, "Reading…")
	})
	return b.dialogText()
}

func TestADroppedRecordIsShownBeforeItComesIn(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(3)
	b.dropped([]fyne.URI{storage.NewFileURI(b.write("days.csv", twoYears()))})
	shown := b.recorded()
	for _, want := range []string{"Daily record: days.csv", "Niederschlag", "2021–2022, 730 days.", "-999", "Temperature: 5", "day, month, year"} {
		if !strings.Contains(strings.ReplaceAll(shown, "−", "-"), want) {
			t.Errorf("it does not say %q:\n%s", want, shown)
		}
	}
	b.seen("record")
	if !b.doc.Site().Weather.Empty() {
		t.Error("the site has changed already")
	}
	b.answer("Take it in")
	r := b.doc.Site().Weather
	if len(r.Days) != 730 || r.Name != "days" || r.Days[40].Rain == r.Days[40].Rain || r.Days[99].High == r.Days[99].High {
		t.Fatalf("the site has %d days of %q", len(r.Days), r.Name)
	}
	if r.Days[2].Rain != 2 || r.Days[2].High != 14 || r.Days[2].Low != 5 {
		t.Errorf("the third day is %+v", r.Days[2])
	}
	if !b.ledgerSays("Daily record: days") || !b.ledgerSays("2021–2022") {
		t.Errorf("the ledger says:\n%s", texts(b.ledger.object))
	}
	b.menu.undo.Action()
	if !b.doc.Site().Weather.Empty() || !b.ledgerSays("No daily record") {
		t.Error("one undo does not take the record away")
	}
}

func TestAnotherColumnIsSetByAPerson(t *testing.T) {
	b := newBench(t)
	b.open()
	b.bringRecord(b.write("odd.csv", "date,a,b\n2020-01-01,0,9\n2020-01-02,4,8\n2020-01-03,0,0\n"))
	b.recorded()
	var picks []*picker
	for _, o := range test.LaidOutObjects(b.win.Canvas().Overlays().Top()) {
		if p, ok := o.(*picker); ok && len(p.Options) > 10 {
			picks = append(picks, p)
		}
	}
	if len(picks) != 3 || picks[0].Selected != "Date" || picks[1].Selected != "Rain" {
		t.Fatalf("the columns are %v", picks)
	}
	picks[2].SetSelected("Rain")
	b.recorded()
	if picks[1].Selected != dash || picks[2].Selected != "Rain" {
		t.Errorf("they are %q and %q now", picks[1].Selected, picks[2].Selected)
	}
	picks[2].SetSelected(dash)
	if said := b.recorded(); !strings.Contains(said, "odd.csv: no column is taken for rain, nor for anything else; say which it is.") {
		t.Errorf("without a column it says:\n%s", said)
	}
	b.answer("Take it in")
	if !b.covered() || !b.doc.Site().Weather.Empty() {
		t.Error("what cannot be read came in")
	}
	picks[2].SetSelected("Rain")
	b.recorded()
	b.answer("Take it in")
	if r := b.doc.Site().Weather; len(r.Days) != 3 || r.Days[0].Rain != 9 {
		t.Errorf("the site has %v", r.Days)
	}
}

func TestWhatIsNoRecordIsOneSentence(t *testing.T) {
	b := newBench(t)
	b.open()
	for name, file := range map[string]string{"a day": "date,rain\n2020-01-01,3\n", "no rows": "date,rain\n", "words": "once upon a time\nthere was rain\n"} {
		b.bringRecord(b.write("bad.csv", file))
		b.until("what is wrong", b.covered)
		b.until("what is wrong", func() bool {
			return strings.Contains(b.dialogText(), "The record was not read") || strings.Contains(b.dialogText(), "one day")
		})
		if said := b.dialogText(); name == "a day" && !strings.Contains(said, "give a record of a year at least") {
			t.Errorf("of a day it says:\n%s", said)
		}
		for b.covered() {
			b.typeKey(fyne.KeyEscape)
		}
	}
	if !b.doc.Site().Weather.Empty() {
		t.Error("something came in")
	}
}

func TestPointsAreNotTakenForARecord(t *testing.T) {
	b := newBench(t)
	b.open()
	b.dropped([]fyne.URI{storage.NewFileURI(b.write("shots.csv", "name,x,y,z\n1,10,20,100.1\n2,12,20,100.2\n3,14,22,100.4\n"))})
	b.until("the question", func() bool { return strings.Contains(b.dialogText(), "What is this file for?") })
	b.answer("Cancel")
}

func TestTheRecordIsRemovedAndReplaced(t *testing.T) {
	b := newBench(t)
	b.open()
	remove := b.command("Remove the daily record")
	if why := remove.cannot(); why == "" {
		t.Error("what is not there can be removed")
	}
	b.bringRecord(b.write("days.csv", twoYears()))
	b.recorded()
	b.answer("Take it in")
	if why := remove.cannot(); why != "" {
		t.Error(why)
	}
	b.run(remove)
	if !b.doc.Site().Weather.Empty() {
		t.Error("the record stays")
	}
}
