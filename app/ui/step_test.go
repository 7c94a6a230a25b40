package ui

import (
	"encoding/json"
	"strings"
	"testing"

	"runnel/app/site"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func TestTheStartScreenOffersTheDemoSite(t *testing.T) {
	b := newBench(t)
	shown := texts(b.win.Content())
	for _, want := range []string{"Open the demo site", "New from an elevation raster…", "Open…", "Hand over"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the start screen does not offer %q:\n%s", want, shown)
		}
	}
	b.open()
	if b.win.Title() != "Valley – Runnel" {
		t.Errorf("the title is %q", b.win.Title())
	}
}

func TestAStepBringsItsToolsItsMapAndItsLedger(t *testing.T) {
	b := newBench(t)
	b.open()
	for i, s := range steps {
		b.goTo(i)
		if len(b.tools.buttons) != 1+len(s.asks)+len(s.kinds) {
			t.Errorf("%s: %d tools, want %d", s.word(), len(b.tools.buttons), 1+len(s.asks)+len(s.kinds))
		}
		if b.pane.scene.Show != s.show {
			t.Errorf("%s: the map shows %b, want %b", s.word(), b.pane.scene.Show, s.show)
		}
		for j, button := range b.rail.buttons {
			if button.marked != (i == j) {
				t.Errorf("%s: step %d is marked: %v", s.word(), j, button.marked)
			}
		}
	}
}

func TestAToolThatDrawsInASchemeShowsOne(t *testing.T) {
	b := newBench(t)
	b.open()
	b.showScheme(plan.AsItIs)
	b.choose(drawer(plan.Channel))
	if b.schemeName() != "Meander" {
		t.Errorf("the scheme is %q", b.schemeName())
	}
}

func TestADrawnChannelChangesTheFigures(t *testing.T) {
	b := newBench(t)
	b.open()
	before := b.figures.scheme.Contact
	b.drawChannel()
	b.settle()
	if after := b.figures.scheme.Contact; !(after > before+10) {
		t.Errorf("contact is %g m² before and %g m² after a channel of 58 m", before, after)
	}
	if shown := texts(b.ledger.object); !strings.Contains(shown, metric.area(b.figures.scheme.Contact)) {
		t.Errorf("the ledger does not show %s:\n%s", metric.area(b.figures.scheme.Contact), shown)
	}
}

func TestTheTraceIsLinesOfJSON(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(3)
	seen := map[string]bool{}
	for line := range strings.Lines(b.trace.String()) {
		var event struct{ Event string }
		if err := json.Unmarshal([]byte(line), &event); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		seen[event.Event] = true
	}
	for _, want := range []string{"opened", "tool", "step", "figures", "shown"} {
		if !seen[want] {
			t.Errorf("the trace has no %q", want)
		}
	}
}

func TestASiteThatCannotBeMeasuredSaysWhy(t *testing.T) {
	b := newBench(t)
	s := valley()
	s.Ground = grid.Ground{}
	b.put(site.New(s, ""))
	b.until("the reason", func() bool { return b.status.trouble != "" })
	b.used()
	if b.status.next.Text != b.status.trouble {
		t.Errorf("the strip says %q, want %q", b.status.next.Text, b.status.trouble)
	}
}
