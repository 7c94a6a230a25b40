package propose

import (
	"context"
	"testing"

	"runnel/assets/demo"
)

// BenchmarkATrial tries one course on the demo site: what a search does some ten
// thousand times.
func BenchmarkATrial(b *testing.B) {
	s := demo.Site()
	q, err := Asked(context.Background(), &s, s.Plan.Schemes[0].ID)
	if err != nil {
		b.Fatal(err)
	}
	q = q.orUsual()
	e, err := newEnds(&s, q)
	if err != nil {
		b.Fatal(err)
	}
	w := newWorld(&s, q, e)
	if err := w.survey(context.Background()); err != nil {
		b.Fatal(err)
	}
	m := tester{world: w}
	way := w.spine()
	knots := waves(&way, 8, 3, 1)
	for b.Loop() {
		m.try(knots)
	}
}

// BenchmarkLines seeks one course on the demo site at a tenth of the usual effort.
func BenchmarkLines(b *testing.B) {
	s := demo.Site()
	q, err := Asked(context.Background(), &s, s.Plan.Schemes[0].ID)
	if err != nil {
		b.Fatal(err)
	}
	q.Count, q.Effort = 1, 0.1
	for b.Loop() {
		if _, err := Lines(context.Background(), &s, q, nil); err != nil {
			b.Fatal(err)
		}
	}
}
