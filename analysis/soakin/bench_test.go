package soakin_test

import (
	"context"
	"testing"

	"runnel/analysis/compare"
	"runnel/analysis/soakin"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

// measured is what the demo's winding channel measures.
func measured(b *testing.B) (plan.Site, *compare.Account) {
	s := demo.Site()
	a, err := compare.Measure(context.Background(), &s, s.Plan.Schemes[0].ID, compare.Options{})
	if err != nil {
		b.Fatal(err)
	}
	return s, &a
}

func BenchmarkASetup(b *testing.B) {
	s, m := measured(b)
	for b.Loop() {
		if _, err := soakin.NewSetup(context.Background(), &s, m, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAnAccountOfTenYears(b *testing.B) {
	s, m := measured(b)
	setup, err := soakin.NewSetup(context.Background(), &s, m, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := soakin.Of(context.Background(), &s, setup); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTenThousandDraws(b *testing.B) {
	s := demo.Site()
	a := account(b, &s, 1)
	for b.Loop() {
		if _, err := soakin.SpreadOf(context.Background(), &s, a, soakin.Draws); err != nil {
			b.Fatal(err)
		}
	}
}
