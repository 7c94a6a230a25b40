package gdal

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// known puts NaN in place of third coordinates that are marks of no height.
func known(z []float64) []float64 {
	for i, v := range z {
		if math.IsInf(v, 0) || v == -9999 || v == -99999 || v == -32768 {
			z[i] = math.NaN()
		}
	}
	return z
}

// settle makes what was read heights in metres at places of the survey's system.
func (b *batch) settle() error {
	if b.said != "" {
		b.note("%s", b.said)
	}
	b.dropNoughts()
	sr := b.layer.SpatialReference()
	bound := b.bound()
	f, err := b.frameOf(sr, handle(sr) != nil && !b.file.unknown, looksLikeDegrees(bound))
	if err != nil {
		return err
	}
	if err := b.gathering.choose(f, bound.Center()); err != nil {
		return err
	}
	named := b.field
	if b.written != 0 { // it says more than the name of the field, and than the system
		f.height, named = b.written, ""
	}
	unit := b.heightUnitOf(f, named)
	before := len(b.survey.Spots)
	for _, s := range b.spots {
		s.Z *= unit
		b.survey.Spots = append(b.survey.Spots, s)
	}
	if err := b.moveTail(f, before); err != nil {
		return err
	}
	return b.moveLines(f, unit)
}

// moveTail moves the spots from one on.
func (b *batch) moveTail(f frame, from int) error {
	all := b.survey.Spots
	if len(all) == from {
		return nil
	}
	b.survey.Spots = all[from:]
	err := b.moveSpots(f)
	b.survey.Spots = append(all[:from], b.survey.Spots...)
	return err
}

func (b *batch) bound() orb.Bound {
	bound := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, s := range b.spots {
		bound = bound.Extend(s.At)
	}
	for _, l := range b.lines {
		bound = bound.Union(l.At.Bound())
	}
	return bound
}

// dropNoughts takes third coordinates that are nought in all of a layer for none,
// unless a person says that they are heights.
func (b *batch) dropNoughts() {
	if b.o.Height == ZHeight {
		return
	}
	told := map[string]bool{}
	drop := func(layer string) bool {
		if !b.nought[layer] {
			return false
		}
		if !told[layer] {
			told[layer] = true
			b.note("Layer %s has no heights: its points have no third coordinate, or it is nought everywhere.", clip(layer))
		}
		return true
	}
	for i := range b.lines {
		if l := &b.lines[i]; l.byZ && drop(l.layer) {
			l.Z = []float64{math.NaN()}
		}
	}
	for i := range b.spots {
		if b.height == fromZ && drop(b.names[i]) {
			b.spots[i].Z = math.NaN()
		}
	}
}

// moveLines brings the lines to the survey's system and says what each is.
func (b *batch) moveLines(f frame, unit float64) error {
	m, err := b.moverOf(f)
	if err != nil {
		return err
	}
	defer m.close()
	bent, areas := 0, 0
	for _, l := range b.lines {
		for i, p := range l.At {
			l.At[i] = orb.Point{p[0] * f.plain, p[1] * f.plain}
		}
		if err := m.moveChecked(l.At); err != nil {
			b.fault(fmt.Sprintf("Line %d is left out, for %v", l.Number, err))
			continue
		}
		for i := range l.Z {
			l.Z[i] *= unit
		}
		l.Z = levelled(l.Z)
		if b.classify(&l) {
			bent++
		}
		if l.area && l.Use == survey.Edge {
			areas++
		}
		b.survey.Lines = append(b.survey.Lines, l.Line)
	}
	if areas > 0 {
		b.note("%d outlines of areas are taken for edges of the survey.", areas)
	}
	if bent > 0 {
		b.note("The heights of %d lines change along them, so they are taken for breaklines, not contours.", bent)
	}
	return nil
}

// levelTolerance is how far the heights of a level line may be apart [m].
const levelTolerance = 0.0005

// levelled returns one height for a line whose points all have the same.
func levelled(z []float64) []float64 {
	if len(z) == 0 || !(slices.Max(z)-slices.Min(z) <= levelTolerance) {
		if len(z) > 1 && !slices.ContainsFunc(z, func(v float64) bool { return !math.IsNaN(v) }) {
			return z[:1]
		}
		return z
	}
	return z[:1]
}

// classify says what a line is, and reports one that should be a contour but is not
// level.
func (b *batch) classify(l *batchLine) (bent bool) {
	use, said := b.useOf(l.code)
	if !said {
		use, said = b.useOf(l.layer)
	}
	switch {
	case said:
		l.Use = use
	case l.area:
		l.Use = survey.Edge
	case b.o.Form == survey.Points:
		l.Use = survey.Break
	case len(l.Z) > 1:
		l.Use, bent = survey.Break, true
	default:
		l.Use = survey.Contour
	}
	if l.Use == survey.Edge && !l.Known() {
		l.Z = nil
	}
	return bent
}
