package view

import (
	"context"

	"runnel/analysis/terrain"
	"runnel/geo/grid"
)

// relieve works out the relief, where it is not known. Where the ground is that of
// the scene before but for a few rows, those alone are shaded anew.
func (s *Scene) relieve(ctx context.Context) (err error) {
	if s.Shade.Len() > 0 {
		return nil
	}
	o := terrain.ShadeOptions{Exaggeration: s.exaggerate()}
	if changed, ok := s.changedRows(); ok {
		return s.reshade(ctx, o, changed)
	}
	s.before = nil
	s.Shade, err = terrain.Hillshade(ctx, s.Ground, o)
	return err
}

// exaggerate returns by how much heights are exaggerated, from the scene before
// where the survey is the same: it takes as long as the relief itself.
func (s *Scene) exaggerate() float64 {
	s.exaggeration = 0
	if b := s.before; b != nil && sameHeights(b.surveyed(), s.surveyed()) {
		s.exaggeration = b.exaggeration
	}
	if s.exaggeration == 0 {
		s.exaggeration = terrain.SuitedExaggeration(s.surveyed())
	}
	return s.exaggeration
}

// surveyed is the ground as it is, by which all its schemes are lit alike.
func (s *Scene) surveyed() grid.Ground {
	if s.Site != nil && s.Site.Ground.Frame == s.Ground.Frame {
		return s.Site.Ground
	}
	return s.Ground
}

// changedRows returns the rows in which the ground is another than that of the
// scene before, if it is lit alike and the same in most.
func (s *Scene) changedRows() (changed band, ok bool) {
	b := s.before
	if b == nil || b.Shade.Frame != s.Ground.Frame || !sameHeights(b.surveyed(), s.surveyed()) {
		return band{}, false
	}
	return changedRows(b.Ground, s.Ground)
}

// reshade takes the relief over from the scene before, but for some rows and the
// one on each side, which see them.
func (s *Scene) reshade(ctx context.Context, o terrain.ShadeOptions, changed band) error {
	anew := band{max(changed.lo-1, 0), min(changed.hi+1, s.Ground.H)}
	seen := band{max(anew.lo-1, 0), min(anew.hi+1, s.Ground.H)}
	part := grid.Ground{Frame: s.Ground.Frame, V: s.Ground.V[seen.lo*s.Ground.W : seen.hi*s.Ground.W]}
	part.H, part.North = seen.hi-seen.lo, s.Ground.North-float64(seen.lo)*s.Ground.DY
	shade, err := terrain.Hillshade(ctx, part, o)
	if err != nil {
		return err
	}
	s.Shade, s.reshaded = s.before.Shade.Clone(), anew
	for y := anew.lo; y < anew.hi; y++ {
		copy(s.Shade.Row(y), shade.Row(y-seen.lo))
	}
	return nil
}

// leastShade is the longer side [cells] below which a grid is not halved again.
const leastShade = 256

// A joiner makes one cell of four.
type joiner func(four [4]uint8) uint8

// halves returns a grid and ever smaller copies of it.
func halves(g grid.Grid[uint8], join joiner) []grid.Grid[uint8] {
	all := []grid.Grid[uint8]{g}
	for max(g.W, g.H) > leastShade {
		small := grid.New[uint8](halved(g.Frame))
		halve(g, small, join, band{0, small.H})
		all, g = append(all, small), small
	}
	return all
}

// rehalved is halves of a grid that differs in some rows from the one that others
// are halves of.
func rehalved(g grid.Grid[uint8], join joiner, before []grid.Grid[uint8], rows band) []grid.Grid[uint8] {
	all := []grid.Grid[uint8]{g}
	for _, b := range before[1:] {
		small := b.Clone()
		rows = band{rows.lo / 2, (rows.hi + 1) / 2}
		halve(g, small, join, rows)
		all, g = append(all, small), small
	}
	return all
}

func halved(f grid.Frame) grid.Frame {
	f.W, f.H, f.DX, f.DY = (f.W+1)/2, (f.H+1)/2, 2*f.DX, 2*f.DY
	return f
}

// halve fills rows of a grid half the size.
func halve(g, small grid.Grid[uint8], join joiner, of band) {
	eachRow(of.hi-of.lo, func(i int) {
		y := of.lo + i
		top, bottom := g.Row(2*y), g.Row(min(2*y+1, g.H-1))
		row := small.Row(y)
		for x := range row {
			right := min(2*x+1, g.W-1)
			row[x] = join([4]uint8{top[2*x], top[right], bottom[2*x], bottom[right]})
		}
	})
}

// mean leaves out cells that are not known, so that a ground seen from far does
// not sparkle.
func mean(four [4]uint8) uint8 {
	var sum, n uint32
	for _, v := range four {
		if v != 0 {
			sum, n = sum+uint32(v), n+1
		}
	}
	if n == 0 {
		return 0
	}
	return uint8((sum + n/2) / n)
}

// surest keeps the highest grade: water paths are one cell wide, and a mean would
// lose them.
func surest(four [4]uint8) uint8 { return max(four[0], four[1], four[2], four[3]) }
