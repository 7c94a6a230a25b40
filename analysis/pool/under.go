package pool

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/analysis/soil"
	"runnel/geo"
	"runnel/geo/grid"
)

// soilApart is how far apart the soil and the water table are asked for at most [m].
const soilApart = 5.0

// A footing is what one stretch of bed adds to a pool: its soil under water [m²] and the
// water's surface [m²].
type footing struct {
	*channel.Stretch
	contact, surface float64
}

// footings adds strips up by their stretches, under the water that a level gives for
// each.
func (w *worker) footings(strips []channel.Strip, level func(*channel.Strip) float64) []footing {
	number := make(map[int]int, 64)
	var all []footing
	for i := range strips {
		s := &strips[i]
		contact, surface, _ := below(s, level(s))
		k, ok := number[s.Of]
		if !ok {
			k = len(all)
			number[s.Of] = k
			all = append(all, footing{Stretch: &w.stretches[s.Of]})
		}
		all[k].contact, all[k].surface = all[k].contact+contact, all[k].surface+surface
	}
	return slices.DeleteFunc(all, func(f footing) bool { return !(f.contact > 0) })
}

// stands finds what a pool of channels stands on: its soil, the water table and its
// pieces in plan.
func (p *Pool) stands(w *worker, strips []channel.Strip) {
	level := p.Running
	if math.IsNaN(level) {
		level = p.Top().Level
	}
	feet := w.footings(strips, func(*channel.Strip) float64 { return level })
	p.Soil = w.soilUnder(feet)
	p.Table, p.lowAt = w.tableUnder(feet, p.Floor, p.Top().Level)
	p.Pieces = pieces(feet)
}

// A kind is a soil and how much of it is under water [m²].
type kind struct {
	soil soil.Soil
	area float64
}

// soilUnder returns the mean of the soil by contact area, its conductivities as of
// soils side by side. Its name and source are all of them, the most of it first, and its group is
// that of the most.
func (w *worker) soilUnder(feet []footing) soil.Soil {
	var mean soil.Soil
	var kinds []kind
	total := 0.0
	for i := range feet {
		f := &feet[i]
		count := max(1, math.Ceil(planar.Distance(f.From, f.To)/soilApart))
		for k := 0.0; k < count; k++ {
			at, bed := f.along((k + 0.5) / count)
			depth := grid.Sample(w.site.Ground, at) - bed
			if math.IsNaN(depth) {
				depth = 0
			}
			s, area := w.soils.At(at, depth), f.contact/count
			mean.Ksat = geo.Range{Low: mean.Ksat.Low + area*s.Ksat.Low, Likely: mean.Ksat.Likely + area*s.Ksat.Likely, High: mean.Ksat.High + area*s.Ksat.High}
			mean.Suction, mean.Deficit, total = mean.Suction+area*s.Suction, mean.Deficit+area*s.Deficit, total+area
			j := slices.IndexFunc(kinds, func(k kind) bool { return k.soil.Name == s.Name && k.soil.Source == s.Source })
			if j < 0 {
				j, kinds = len(kinds), append(kinds, kind{soil: s})
			}
			kinds[j].area += area
		}
	}
	if total == 0 {
		return w.soils.At(w.site.Ground.Bound().Center(), 0)
	}
	if len(kinds) == 1 {
		return kinds[0].soil
	}
	slices.SortStableFunc(kinds, func(a, b kind) int { return cmp.Compare(b.area, a.area) })
	mean.Group = kinds[0].soil.Group
	mean.Name, mean.Source = joined(kinds, func(k kind) string { return k.soil.Name }), joined(kinds, func(k kind) string { return k.soil.Source })
	mean.Ksat, mean.Suction, mean.Deficit = mean.Ksat.Scale(1/total), mean.Suction/total, mean.Deficit/total
	return mean
}

// joined lists what kinds of soil are called, each once.
func joined(kinds []kind, of func(kind) string) string {
	var names []string
	for _, k := range kinds {
		if name := of(k); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, "; ")
}

// along returns the place a share of the way along a footing, and the bed there [m].
func (f *footing) along(share float64) (at orb.Point, bed float64) {
	return orb.Point{f.From[0] + (f.To[0]-f.From[0])*share, f.From[1] + (f.To[1]-f.From[1])*share}, f.BedA + (f.BedB-f.BedA)*share
}

// tableUnder returns the water table under a pool as far below its floor as the bed lies
// above it where that is least [m], NaN where the table is not known, and where that is. The
// table follows the higher of the grounds at the water's edges at a level.
func (w *worker) tableUnder(feet []footing, floor, level float64) (table float64, place orb.Point) {
	under, above := earthwork.Tables(w.site), math.Inf(1)
	for i := range feet {
		f := &feet[i]
		long := planar.Distance(f.From, f.To)
		for k := 0.0; k < max(1, math.Ceil(long/soilApart)); k++ {
			at, bed := f.along((k + 0.5) / max(1, math.Ceil(long/soilApart)))
			half := 0.0
			if section, err := w.network.SectionAt(f.ID, f.Start+long/2); err == nil && f.Island == 0 {
				half = section.TopWidth(max(0, level-bed)) / 2
			}
			dx, dy := (f.To[1]-f.From[1])/max(long, flatStrip)*half, -(f.To[0]-f.From[0])/max(long, flatStrip)*half
			ground := math.Inf(-1)
			for _, side := range []float64{-1, 0, 1} {
				if z := grid.Sample(w.site.Ground, orb.Point{at[0] + side*dx, at[1] + side*dy}); z > ground {
					ground = z
				}
			}
			if math.IsInf(ground, -1) {
				ground = math.NaN()
			}
			if room := bed - under(at, ground); room < above {
				above, place = room, at
			}
		}
	}
	if math.IsInf(above, 1) {
		return math.NaN(), place
	}
	return floor - above, place
}

// aboveTable reports whether a pool's bed lies above the water table; where it does not
// it says so, and the pool is withheld.
func (w *worker) aboveTable(p *Pool) bool {
	if !(p.Table >= p.Floor) {
		return true
	}
	w.withhold(p.Lines[0], p.lowAt, "the bed of %s lies %.2f m below the water table of the wet season, so groundwater stands in it and nothing soaks in there; what it soaks in is not told. Raise the bed, or mend the depth to groundwater", p.Title, p.Table-p.Floor)
	return false
}

// lowestPlace returns a place of the lowest strip that is no lower than a floor.
func (w *worker) lowestPlace(strips []channel.Strip, floor float64) orb.Point {
	var place orb.Point
	low := math.Inf(1)
	for i := range strips {
		if s := &strips[i]; s.Low >= floor-sameLevel && s.Low < low {
			f := footing{Stretch: &w.stretches[s.Of]}
			place, _ = f.along(0.5)
			low = s.Low
		}
	}
	return place
}
