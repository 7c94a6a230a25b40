package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

func TestTheTourLeadsThroughEveryStepByTheKeyboard(t *testing.T) {
	b := newBench(t)
	b.run(b.command("Take the tour"))
	b.settle()
	visited := map[int]bool{}
	for i, s := range stops() {
		visited[b.step] = true
		if b.tour == nil || b.tour.at != i || b.step != s.step {
			t.Fatalf("stop %d is not reached; the step is %d", i, b.step)
		}
		if b.covered() {
			t.Error("the card keeps the window from being used")
		}
		if n := strings.Count(s.does, ". ") + 1; n > 2 {
			t.Errorf("%q says %d sentences", s.title, n)
		}
		window, at, card := b.win.Canvas().Size(), b.tour.card.Position(), b.tour.card.Size()
		if at.X < 0 || at.Y < 0 || at.X+card.Width > window.Width || at.Y+card.Height > window.Height {
			t.Errorf("the card of %q stands at %v, %v large, in a window of %v", s.title, at, card, window)
		}
		b.typeKey(fyne.KeyReturn)
	}
	if b.tour != nil || len(visited) != len(steps) {
		t.Errorf("the tour has not ended, or visited %d of %d steps", len(visited), len(steps))
	}
}

func TestTheTourGoesBackAndCanBeLeftAndIsOfferedOnce(t *testing.T) {
	b := newBench(t)
	if !strings.Contains(texts(b.win.Content()), "New here? Take the tour") {
		t.Error("a first-time user is offered no tour")
	}
	b.startTour()
	b.typeKey(fyne.KeyRight)
	b.typeKey(fyne.KeyRight)
	b.typeKey(fyne.KeyLeft)
	if b.tour.at != 1 {
		t.Errorf("two on and one back is stop %d", b.tour.at)
	}
	b.setTextSize(2)
	if b.tour == nil || b.tour.at != 1 {
		t.Error("larger text ends the tour")
	}
	b.typeKey(fyne.KeyEscape)
	if b.tour != nil {
		t.Error("Escape stays on the tour")
	}
	if strings.Contains(texts(b.startScreen()), "New here?") {
		t.Error("the tour is offered again")
	}
}
