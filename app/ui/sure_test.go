package ui

import (
	"strings"
	"testing"

	"runnel/app/view"
	"runnel/geo/plan"
)

func TestHowSureThePathsAreIsWorkedOutAndForgottenWithItsGround(t *testing.T) {
	b := openWatered(t)
	b.askHowSure()
	if !strings.Contains(texts(b.ledger.object), "Cancel") {
		t.Error("while it is worked out the ledger offers no way to cancel")
	}
	b.until("how sure the paths are", func() bool { return b.waters.sure.paths != nil })
	if b.pane.scene.Sure == nil || !b.pane.scene.Show.Has(view.Certainty) {
		t.Error("the map does not show it")
	}
	if shown := texts(b.ledger.object); !strings.Contains(shown, "in half or more of the grounds") || strings.Contains(shown, "Cancel") {
		t.Errorf("the ledger does not explain the colours:\n%s", shown)
	}
	b.drawChannel()
	b.settle()
	if b.pane.scene.Sure != nil || b.waters.sure.paths != nil {
		t.Error("after the ground has changed the map still shows how sure the old paths were")
	}
}

func TestHowSureThePathsAreCanBeCancelled(t *testing.T) {
	b := openWatered(t)
	b.askHowSure()
	b.dropHowSure()
	b.ledger.refresh()
	if shown := texts(b.ledger.object); strings.Contains(shown, "Cancel") || !strings.Contains(shown, "Work it out") {
		t.Errorf("after it was cancelled the ledger says:\n%s", shown)
	}
}

func TestHowSureThePathsAreIsForgottenWhenTheSurveysErrorIsAnother(t *testing.T) {
	b := openWatered(t)
	b.askHowSure()
	b.until("how sure the paths are", func() bool { return b.waters.sure.paths != nil })
	if err := b.setSetting(func(s *plan.Setting) { s.SurveyError = 0.3 }); err != nil {
		t.Fatal(err)
	}
	b.settle()
	if shown := texts(b.ledger.object); b.waters.sure.paths != nil || !strings.Contains(shown, "Work it out") {
		t.Errorf("with another error of the survey the ledger says:\n%s", shown)
	}
}
