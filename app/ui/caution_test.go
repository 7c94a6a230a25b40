package ui

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/app/site"
)

// TestCautionsRewrittenInPlaceAreThoseOfANewList holds rows that keep their places
// while a channel is moved to rows that are made anew.
func TestCautionsRewrittenInPlaceAreThoseOfANewList(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	var part *cautionsPart
	for _, p := range b.ledger.parts {
		if c, ok := p.(*cautionsPart); ok {
			part = c
		}
	}
	rows := 0
	for step := range 6 {
		line := f.Line().Clone()
		line[1] = orb.Point{line[1][0] - 3*float64(step), line[1][1]}
		moved := f
		moved.Geometry = line
		if err := b.doc.Do(&site.Replace{After: moved}); err != nil {
			t.Fatal(err)
		}
		b.settle()
		part.update()
		anew := newCautionsPart(b.Window)
		anew.update()
		if len(part.bodies) != len(anew.bodies) || len(part.wrongs) != len(anew.wrongs) || len(part.rows.Objects) != len(anew.rows.Objects) {
			t.Fatalf("at step %d there are %d rows, and %d in a new list", step, len(part.rows.Objects), len(anew.rows.Objects))
		}
		for i, body := range anew.wrongs {
			if got, want := part.wrongs[i].Text, body.Text; got != want {
				t.Errorf("at step %d the problem says %q, and in a new list %q", step, got, want)
			}
		}
		for rule, body := range anew.bodies {
			if got, want := part.bodies[rule].String(), body.String(); got != want {
				t.Errorf("at step %d %s says %q, and in a new list %q", step, rule, got, want)
			}
		}
		rows += len(part.bodies)
	}
	if rows == 0 {
		t.Error("there was no caution")
	}
}
