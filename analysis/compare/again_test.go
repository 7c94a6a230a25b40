package compare_test

import (
	"context"
	"reflect"
	"testing"

	"runnel/analysis/compare"
	"runnel/assets/demo"
)

// What is told again of another soil is what is told of it from the start.
func TestAnAccountAgainIsTheAccountOfTheNewSetting(t *testing.T) {
	before := demo.Site()
	after := before
	after.Setting.Soil, after.Setting.Groundwater = "clay", 0.4
	for _, scheme := range before.Plan.Schemes {
		was, err := compare.Measure(context.Background(), &before, scheme.ID, compare.Options{})
		if err != nil {
			t.Fatal(err)
		}
		want, err := compare.Measure(context.Background(), &after, scheme.ID, compare.Options{})
		if err != nil {
			t.Fatal(err)
		}
		got := was.Again(&after)
		if !reflect.DeepEqual(got.Cautions, want.Cautions) || got.Contact != want.Contact || got.Name != want.Name {
			t.Errorf("%s: again %+v, %v, want %+v, %v", scheme.Name, got.Cautions, got.Contact, want.Cautions, want.Contact)
		}
		if reflect.DeepEqual(got.Cautions, was.Cautions) {
			t.Errorf("%s: the cautions are those of before", scheme.Name)
		}
	}
}
