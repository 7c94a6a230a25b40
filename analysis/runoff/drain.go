package runoff

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/analysis/internal/raster"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// burnDrains lowers the cells of drains to their beds. The bed is one line of
// cells wide at least, and as wide as it is drawn. Ground is never raised to it,
// and what a scheme has filled, such as a sill, is left standing.
func (b *builder) burnDrains() {
	for _, f := range b.drawn[plan.Drain] {
		bed := drainBed(b.site.Ground, f)
		if len(bed) == 0 {
			b.problem(f, "%s lies off the ground; move it onto the ground")
			continue
		}
		line, burnt := f.Line(), make(map[int32]bool)
		burn := func(c int32) {
			if !burnt[c] {
				burnt[c] = true
				b.burn(c, line, bed)
			}
		}
		raster.Along(b.Ground.Frame, line, burn)
		raster.Broaden(b.Ground.Frame, line, f.Num("bed_width")/2, burn)
	}
}

// drainBed returns a drain's bed as the survey shows it. A survey in which the
// drain is not cut, to half its depth on the mean, does not know it: there the
// bed lies the drain's depth below its banks.
func drainBed(survey grid.Ground, f plan.Feature) channel.Profile {
	bed := channel.DrainBed(survey, f)
	depth, half := f.Num("depth"), f.Width()/2+math.Hypot(survey.DX, survey.DY)
	shown, n := 0.0, 0.0
	for _, s := range bed {
		p, ux, uy := placeAt(f.Line(), s.Chainage)
		for _, side := range []float64{-half, half} {
			if bank := grid.Sample(survey, orb.Point{p[0] - uy*side, p[1] + ux*side}); !math.IsNaN(bank) {
				shown, n = shown+bank-s.Level, n+1
			}
		}
	}
	if n > 0 {
		shown /= n
	}
	if shown >= depth/2 {
		return bed
	}
	for i := range bed {
		bed[i].Level -= depth - max(0, shown)
	}
	return bed
}

// burn lowers one cell to the bed beside it.
func (b *builder) burn(c int32, line orb.LineString, bed channel.Profile) {
	f := b.Ground.Frame
	if b.is(c, unknown) || b.filled(c) {
		return
	}
	chainage := nearestOn(line, f.Centre(int(c)%f.W, int(c)/f.W))
	b.Ground.V[c] = min(b.Ground.V[c], float32(bed.At(chainage)))
	b.marks[c] |= opened | bedded
}

// filled reports whether a scheme has raised a cell above the survey.
func (b *builder) filled(c int32) bool {
	survey := b.site.Ground
	return survey.Frame == b.Ground.Frame && b.Ground.V[c] > survey.V[c]
}

// nearestOn returns the chainage [m] of the place on a line that is nearest to p.
func nearestOn(line orb.LineString, p orb.Point) float64 {
	segment, least := 1, math.Inf(1)
	for i := 1; i < len(line); i++ {
		if d := planar.DistanceFromSegmentSquared(line[i-1], line[i], p); d < least {
			segment, least = i, d
		}
	}
	on := plan.NearestOnSegment(line[segment-1], line[segment], p)
	return planar.Length(line[:segment]) + planar.Distance(line[segment-1], on)
}

// placeAt returns the place at a chainage of a line [m] and its direction there.
func placeAt(line orb.LineString, chainage float64) (p orb.Point, ux, uy float64) {
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := planar.Distance(a, b)
		if length == 0 {
			continue
		}
		ux, uy = (b[0]-a[0])/length, (b[1]-a[1])/length
		along := min(chainage, length)
		p = orb.Point{a[0] + ux*along, a[1] + uy*along}
		if chainage <= length {
			break
		}
		chainage -= length
	}
	return p, ux, uy
}
