package pool

import (
	"math"
	"slices"

	"runnel/analysis/channel"
)

// How finely a curve is worked out, how many stages it keeps at least and at most, and by
// which share of the figures at its top it may be off between them.
const (
	fineStages  = 100
	fewStages   = 20
	mostStages  = 40
	curveSlack  = 0.001
	sameLevel   = 1e-6 // [m]
	flatStrip   = 1e-9 // [m]
	floorShare  = 0.005
	leastVolume = 1e-12 // [m³]
)

// below returns what a strip comes to under water that stands at a level [m].
func below(s *channel.Strip, level float64) (contact, surface, volume float64) {
	rise := s.High - s.Low
	if level < s.Low-flatStrip {
		return 0, 0, 0
	}
	f := 1.0
	if rise > flatStrip {
		f = min(1, (level-s.Low)/rise)
	}
	more := s.HighWidth - s.LowWidth
	area := f * (s.LowWidth + more*f/2)
	surface = s.Run * area
	return s.Slant * area, surface, s.Run*rise*f*f*(s.LowWidth/2+more*f/6) + surface*max(0, level-s.High)
}

// at adds up what strips come to under water that stands at a level [m].
func at(strips []channel.Strip, level float64) Stage {
	sum := Stage{Level: level}
	for i := range strips {
		contact, surface, volume := below(&strips[i], level)
		sum.Contact, sum.Surface, sum.Volume = sum.Contact+contact, sum.Surface+surface, sum.Volume+volume
	}
	return sum
}

// floorOf returns the lowest level of strips' soil [m], but for holes that together are
// less than a two-hundredth of the surface: what stands in them is left out, lest the
// last puddle rule how long all takes to soak away.
func floorOf(strips []channel.Strip) float64 {
	type lowest struct{ level, area float64 }
	all, total := make([]lowest, 0, len(strips)), 0.0
	for i := range strips {
		s := &strips[i]
		area := s.Run * (s.LowWidth + s.HighWidth) / 2
		all, total = append(all, lowest{s.Low, area}), total+area
	}
	slices.SortFunc(all, func(a, b lowest) int {
		if a.level < b.level {
			return -1
		}
		return 1
	})
	sum := 0.0
	for _, l := range all {
		if sum += l.area; sum >= floorShare*total {
			return l.level
		}
	}
	return math.NaN()
}

// curve returns the stages of strips from a floor to a top [m], with one at each of the
// levels that are to be kept. None: there is no room for water.
func curve(strips []channel.Strip, floor, top float64, keep []float64) []Stage {
	if !(top > floor+sameLevel) {
		return nil
	}
	levels := append([]float64(nil), keep...)
	for i := range fineStages + 1 {
		levels = append(levels, floor+(top-floor)*float64(i)/fineStages)
	}
	levels = slices.DeleteFunc(levels, func(l float64) bool { return !(l >= floor && l <= top) })
	slices.Sort(levels)
	levels = slices.CompactFunc(levels, func(a, b float64) bool { return math.Abs(a-b) < sameLevel })
	levels[len(levels)-1] = top
	fine := fineCurve(strips, levels)
	return thinned(fine, keep)
}

// fineCurve adds up strips at levels that go up. Each is followed through the levels
// between its edges; above them it counts as a whole.
func fineCurve(strips []channel.Strip, levels []float64) []Stage {
	stages, whole := make([]Stage, len(levels)), make([]Stage, len(levels)+1)
	top := levels[len(levels)-1]
	for k := range strips {
		s := &strips[k]
		if s.Low > top-2*sameLevel {
			continue // a level crest at the brim is dry until it is over it
		}
		i, _ := slices.BinarySearch(levels, s.Low-flatStrip)
		for ; i < len(levels) && levels[i] < s.High-flatStrip; i++ {
			contact, surface, volume := below(s, levels[i])
			stages[i].Contact, stages[i].Surface, stages[i].Volume = stages[i].Contact+contact, stages[i].Surface+surface, stages[i].Volume+volume
		}
		contact, surface, volume := below(s, s.High)
		w := &whole[i]
		w.Contact, w.Surface, w.Volume = w.Contact+contact, w.Surface+surface, w.Volume+volume-surface*(s.High-levels[0])
	}
	var sum Stage
	for i := range stages {
		w := whole[i]
		sum.Contact, sum.Surface, sum.Volume = sum.Contact+w.Contact, sum.Surface+w.Surface, sum.Volume+w.Volume
		t := &stages[i]
		t.Level = levels[i]
		t.Contact, t.Surface, t.Volume = t.Contact+sum.Contact, t.Surface+sum.Surface, t.Volume+sum.Volume+sum.Surface*(levels[i]-levels[0])
	}
	return rising(stages)
}

// rising takes the water below the lowest stage away, and what rounding has left of a
// curve that does not rise.
func rising(stages []Stage) []Stage {
	under := stages[0].Volume
	kept := stages[:0]
	for i, t := range stages {
		t.Volume -= under
		if i == 0 {
			t.Volume = 0
		} else if last := kept[len(kept)-1]; t.Volume <= last.Volume+leastVolume {
			continue
		} else {
			t.Contact, t.Surface = max(t.Contact, last.Contact), max(t.Surface, last.Surface)
		}
		kept = append(kept, t)
	}
	return kept
}

// thinned keeps of a fine curve the stages at some levels, and as many more as it takes
// to go straight between them.
func thinned(fine []Stage, keep []float64) []Stage {
	last := len(fine) - 1
	if last < 1 {
		return nil
	}
	in := make([]bool, len(fine))
	in[0], in[last] = true, true
	count := 2
	for _, level := range keep {
		for i := range fine {
			if math.Abs(fine[i].Level-level) < 2*sameLevel && !in[i] {
				in[i], count = true, count+1
			}
		}
	}
	for count < min(mostStages, len(fine)) {
		worst, off := mostOff(fine, in)
		if worst < 0 || off < curveSlack && count >= fewStages {
			break
		}
		in[worst], count = true, count+1
	}
	var kept []Stage
	for i, t := range fine {
		if in[i] {
			kept = append(kept, t)
		}
	}
	return kept
}

// mostOff returns which stage the straight lines between those that are kept miss by the
// largest share of the top's figures, and by what; -1 where all are kept.
func mostOff(fine []Stage, in []bool) (worst int, off float64) {
	worst, off = -1, -1
	top, a := fine[len(fine)-1], 0
	for b := 1; b < len(fine); b++ {
		if !in[b] {
			continue
		}
		for i := a + 1; i < b; i++ {
			t := (fine[i].Level - fine[a].Level) / (fine[b].Level - fine[a].Level)
			miss := func(of func(*Stage) float64) float64 {
				return math.Abs(of(&fine[a])+t*(of(&fine[b])-of(&fine[a]))-of(&fine[i])) / of(&top)
			}
			e := max(miss(contactOf), miss(surfaceOf), miss(volumeOf))
			if e > off {
				worst, off = i, e
			}
		}
		a = b
	}
	return worst, off
}

func contactOf(s *Stage) float64 { return s.Contact }
func surfaceOf(s *Stage) float64 { return s.Surface }
func volumeOf(s *Stage) float64  { return s.Volume }

// levelTouching returns the level at which a curve touches some contact area, no higher
// than its top.
func levelTouching(stages []Stage, contact float64) float64 {
	for i := 1; i < len(stages); i++ {
		a, b := stages[i-1], stages[i]
		if contact <= b.Contact && b.Contact > a.Contact {
			return a.Level + (b.Level-a.Level)*max(0, (contact-a.Contact)/(b.Contact-a.Contact))
		}
	}
	return stages[len(stages)-1].Level
}
