package view

import (
	"context"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// dayLimits are the days a year from which each class of how long water stands begins:
// a day, a week, and one, two, four and eight months. Less than the first is not drawn.
var dayLimits = [...]float64{1, 7, 30, 60, 120, 240}

// WithDays returns the scene with the days a year on which each cell is under water; NaN
// where it stays dry. No cells are days that are not known.
func (s *Scene) WithDays(days grid.Ground) *Scene {
	other := *s
	other.Days = days
	x := *s.index()
	x.days = newDays(days)
	other.prepared = &x
	return &other
}

// WithDaysOf returns the scene with the days of another, which are prepared there.
func (s *Scene) WithDaysOf(of *Scene) *Scene {
	other := *s
	other.Days = of.Days
	x := *s.index()
	x.days = of.index().days
	other.prepared = &x
	return &other
}

// newDays prepares days a year for drawing, those of less than the first class left out.
func newDays(days grid.Ground) pond {
	if days.Len() == 0 {
		return pond{}
	}
	long := days.Clone()
	eachRow(long.H, func(y int) {
		row := long.Row(y)
		for x, v := range row {
			if !(v >= float32(dayLimits[0])) {
				row[x] = 0
			}
		}
	})
	return newPond(long, grid.Ground{})
}

// dayClass returns the class of days a year, from 0.
func dayClass(days float64) int {
	class := 0
	for class < len(dayLimits)-1 && days >= dayLimits[class+1] {
		class++
	}
	return class
}

// drawDays colours the ground by how many days a year it is under water, up to an edge
// drawn between cells.
func (k *canvas) drawDays(ctx context.Context, p pond) error {
	if p.depth.Len() == 0 || !(p.deepest > 0) || !k.sees(p.bound, 2) {
		return nil
	}
	columns, lines := k.columns(p.depth.Frame), k.lines(p.depth.Frame)
	y0, y1 := k.windowRows(p.bound)
	brush := dayBrush{colours: &k.look.Days, perPixel: 1 / (k.camera.Scale * min(p.depth.DX, p.depth.DY))}
	return rows(ctx, y0, y1, func(y int) {
		r := lines[y]
		if r.a < 0 {
			return
		}
		top, bottom := p.depth.Row(int(r.a)), p.depth.Row(int(r.b))
		for _, run := range p.runs[r.a] {
			x0, x1 := k.pixels(p.depth.Frame, run)
			for x := x0; x < x1; x++ {
				if c := columns[x]; c.a >= 0 {
					four := [4]float32{top[c.a], top[c.b], bottom[c.a], bottom[c.b]}
					brush.paint(k.dst.Pix[y*k.dst.Stride+4*x:], four, [2]float64{float64(c.t) / 256, float64(r.t) / 256})
				}
			}
		}
	})
}

// A dayBrush paints one pixel of ground that is under water for some days.
type dayBrush struct {
	colours *[len(dayLimits)]Colour
	// perPixel is how many cells wide a pixel is.
	perPixel float64
}

// paint blends the days of those of four cells that are wet: what is dry beside them
// makes an edge, and no band of each class on the way to it.
func (b dayBrush) paint(pix []uint8, four [4]float32, at [2]float64) {
	weights := [4]float64{(1 - at[0]) * (1 - at[1]), at[0] * (1 - at[1]), (1 - at[0]) * at[1], at[0] * at[1]}
	var wet, days float64
	for i, v := range four {
		if v > 0 {
			wet += weights[i]
			days += weights[i] * math.Log(float64(v))
		}
	}
	// The weight of what is wet falls from one to nought within a cell.
	cover := min(1, max(0, (wet-0.5)/b.perPixel+0.5))
	if cover == 0 {
		return
	}
	blend(pix, b.colours[dayClass(math.Exp(days/wet)*(1+1e-6))], uint32(cover*255+0.5))
}

// listDays puts the classes of days under water, or that they are not known yet.
func (s *Scene) listDays(l *lister) {
	shown := s.Show.Has(Days)
	if s.Days.Len() == 0 {
		l.put(shown, swatch("Days under water: not known yet", sampleUnknown))
		return
	}
	var figures []string
	for _, limit := range dayLimits {
		figures = append(figures, strconv.FormatFloat(limit, 'f', -1, 64))
	}
	l.put(shown, Entry{
		Words: "Under water, days a year or more", Figures: figures, sample: sampleDays,
		at: func(i int) float64 { return float64(i) / float64(len(dayLimits)) },
	})
}

func sampleDays(k *canvas, b orb.Bound) {
	k.strip(b, len(k.look.Days), func(i int) Colour { return k.look.Days[i] })
	k.hem(b)
}
