package pool

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"runnel/geo"
)

// A Reading is the level at which water stood [m] some hours after it was left alone.
type Reading struct{ Hours, Level float64 }

// perMetre is how many millimetres a metre has.
const perMetre = 1000

// fallen returns how much must soak in over each square metre of contact area for the
// water to fall to a level from the top of a curve [m]. A level falls as fast as the soil takes
// water in, times contact area over surface; both go straight between stages, so that the
// integral of surface over contact is exact.
func fallen(stages []Stage, level float64) float64 {
	sum := 0.0
	for i := len(stages) - 1; i > 0; i-- {
		a, b := stages[i-1], stages[i]
		if level >= b.Level {
			break
		}
		sum += soaked(&a, &b, (max(level, a.Level)-a.Level)/(b.Level-a.Level))
	}
	return sum
}

// soaked is the integral of surface over contact from a share of the way between two
// stages up to the higher [m].
func soaked(a, b *Stage, share float64) float64 {
	rise := (b.Level - a.Level) * (1 - share)
	more, wider := b.Contact-a.Contact, b.Surface-a.Surface
	from, to := a.Contact+share*more, b.Contact
	if to <= 0 {
		return 0
	}
	if math.Abs(to-from) <= 1e-9*to {
		return rise * (a.Surface + wider*(1+share)/2) / to
	}
	slope := wider / more
	rest := (a.Surface - slope*a.Contact) / more * (b.Level - a.Level)
	if from <= 0 {
		return rise * slope // there the surface starts from nought too
	}
	return rise*slope + rest*math.Log(to/from)
}

// levelFallen is the inverse of fallen; the floor where more has soaked in.
func levelFallen(stages []Stage, sum float64) float64 {
	low, high := stages[0].Level, stages[len(stages)-1].Level
	if sum >= fallen(stages, low) {
		return low
	}
	for range 60 {
		if middle := (low + high) / 2; fallen(stages, middle) > sum {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// EmptyHours returns how many hours a pool takes to soak away from a level [m] down to its
// floor at a conductivity [mm/h], with nothing coming in; +Inf where nothing soaks in.
func (p *Pool) EmptyHours(from, ksat float64) float64 {
	if math.IsNaN(from) || from <= p.Stages[0].Level {
		return 0
	}
	down := fallen(p.Stages, p.Stages[0].Level) - fallen(p.Stages, from)
	if !(ksat > 0) {
		return math.Inf(1)
	}
	return down * perMetre / ksat
}

// A Fit is what a drawdown found.
type Fit struct {
	// Ksat is the conductivity [mm/h]: low and high are those between which it lies nine
	// times in ten as the misfit has it.
	Ksat geo.Range
	// Start is the level at nought hours [m], Misfit the standard deviation of the readings from
	// the line that fits them best [m], NaN where two readings leave none.
	Start, Misfit float64
}

// readingError is how far off a level read in a channel is taken to be at least [m]: common
// practice for a staff in still water, no source.
const readingError = 0.002

// oneSided is Student's t at 95 % for 1, 2, … degrees of freedom, by common tables;
// beyond them the normal figure holds.
var oneSided = []float64{6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812}

const normal95 = 1.645

// Drawdown fits the conductivity of the soil under a pool to readings of how its water
// fell by soaking in alone: the rate and the level at first that leave the least squares of
// level. Rain and what evaporates are left out: what the air took counts as soaked in, some
// millimetres a day. The rate is that of the bed as it lay, which may be clogged from use; a
// season clogs it once more, so that it rather tells too little than too much.
func Drawdown(stages []Stage, readings []Reading) (Fit, error) {
	if err := checkReadings(stages, readings); err != nil {
		return Fit{}, err
	}
	// On the scale of what has soaked in the fall is a straight line.
	count := float64(len(readings))
	first, last := readings[0], readings[len(readings)-1]
	sum := fallen(stages, first.Level)
	rate := (fallen(stages, last.Level) - sum) / (last.Hours - first.Hours)
	sum -= rate * first.Hours
	var se float64
	for range 50 {
		ds, dr, spread := step(stages, readings, sum, rate)
		se = spread
		sum, rate = sum+ds, max(rate/4, rate+dr)
		if math.Abs(dr) <= 1e-12*rate && math.Abs(ds) <= 1e-12 {
			break
		}
	}
	squares := 0.0
	for _, r := range readings {
		off := levelFallen(stages, sum+rate*r.Hours) - r.Level
		squares += off * off
	}
	fit := Fit{Start: levelFallen(stages, sum), Misfit: math.NaN()}
	off, t := readingError, normal95
	if free := int(count) - 2; free > 0 {
		fit.Misfit = math.Sqrt(squares / float64(free))
		if off = max(off, fit.Misfit); off > readingError && free <= len(oneSided) {
			t = oneSided[free-1]
		}
	}
	k, spread := rate*perMetre, math.Exp(t*off*se/rate)
	fit.Ksat = geo.Range{Low: k / spread, Likely: k, High: k * spread}
	return fit, nil
}

// step is one of Gauss and Newton's toward the least squares of level, with how much an error of a
// metre in each level moves the rate.
func step(stages []Stage, readings []Reading, sum, rate float64) (ds, dr, se float64) {
	var ss, st, tt, sy, ty float64
	for _, r := range readings {
		at := sum + rate*r.Hours
		level := levelFallen(stages, at)
		s := stageOf(stages, level)
		slope := 0.0
		if s.Surface > 0 && level > stages[0].Level {
			slope = -s.Contact / s.Surface
		}
		y := r.Level - level
		ss, st, tt = ss+slope*slope, st+slope*slope*r.Hours, tt+slope*slope*r.Hours*r.Hours
		sy, ty = sy+slope*y, ty+slope*r.Hours*y
	}
	det := ss*tt - st*st
	if !(det > 0) {
		return 0, 0, math.Inf(1)
	}
	return (tt*sy - st*ty) / det, (ss*ty - st*sy) / det, math.Sqrt(ss / det)
}

func stageOf(stages []Stage, level float64) Stage {
	p := Pool{Stages: stages}
	return p.StageAt(level)
}

const howToRead = "type pairs of hours and level in metres, such as 0 84.14; 6 84.10; 24 84.02"

// checkReadings says what is wrong with readings that are to be fitted.
func checkReadings(stages []Stage, readings []Reading) error {
	if len(readings) < 2 {
		return fmt.Errorf("a drawdown needs two readings at least; %s", howToRead)
	}
	low, high := stages[0].Level, stages[len(stages)-1].Level
	for i, r := range readings {
		switch {
		case !(r.Hours >= 0) || math.IsInf(r.Hours, 0) || i > 0 && r.Hours <= readings[i-1].Hours:
			return fmt.Errorf("the hours of its readings do not go up at %g; %s", r.Hours, howToRead)
		case !(r.Level >= low && r.Level <= high):
			return fmt.Errorf("its reading of %.2f m lies outside the channel's water, which can stand from %.2f to %.2f m; give levels above the datum, not depths", r.Level, low, high)
		}
	}
	if !(readings[len(readings)-1].Level < readings[0].Level) {
		return errors.New("the water does not fall in its readings, so that no rate can be found; read on for longer")
	}
	return nil
}

// ParseReadings reads pairs of hours and level as a person types them: "0 84.14; 6 84.10".
// A comma between digits is a decimal one.
func ParseReadings(text string) ([]Reading, error) {
	var readings []Reading
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' || r == '\r' }) {
		words := strings.Fields(part)
		if len(words) == 0 {
			continue
		}
		var v [2]float64
		for i, word := range words {
			figure, err := strconv.ParseFloat(strings.NewReplacer("−", "-", ",", ".").Replace(word), 64)
			if err != nil || len(words) != 2 {
				return nil, fmt.Errorf("its readings cannot be read at %q; %s", strings.TrimSpace(part), howToRead)
			}
			v[i] = figure
		}
		readings = append(readings, Reading{v[0], v[1]})
	}
	return readings, nil
}
