package gdal

import (
	"context"
	"math"

	"github.com/lukeroth/gdal"

	"runnel/geo/crs"
	"runnel/geo/grid"
)

// onNet reads the cells of f, which lies on a net: as they are where the file's own
// lie on it too, and else resampled.
func (s *source) onNet(ctx context.Context, to crs.CRS, f grid.Frame) (grid.Ground, error) {
	o := GroundOptions{Cell: f.DX, Bound: f.Bound()}
	if own, ok := s.own(to, o); ok && onOne(own, f) {
		ground, _, err := s.copied(ctx, to, o)
		return ground, err
	}
	p := warpPlan{crs: to, to: f, by: gdal.GRA_Bilinear}
	own := math.Sqrt(s.Grid.DX * s.Grid.DY)
	if f.DX > coarser*own {
		p.by = gdal.ResampleAlg(gdal.GRA_Average)
	}
	reach := 4 * max(1, int(math.Ceil(f.DX/min(s.Grid.DX, s.Grid.DY))))
	var err error
	if p.from, err = s.windowFor(f.Bound(), to, reach); err != nil {
		return grid.Ground{}, err
	}
	if err := s.readWindow(ctx, p.from); err != nil {
		return grid.Ground{}, err
	}
	return s.warp(ctx, p)
}

// onOne reports whether two frames of one size of cell lie on one net.
func onOne(a, b grid.Frame) bool {
	off := func(d float64) float64 { return math.Abs(d/a.DX - math.Round(d/a.DX)) }
	return off(a.West-b.West) < netSlack && off(a.North-b.North) < netSlack
}

// An overlap is the heights that two tiles both have.
type overlap struct {
	cells int
	sum   float64 // [m]
	most  float64 // [m], without its sign
}

// paste puts in heights where there are none, and counts those it put in.
func (m *mosaic) paste(tile grid.Ground) int {
	x0 := int(math.Round((tile.West - m.Ground.West) / tile.DX))
	y0 := int(math.Round((m.Ground.North - tile.North) / tile.DY))
	put := 0
	for y := range tile.H {
		if y+y0 < 0 || y+y0 >= m.Ground.H {
			continue
		}
		row := m.Ground.Row(y + y0)
		for x, v := range tile.Row(y) {
			if x+x0 < 0 || x+x0 >= m.Ground.W || grid.IsNoData(v) {
				continue
			}
			at := &row[x+x0]
			if grid.IsNoData(*at) {
				*at = v
				put++
				continue
			}
			off := float64(v) - float64(*at)
			m.over.cells++
			m.over.sum += off
			m.over.most = max(m.over.most, math.Abs(off))
		}
	}
	return put
}
