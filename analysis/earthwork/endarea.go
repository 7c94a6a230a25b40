package earthwork

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb/planar"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// Earth is the earth that a scheme moves, in place: by sections along its channels
// in two ways, and cell by cell. The ways share the design alone.
type Earth struct {
	// Stations lists sections along each channel, in order.
	Stations []EarthStation
	// AverageEnd and Prismoidal are the volumes between sections by the two rules,
	// Grid those between the two grounds, all without sills. Spoil that is put on
	// islands and banks is fill.
	AverageEnd, Prismoidal, Grid Volumes
	// Sills is what the walls of the sills add to the fill and take from the cut on
	// the grid: they are one cell thick there, however thick they are built.
	Sills Volumes
}

// An EarthStation is a section across a channel.
type EarthStation struct {
	ID plan.ID
	// Chainage is how far along the channel it lies [m].
	Chainage float64
	// Cut and Fill are its areas [m²], both arms of an island counted.
	Cut, Fill float64
	// CutSoFar and FillSoFar are the volumes from the channel's start [m³] by the
	// average end area, the round ends and the arms of islands counted.
	CutSoFar, FillSoFar float64
}

// stationSpacing is how far apart sections are listed, if no one says [m].
const stationSpacing = 1.0

// EndAreas measures the earth that a network moves in the ground on which it was
// laid out. Sections are listed spacing apart [m], nought being the usual metre; the
// volumes rest on sections that are no further apart than that, nor than 0.5 m.
func EndAreas(ctx context.Context, ground grid.Ground, n *channel.Network, spacing float64) (Earth, error) {
	if !(spacing > 0) {
		spacing = stationSpacing
	}
	digs, err := n.Digs(ctx, min(spacing, usualApart))
	if err != nil {
		return Earth{}, err
	}
	var e Earth
	for _, d := range digs {
		e.AverageEnd.add(d.AverageEnd)
		e.Prismoidal.add(d.Prismoidal)
	}
	if e.Stations, err = stations(ctx, n, digs, spacing); err != nil {
		return Earth{}, err
	}
	open, err := shape(ctx, ground, n)
	if err != nil {
		return Earth{}, err
	}
	e.Grid = Volume(ground, open)
	walled := Volume(ground, wall(open, n))
	e.Sills = Volumes{walled.Cut - e.Grid.Cut, walled.Fill - e.Grid.Fill}
	return e, nil
}

// usualApart is how far apart the sections that volumes rest on lie at most [m].
const usualApart = 0.5

func (v *Volumes) add(e channel.Earth) { v.Cut, v.Fill = v.Cut+e.Cut, v.Fill+e.Fill }

// stations lists sections along every channel, from its start to its end.
func stations(ctx context.Context, n *channel.Network, digs []channel.Dig, spacing float64) ([]EarthStation, error) {
	of := map[plan.ID][]channel.Dig{}
	for _, d := range digs {
		of[d.ID] = append(of[d.ID], d)
	}
	var list []EarthStation
	for _, f := range n.Features() {
		if f.Kind != plan.Channel {
			continue
		}
		digs, so, next := of[f.ID], Volumes{}, 0
		slices.SortStableFunc(digs, func(a, b channel.Dig) int { return cmp.Compare(a.Chainage, b.Chainage) })
		length := planar.Length(f.Line())
		count := math.Ceil(length / spacing)
		for i := 0.0; i <= count; i++ {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			at := min(i*spacing, length)
			for ; next < len(digs) && (digs[next].Chainage <= at || i == count); next++ {
				so.add(digs[next].AverageEnd)
			}
			area, err := n.DigAcross(f.ID, at)
			if err != nil {
				return nil, err
			}
			list = append(list, EarthStation{f.ID, at, area.Cut, area.Fill, so.Cut, so.Fill})
		}
	}
	return list, nil
}
