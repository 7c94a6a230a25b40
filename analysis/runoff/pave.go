package runoff

import (
	"runnel/analysis/internal/raster"
	"runnel/geo/plan"
)

// pave gives the cells of paving their weight, the paving drawn last first.
func (b *builder) pave() {
	drawn := b.drawn[plan.Paving]
	for i := len(drawn) - 1; i >= 0; i-- {
		f := drawn[i]
		s := Source{Feature: f.ID, Coefficient: f.Num("runoff")}
		for _, c := range raster.Within(b.Ground.Frame, f.Area()) {
			if b.cover(c, s.Coefficient) {
				s.Cells = append(s.Cells, c)
			}
		}
		if len(s.Cells) == 0 {
			b.problem(f, "%s covers no ground: it lies off the ground, under something else, or is smaller than a cell; move it, or leave it out")
			continue
		}
		s.Area = float64(len(s.Cells)) * b.Ground.CellArea()
		b.Sources = append(b.Sources, s)
	}
}

// weigh gives every other cell the weight of its cover, the usual one where none
// is drawn.
func (b *builder) weigh(usual Cover) {
	drawn := b.drawn[plan.Cover]
	for i := len(drawn) - 1; i >= 0; i-- {
		cover, err := CoverNamed(drawn[i].Text("cover"))
		if err != nil {
			b.problem(drawn[i], "%s has a cover that is not in the table; choose one from the list")
			continue
		}
		for _, c := range raster.Within(b.Ground.Frame, drawn[i].Area()) {
			b.cover(c, cover.Coefficient.Likely)
		}
	}
	for c, m := range b.marks {
		if m&(roofed|covered|unknown) == 0 {
			b.Weight[c] += usual.Coefficient.Likely
		}
	}
}

// cover gives a cell its own weight, unless it has one or lies under a roof. It
// reports whether it did.
func (b *builder) cover(c int32, coefficient float64) bool {
	if b.is(c, roofed|covered|unknown) {
		return false
	}
	b.marks[c] |= covered
	b.Weight[c] += coefficient
	return true
}
