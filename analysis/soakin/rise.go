package soakin

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/caution"
	"runnel/analysis/mound"
	"runnel/analysis/season"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Rise is how much what soaks in from channels raises the water table at one place, over
// the record. What drains soak in the water table holds already, as it is.
type Rise struct {
	// Place is the channel's, well's, building's, septic field's or boundary's feature.
	Place plan.Feature
	At    orb.Point
	// Days is the rise at the end of each day, Peak the greatest [m], on the day numbered PeakDay.
	Days    []float64
	Peak    float64
	PeakDay int
	// Below is how far the table stays below the bed's or the basement's floor at the peak [m],
	// less than nought where it reaches it; NaN where no floor is known.
	Below float64

	// answers are how the place answers to each pool.
	answers [][]float64
}

// A place is where the rise is told: the level of the floor that the table should not
// reach [m], and that of the table before anything soaks in; NaN where they are not known.
type place struct {
	feature      plan.Feature
	at           orb.Point
	floor, table float64
}

// spot is half the side of the square over which the rise at a place is taken [m].
const spot = 0.5

// places lists where the rise is told beside the pools.
func (u *Setup) places(s *plan.Site) []place {
	var list []place
	add := func(f plan.Feature, at orb.Point, deep float64) {
		z := grid.Sample(s.Ground, at)
		list = append(list, place{f, at, z - deep, z - s.Setting.Groundwater})
	}
	for _, f := range s.Plan.Of(plan.Well, u.Scheme) {
		add(f, f.Geometry.(orb.Point), math.NaN())
	}
	for _, f := range s.Plan.Of(plan.Roof, u.Scheme) {
		if deep := f.Num("basement"); deep > 0 {
			add(f, u.nearest(orb.LineString(f.Area()[0])), deep)
		}
	}
	for _, f := range s.Plan.Of(plan.SepticField, u.Scheme) {
		add(f, u.nearest(orb.LineString(f.Area()[0])), math.NaN())
	}
	for _, f := range s.Plan.Of(plan.Boundary, u.Scheme) {
		add(f, u.nearest(orb.LineString(f.Area()[0])), math.NaN())
	}
	return list
}

// nearest returns the place of an outline that is nearest to any pool of a channel, or of a drain where there is no channel.
func (u *Setup) nearest(outline orb.LineString) orb.Point {
	best, least := outline[0], math.Inf(1)
	for _, drains := range []bool{false, true} {
		for _, p := range u.Pools.Pools {
			if p.Drain != drains {
				continue
			}
			for _, piece := range p.Pieces {
				for i := 1; i < len(outline); i++ {
					q := onSegment(outline[i-1], outline[i], piece.At)
					if d := planar.Distance(q, piece.At); d < least {
						best, least = q, d
					}
				}
			}
		}
		if !math.IsInf(least, 1) {
			break
		}
	}
	return best
}

// onSegment returns the place between a and b that is nearest to p.
func onSegment(a, b, p orb.Point) orb.Point {
	dx, dy := b[0]-a[0], b[1]-a[1]
	square := dx*dx + dy*dy
	if square == 0 {
		return a
	}
	t := max(0, min(1, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/square))
	return orb.Point{a[0] + t*dx, a[1] + t*dy}
}

// answer finds how the water table answers to what soaks in, under the pools and at the
// places, where that can be known.
func (u *Setup) answer(s *plan.Site) {
	pools := u.Pools.Pools
	if !s.Setting.Aquifer.Known() || len(pools) == 0 {
		return
	}
	var fields [][]mound.Rect
	room := make([]float64, len(pools))
	for i, p := range pools {
		if room[i] = p.Floor - p.Table; math.IsNaN(room[i]) {
			return
		}
		fields = append(fields, rects(p.Pieces))
	}
	u.told = u.places(s)
	for _, p := range u.told {
		fields = append(fields, []mound.Rect{{At: p.at, Along: orb.Point{1, 0}, HalfLength: spot, HalfWidth: spot}})
	}
	all, misfit := mound.KernelOf(fields, s.Setting.Aquifer, answerDays)
	u.everywhere, u.misfit, u.aquifer = all.Rise, misfit, s.Setting.Aquifer
	for i := range all.Rise {
		for j := range pools {
			if i < len(pools) && pools[i].Drain || pools[j].Drain {
				clear(all.Rise[i][j])
			}
		}
	}
	u.mound = &season.Mound{Days: all.Days, Room: room}
	for i := range pools {
		u.mound.Rise = append(u.mound.Rise, all.Rise[i][:len(pools)])
	}
}

// answerDays is how long after it soaked in water still counts in the mound [days].
const answerDays = 400

// rise follows the water table at the pools and the places through the record.
func (a *Account) rise() {
	u := a.Setup
	if a.Season.Days == nil {
		a.withhold("mound", "How the groundwater rises is not told, for what soaks in is not known.")
		return
	}
	if u.mound == nil {
		a.withhold("mound", "How the groundwater rises is not told: the depth to groundwater and the aquifer's conductivity, yield and thickness are not all set; set them, from a well's log or a pumping test.")
		return
	}
	if math.IsNaN(a.Season.Total.Soaked) || len(u.Pools.Withheld) > 0 {
		a.withhold("mound", "How the groundwater rises is not told, for what soaks in is not known.")
		return
	}
	if a.Scheme == plan.AsItIs {
		return
	}
	pools := u.Pools.Pools
	for i, p := range pools {
		if !p.Drain {
			f, _ := u.feature(p.Lines[0])
			a.Rises = append(a.Rises, a.riseAt(u.everywhere[i], place{f, p.At, p.Floor, p.Table}))
		}
	}
	for k, p := range u.told {
		a.Rises = append(a.Rises, a.riseAt(u.everywhere[len(pools)+k], p))
	}
	for _, r := range a.Rises {
		if err := mound.Check(u.aquifer, r.Peak); err != nil {
			a.withhold("mound", "%s", err)
			a.Notes = append(a.Notes, "Soaking is held back by the same answer of the water table, so that the season is rough too.")
			a.Rises = nil
			return
		}
	}
}

// riseAt follows the water table at a place through the likely season.
func (a *Account) riseAt(answers [][]float64, at place) Rise {
	r := Rise{Place: at.feature, At: at.at, answers: answers}
	r.Days = a.Setup.superposed(answers, a.Season.Days)
	for day, v := range r.Days {
		if v > r.Peak {
			r.Peak, r.PeakDay = v, day
		}
	}
	r.Below = at.floor - at.table - r.Peak
	return r
}

// superposed is the rise at the end of each day of what each pool soaks in, as one place
// answers to each.
func (u *Setup) superposed(answers [][]float64, pools [][]season.Trace) []float64 {
	rise := make([]float64, len(pools[0]))
	for j, answer := range answers[:len(pools)] {
		for k, c := range answer {
			if c == 0 {
				continue
			}
			fades, state := math.Exp(-1/u.mound.Days[k]), 0.0
			for day := range pools[j] {
				state = state*fades + pools[j][day].Soaked
				rise[day] += c * state
			}
		}
	}
	return rise
}

// caution is what the cautions look at of a rise; ok is false for places that have no limit.
func (r Rise) caution() (m caution.Mound, ok bool) {
	if r.Place.Kind != plan.Roof && r.Place.Kind != plan.SepticField {
		return m, false
	}
	return caution.Mound{Place: r.Place, At: r.At, Rise: r.Peak, Below: r.Below}, true
}
