package route

import (
	"math"

	"runnel/analysis/pool"
)

// A basin is a pool as a storm sees it.
type basin struct {
	*pool.Pool
	// soak is the rate [m/s], NaN rates taken for nought; rain the area on which it falls [m²].
	soak, rain float64
	// hold is what it holds at the level of the drain, film what is no water [m³].
	hold, film float64
	seg        int
}

// A look is a pool at a volume: its level, contact, and how both go with volume.
type look struct{ level, contact, level1, contact1 float64 }

// at looks at a volume. Below nothing it goes on as from the first stage, above the brim between upright walls.
func (b *basin) at(v float64) look {
	top := b.Top()
	if v >= top.Volume {
		return look{top.Level + (v-top.Volume)/top.Surface, top.Contact, 1 / top.Surface, 0}
	}
	k, last := b.seg, len(b.Stages)-2
	for k < last && v > b.Stages[k+1].Volume {
		k++
	}
	for k > 0 && v <= b.Stages[k].Volume {
		k--
	}
	for k < last && b.Stages[k+1].Volume == b.Stages[k].Volume {
		k++
	}
	b.seg = k
	s, t := &b.Stages[k], &b.Stages[k+1]
	level1, contact1 := (t.Level-s.Level)/(t.Volume-s.Volume), (t.Contact-s.Contact)/(t.Volume-s.Volume)
	if v <= 0 {
		return look{s.Level, s.Contact, level1, 0}
	}
	return look{s.Level + level1*(v-s.Volume), s.Contact + contact1*(v-s.Volume), level1, contact1}
}

// A way is an outlet between two pools, or from one out.
type way struct {
	from, at int // the pool, and the outlet's place in it
	pool.Outlet
	// back is set where it passes water either way: a sill.
	back bool
	// rating is what it passes at a level where a table gives that [m³/s]; nil for the formula of its kind.
	rating func(level float64) float64
	passed Passed
}

// closeLevels is the difference of two levels below which the flow over a drowned sill is
// taken to grow with it in line [m], for its slope has no bound.
const closeLevels = 0.002

// flow is what passes from a level to another [m³/s], below nought where it comes back.
func (w *way) flow(level, tail float64) float64 {
	if w.rating != nil {
		return w.rating(level)
	}
	if w.back && tail > level {
		return -w.near(tail, level)
	}
	return w.near(level, tail)
}

// near is the flow from the higher level to the lower.
func (w *way) near(high, low float64) float64 {
	if !math.IsInf(low, 0) && low > w.Crest && high-low < closeLevels {
		return w.Flow(low+closeLevels, low) * max(0, high-low) / closeLevels
	}
	return w.Flow(high, low)
}

// waysOf lists the outlets of pools, one sill between two pools once. No crest lies below
// the floor of a pool that it leaves.
func waysOf(pools []pool.Pool) []way {
	var ways []way
	for i := range pools {
		for k, o := range pools[i].Outlets {
			w := way{from: i, at: k, Outlet: o, passed: Passed{Outlet: o}}
			w.back = o.Kind == pool.Sill && o.To >= 0 && !pools[i].Drain && !pools[o.To].Drain
			if w.back && listed(ways, &w) {
				continue
			}
			w.Crest = max(o.Crest, pools[i].Stages[0].Level)
			if w.back {
				w.Crest = max(w.Crest, pools[o.To].Stages[0].Level)
			}
			ways = append(ways, w)
		}
	}
	return ways
}

// listed says whether a sill is there from its other side.
func listed(ways []way, w *way) bool {
	for k := range ways {
		o := &ways[k]
		if o.back && o.from == w.To && o.To == w.from && o.ID == w.ID && math.Abs(o.passed.Crest-w.Crest) < 1e-6 {
			return true
		}
	}
	return false
}
