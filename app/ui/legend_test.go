package ui

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"runnel/app/view"
)

// legendWords are what the legend lists.
func (b *bench) legendWords() (all []string) {
	b.legend.update()
	for _, e := range b.pane.scene.Legend(b.pane.camera) {
		all = append(all, e.Text())
	}
	return all
}

func TestTheLegendListsWhatIsShown(t *testing.T) {
	b := newBench(t)
	b.open()
	b.paint()
	b.goTo(1)
	b.settle()
	words := b.legendWords()
	if len(b.legend.rows.Objects) != len(words) || !slices.Contains(words, "Water path, by the area that drains to it") {
		t.Fatalf("%d rows of %q", len(b.legend.rows.Objects), words)
	}
	b.turnLayer(view.Water)
	if words := b.legendWords(); slices.Contains(words, "Water path, by the area that drains to it") || len(b.legend.rows.Objects) != len(words) {
		t.Errorf("with no paths it has %d rows of %q", len(b.legend.rows.Objects), words)
	}
}

func TestTheLegendStaysFoldedAsItWasLeft(t *testing.T) {
	b := newBench(t)
	b.open()
	b.paint()
	b.legend.update()
	if b.legend.body.Visible() {
		t.Fatal("it lies open on the map at first")
	}
	test.Tap(b.legend.head)
	if !b.legend.body.Visible() || b.legend.folded() {
		t.Error("a press does not open it")
	}
	if again := newLegend(b.Window); again.folded() {
		t.Error("it is not remembered")
	}
}

// A map that is low leaves the legend what room there is.
func TestTheLegendStaysOnTheMap(t *testing.T) {
	b := newBench(t)
	b.open()
	b.paint()
	b.legend.turn()
	for _, size := range []fyne.Size{{Width: 700, Height: 500}, {Width: 260, Height: 180}} {
		b.legend.object.Resize(size)
		sheet := b.legend.object.(*fyne.Container).Objects[0]
		p, s := sheet.Position(), sheet.Size()
		if p.X < 0 || p.Y < 0 || p.X+s.Width > size.Width || p.Y+s.Height > size.Height {
			t.Errorf("on a map of %v it is %v at %v", size, s, p)
		}
	}
}

func TestTheGroundHasOneColourAtATime(t *testing.T) {
	b := newBench(t)
	b.open()
	b.turnLayer(view.Heights)
	b.settle()
	b.until("the heights", func() bool { return b.scene.Heights != nil })
	b.turnLayer(view.Slopes)
	b.until("the slopes", func() bool { return b.scene.Slopes != nil })
	if b.show.Has(view.Heights) || !b.show.Has(view.Slopes) || b.tools.checks[view.Heights].Checked || !b.tools.checks[view.Slopes].Checked {
		t.Error("both colours are on, or the boxes do not say so")
	}
	heights := b.scene.Heights
	b.turnLayer(view.Heights)
	b.settle()
	if b.scene.Heights != heights {
		t.Error("the same ground is coloured anew")
	}
}

func TestContoursAreRoundInTheUnitsThatAreShown(t *testing.T) {
	b := newBench(t)
	b.open()
	b.turnUnits()
	b.until("contours in feet", func() bool { return b.scene.Units == view.Feet })
	if got := b.status.contours.Text; !strings.HasSuffix(got, " 0.5 ft") && !strings.HasSuffix(got, " 1 ft") && !strings.HasSuffix(got, " 0.2 ft") && !strings.HasSuffix(got, " 2 ft") {
		t.Errorf("it says %q", got)
	}
}

// What the legend says is said whole, in lines that it has room for, however often it is
// laid out.
func TestTheLegendSaysEveryNameWhole(t *testing.T) {
	b := newBench(t)
	b.open()
	b.paint()
	b.legend.turn()
	for _, words := range append(view.Grades(), "Ground worked out, not measured", "Camino del agua, por el área que le desagua") {
		name := legendName(words, 120).(*fyne.Container)
		row := container.New(sampleRow{}, canvas.NewRectangle(nil), name)
		for _, width := range []float32{0, 40, 160} { // as while the map finds its size
			row.Resize(fyne.NewSize(width, row.MinSize().Height))
		}
		var said []string
		for _, line := range name.Objects {
			line := line.(*canvas.Text)
			if said = append(said, line.Text); line.MinSize().Width > 120 {
				t.Errorf("%q is %g wide", line.Text, line.MinSize().Width)
			}
		}
		if got := strings.Join(said, " "); got != words || len(said) < 2 {
			t.Errorf("%q is said as %q", words, said)
		}
	}
}
