package caution

import (
	"testing"

	"runnel/geo/plan"
)

func TestEveryLimitHasAUsualValueAndSaysWhatItLeansOn(t *testing.T) {
	usual := plan.Setting{Limits: UsualLimits()}
	limits := 0
	for _, f := range plan.SettingFigures() {
		if f.Part != plan.LimitsPart {
			if SourceOf(f.Name) != "" {
				t.Errorf("%s has a source and is no limit", f.Name)
			}
			continue
		}
		limits++
		v := *f.Of(&usual)
		if err := f.Check(plan.Value{Number: v}); v <= 0 || err != nil {
			t.Errorf("%s is usually %g: %v", f.Name, v, err)
		}
		if SourceOf(f.Name) == "" {
			t.Errorf("%s leans on nothing", f.Name)
		}
	}
	if limits != len(sources) {
		t.Errorf("%d limits have %d sources", limits, len(sources))
	}
}
