package action

import (
	"strings"
	"testing"

	"runnel/app/report"
)

func TestMethodsOfEveryFigureAreTold(t *testing.T) {
	var out, errs strings.Builder
	if status := Main(t.Context(), []string{"methods"}, Streams{Out: &out, Err: &errs}, nil); status != 0 {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	for _, m := range report.Methods() {
		if !strings.Contains(out.String(), m.Figure) || !strings.Contains(out.String(), m.Source()) {
			t.Errorf("%s is not told", m.Figure)
		}
	}
}
