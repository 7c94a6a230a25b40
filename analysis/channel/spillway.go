package channel

import (
	"fmt"
	"math"

	"runnel/geo/plan"
)

// spillsLate reports whether a pool's water is asked to stand at the crest of a
// spillway that lies above its lowest bank, so that it never gets there.
func (f *filling) spillsLate(p pool) bool {
	w := &f.waters[p.water]
	return w.level == w.spill && f.above(w, w.spill)
}

// above reports whether a crest lies above the lowest bank of a water [m].
func (f *filling) above(w *water, crest float64) bool {
	return w.brim.drain == "" && crest > w.brim.level+spillFilm
}

// lowestBed returns the lowest place of a pool's bed [m].
func (f *filling) lowestBed(p pool) float64 {
	low := math.Inf(1)
	for _, s := range f.runs[p.run].segs {
		if s.start >= p.from-shortest && s.start < p.to-shortest {
			low = min(low, min(s.lows()))
		}
	}
	return low
}

// drainedAt reports whether a spillway lets all water out of a run.
func (f *filling) drainedAt(run int) bool {
	for _, p := range f.pools {
		if w := &f.waters[p.water]; p.run == run && w.level == w.spill && w.spill <= f.lowestBed(p) {
			return true
		}
	}
	return false
}

// judgeSpillways says which spillways have a crest over which no water can spill.
func (f *filling) judgeSpillways() {
	for _, p := range f.pools {
		for _, spillway := range p.spillways {
			if err := f.judgeSpillway(p, spillway); err != nil {
				f.problemAt(spillway, spillway.Point(), err)
			}
		}
	}
}

func (f *filling) judgeSpillway(p pool, spillway plan.Feature) error {
	w, of, crest := &f.waters[p.water], f.runs[p.run].feature, spillway.Num("crest")
	bed := f.lowestBed(p)
	along, _ := Chainage(of.Line(), spillway.Point())
	switch {
	case crest <= bed && wet(f.runs[p.run].segs):
		return fmt.Errorf("%s, %.1f m along %s, has its crest at %.2f m, no higher than the channel's bed, which lies at %.2f m at the lowest: no water could stand there; raise the crest above the bed", spillway.Title(), along, of.Title(), crest, bed)
	case crest <= bed:
		return fmt.Errorf("%s, %.1f m along %s, has its crest at %.2f m, no higher than the channel's bed, which lies at %.2f m at the lowest: all its water runs out; raise the crest above the bed", spillway.Title(), along, of.Title(), crest, bed)
	case f.above(w, crest):
		return fmt.Errorf("%s, %.1f m along %s, never spills: its crest at %.2f m lies above the lowest bank, at %.2f m, %s, and the water runs out there first; lower the crest, or raise the bank", spillway.Title(), along, of.Title(), crest, w.brim.level, w.brim.place(of.ID))
	}
	return nil
}
