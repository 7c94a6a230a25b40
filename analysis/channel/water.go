package channel

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A water is what stands at one level, in one pool or in several that are joined.
type water struct {
	// bank is the lowest of its banks, brim that or where it gets out sooner: into a
	// drain, or over a sill into lower water.
	bank, brim lip
	// tie is the least water of the drains that it is open to, crest the least level
	// of the sills that hold it, spill that of its spillways, set that of the
	// channels whose own level it is; at +Inf where there is none.
	tie, crest, spill, set float64
	// level is that of its surface [m].
	level float64
	// by is the channel that set it.
	by plan.Feature
}

// A link is where water passes from one pool to another above a crest [m]: over a
// sill, down from one to the other, or through an opening that is not joined.
type link struct {
	from, to int
	crest    float64
	sill     bool
	// over is the sill, at the place of the opening.
	over plan.Feature
	at   orb.Point
}

// A filling is the pools of all channels on the way to their water.
type filling struct {
	*builder
	pools  []pool
	waters []water
	links  []link
}

// setLevels gives every channel its water. Pools that are joined have one: its level
// is that which is set; else the lowest crest that is set of a spillway at its bank
// (one that is not set follows the water: see usualSpill); else that of the drain it
// ties in to; else its lowest bank less the freeboard. A sill parts a channel in
// pools. The channel's own level then holds below the last sill; above each sill
// water stands at its crest (where none is set, at the lowest bank above it less the
// freeboard), no higher than the drain that ties in there and no lower than the pool
// below. No water stands above its brim: see brims.
func (b *builder) setLevels() {
	f := filling{builder: b}
	for i := range b.runs {
		first := len(f.pools)
		f.pools = append(f.pools, b.pools(i)...)
		for k := first; k < len(f.pools); k++ {
			f.pools[k].number, f.pools[k].water = k, k
			if k > first {
				up := &f.pools[k-1]
				f.links = append(f.links, link{from: k - 1, to: k, crest: ifFinite(up.crest, up.bank.still()), sill: true, over: b.drawn[plan.Sill][up.sill]})
			}
		}
	}
	f.gather()
	f.rise()
	if f.join() {
		f.gather()
		f.rise()
	}
	for i := range b.runs {
		f.fill(i)
	}
	f.sills()
	f.judgeSpillways()
	b.Network.pools, b.waters, b.Network.links = f.pools, f.waters, f.links
	b.laySystems()
}

// gather puts together what stands in each water's pools.
func (f *filling) gather() {
	inf := math.Inf(1)
	f.waters = make([]water, len(f.pools))
	for i := range f.waters {
		none := lip{level: inf}
		f.waters[i] = water{bank: none, brim: none, tie: inf, crest: inf, spill: inf, set: inf}
	}
	for _, p := range f.pools {
		w, of := &f.waters[p.water], f.runs[p.run].feature
		w.bank = w.bank.orLower(p.bank)
		out := lip{level: p.tie.level + tieSlack, drain: p.tie.drain, at: p.tie.at, of: of.ID, title: of.Title()}
		w.brim = w.brim.orLower(p.bank).orLower(out)
		w.tie, w.spill = min(w.tie, p.tie.level), min(w.spill, p.spill)
		if set := of.Num("water_level"); p.lowest && set < w.set {
			w.set, w.by = set, of
		}
	}
	for _, p := range f.pools {
		if w := &f.waters[p.water]; p.sill >= 0 {
			w.crest = min(w.crest, ifFinite(p.crest, w.bank.still()))
		}
	}
	f.brims()
}

// brims works out where each water runs out first: over its bank, into a drain, or
// from the next, if it gets there over what parts them.
func (f *filling) brims() {
	for changed := true; changed; {
		changed = false
		pass := func(from, to int, crest float64) {
			a, b := &f.waters[f.pools[from].water], &f.waters[f.pools[to].water]
			if out := max(crest, b.brim.level); out < a.brim.level {
				a.brim = b.brim
				a.brim.level, changed = out, true
			}
		}
		for _, l := range f.links {
			pass(l.from, l.to, l.crest)
			pass(l.to, l.from, l.crest)
		}
	}
}

// rise gives each water its level, as high at least as the water below its sills.
func (f *filling) rise() {
	for i := range f.waters {
		w := &f.waters[i]
		w.level = w.own()
	}
	for changed := true; changed; {
		changed = false
		for _, l := range f.links {
			up, down := &f.waters[f.pools[l.from].water], &f.waters[f.pools[l.to].water]
			if below := min(down.level, down.brim.level); l.sill && below > up.level {
				up.level, changed = below, true
			}
		}
	}
}

// own returns where a water stands by itself [m].
func (w *water) own() float64 {
	switch {
	case !math.IsInf(w.crest, 1) && !math.IsInf(w.set, 1):
		return min(w.crest, w.set)
	case !math.IsInf(w.crest, 1):
		return min(w.crest, w.tie)
	case !math.IsInf(w.set, 1):
		return w.set
	case !math.IsInf(w.spill, 1):
		return w.spill
	case !math.IsInf(w.tie, 1):
		return w.tie
	}
	// No one asks for more than the brim.
	return ifFinite(min(w.bank.still(), w.brim.level), math.NaN())
}

// join joins the pools between which water stands above the saddle; it reports
// whether there are any.
func (f *filling) join() bool {
	any := false
	for i := range f.joints {
		j := &f.joints[i]
		a, b := f.poolAt(j.a, j.atA), f.poolAt(j.b, j.atB)
		here, there := &f.waters[f.pools[a].water], &f.waters[f.pools[b].water]
		if j.joined = max(min(here.level, here.brim.level), min(there.level, there.brim.level)) > j.saddle; !j.joined {
			f.links = append(f.links, link{from: a, to: b, crest: j.saddle, at: j.place})
			continue
		}
		any = true
	}
	for _, j := range f.joints {
		if j.joined {
			f.merge(f.pools[f.poolAt(j.a, j.atA)].water, f.pools[f.poolAt(j.b, j.atB)].water)
		}
	}
	f.conflicts()
	return any
}

// merge makes two waters one.
func (f *filling) merge(a, b int) {
	for i := range f.pools {
		if f.pools[i].water == b {
			f.pools[i].water = a
		}
	}
}

// poolAt returns the number of the pool of a run at a chainage [m].
func (f *filling) poolAt(run int, chainage float64) int {
	at := 0
	for i, p := range f.pools {
		if p.run == run && (p.from <= chainage+shortest && chainage <= p.to+shortest || f.pools[at].run != run) {
			at = i
		}
	}
	return at
}

// conflicts says where levels are set for two channels that are one water.
func (f *filling) conflicts() {
	for _, j := range f.joints {
		a, b := f.poolAt(j.a, j.atA), f.poolAt(j.b, j.atB)
		one, other := f.runs[j.a].feature, f.runs[j.b].feature
		low, high := one.Num("water_level"), other.Num("water_level")
		if !j.joined || !f.pools[a].lowest || !f.pools[b].lowest || !(math.Abs(low-high) > spillFilm) {
			continue
		}
		f.problemAt(one, j.place, fmt.Errorf("%s and %s are one water, but their water levels are set at %.2f m and %.2f m; set one level for both. They are measured at the lower", one.Title(), other.Title(), low, high))
	}
}

// fill brings water to the pools of a channel, and says what is wrong with it.
func (f *filling) fill(run int) {
	l := &f.runs[run]
	asked, over, in := math.Inf(-1), lip{}, -1
	l.lip = lip{level: math.Inf(1)}
	for i := range f.pools {
		p := f.pools[i]
		if p.run != run {
			continue
		}
		w := &f.waters[p.water]
		l.lip = l.lip.orLower(w.brim)
		l.hold(p, w)
		if p.sill >= 0 {
			f.crestAt(p.sill, l.feature.ID, ifFinite(p.crest, w.level))
		}
		// What a sill or a spillway asks too much of is said of that.
		if w.level-w.brim.level > asked-over.level && !f.overfull(p) && !f.spillsLate(p) {
			asked, over, in = w.level, w.brim, p.water
		}
	}
	l.dropFilm()
	l.level = lowestLevel(l.segs)
	err := trouble(l.feature, l.segs, asked, over)
	if err == nil || wet(l.segs) && f.saysOther(run, in, over) || !wet(l.segs) && f.drainedAt(run) {
		return
	}
	f.problemAt(l.feature, over.shows(l.feature, asked), err)
}

// shows returns where the trouble with the water of a channel that is asked to stand
// at a level shows on the map: where it runs out, else on the channel.
func (l lip) shows(of plan.Feature, asked float64) orb.Point {
	if l.at == (orb.Point{}) || asked <= l.level+spillFilm {
		return somewhere(of)
	}
	return l.at
}

// saysOther reports whether what is wrong with a water is said of another channel
// that it stands in, whose bank it is that is too low.
func (f *filling) saysOther(run, in int, over lip) bool {
	for _, p := range f.pools {
		if p.water == in && p.run != run && f.runs[p.run].feature.ID == over.of {
			return true
		}
	}
	return false
}

// overfull reports whether a pool's sill has a crest above its brim.
func (f *filling) overfull(p pool) bool {
	return p.sill >= 0 && ifFinite(p.crest, math.Inf(-1)) > f.waters[p.water].brim.level+spillFilm
}

// sills says which sills across channels are higher than the banks of their water.
func (f *filling) sills() {
	for _, p := range f.pools {
		if !f.overfull(p) {
			continue
		}
		sill, of, low := f.drawn[plan.Sill][p.sill], f.runs[p.run].feature, f.waters[p.water].brim
		f.problemAt(sill, low.at, sillSpills(sill, of, p.crest, low))
	}
}

// sillSpills says that a sill holds water of a line above its lowest bank.
func sillSpills(sill, of plan.Feature, crest float64, low lip) error {
	args := []any{sill.Title(), crest, of.Title(), low.level, low.place(of.ID)}
	return brimful{of.ID,
		fmt.Errorf("%s would spill: at %.2f m the water that it holds in %s would run out over the bank, which is lowest, at %.2f m, %s; lower the crest. It is measured full to the brim", args...),
		fmt.Errorf("%s would spill: at %.2f m the water that it holds in %s would run out over the bank, which is lowest, at %.2f m, %s; lower the crest", args...)}
}
