package ui

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/app/site"
)

// TestChangesWaitForTheOneBefore makes changes faster than they are worked out: the
// first and the newest are, none between.
func TestChangesWaitForTheOneBefore(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	b.settle()
	b.until("rest", func() bool { return !b.pace.busy })
	began := b.pace.began
	for step := range 5 {
		line := f.Line().Clone()
		line[1] = orb.Point{line[1][0] + float64(step+1), line[1][1]}
		moved := f
		moved.Geometry = line
		if err := b.doc.Do(&site.Replace{After: moved}); err != nil {
			t.Fatal(err)
		}
	}
	if got := b.pace.began - began; got != 1 || !b.pace.again {
		t.Fatalf("of five changes at once %d are being worked out, and more are to be: %v", got, b.pace.again)
	}
	b.until("the newest", func() bool { return b.figures.site == b.doc.Site() && b.scene.Site == b.doc.Site() })
	if got := b.pace.began - began; got != 2 {
		t.Errorf("%d changes were worked out, want the first and the last", got)
	}
}
