// Package soakin accounts for what soaks in: over a season and in a storm, against what
// the well gives up, for one scheme or for several side by side.
//
// A Setup is what hangs on a scheme's drawing: its pools, the ground whose water comes
// to them, how the water table answers. An Account is what comes of it with the site's
// setting and weather. A Spread is its ranges, by drawing all that is not known for sure
// many times over. They take from an instant to a second, in this order.
//
// Where the site has a daily record, seasons run through all of it: rain on the ground
// that drains to a pool runs off by curve number, the drain runs on the record's wettest
// days, and what soaks in, evaporates and leaves is told day by day. Where it has none,
// the drain is taken to run so many days on end at its level, and nothing that rests on
// rain or warmth is told. What cannot be told is withheld, with why; it is not made up.
//
// Water is m³, areas m², levels and lengths m. All of it is a potential: it promises
// nothing of a well's yield.
package soakin

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"runnel/analysis/caution"
	"runnel/analysis/channel"
	"runnel/analysis/demand"
	"runnel/analysis/season"
	"runnel/geo/plan"
)

// An Account is what soaks in under one scheme, as is likely.
type Account struct {
	Scheme plan.SchemeID
	Name   string
	Setup  *Setup
	Basis  Basis
	// Season is the whole record's, with its days; Demand what is drawn over it, where
	// that is known.
	Season season.Result
	Demand demand.Demand
	// Months are a mean year's, Years those of the record that are whole. Mean is a mean
	// year; Dry and Wet are the years of least and most rain, nil without a record.
	Months   [12]Month
	Years    []Year
	Mean     Year
	Dry, Wet *Year
	Storm    Storm
	// Rises are of the water table; none where that is not known.
	Rises    []Rise
	Cost     Cost
	Cautions []caution.Caution
	// Notes say what the account leaves out or takes for granted; Withheld what is not told and why.
	Notes    []string
	Withheld []Withheld

	model   *season.Model
	factors season.Factors
	// dries is set where evaporation is known.
	dries bool
}

// A Withheld is a figure that is not told, and why, in one sentence.
type Withheld struct{ What, Why string }

// A Water is what one year, or month, comes to [m³]. What is not known is NaN.
type Water struct {
	// Soaked went into the soil; Recharge is what of it evaporation and roots left.
	Soaked, Recharge float64
	// Drain, Runoff and Rain brought water; Evaporated, Spilled and RanBack took it away, Roots took what had soaked.
	Drain, Runoff, Rain, Evaporated, Spilled, RanBack, Roots float64
	// Irrigation and Household are drawn from the well, Draw is both.
	Irrigation, Household, Draw float64
	// RainDepth and Reference are rain and reference evapotranspiration [mm].
	RainDepth, Reference float64
	// WetDays is on how many days water stands, RunDays on how many the drain runs.
	WetDays, RunDays float64
}

// Share is how much of what is drawn was put back, NaN where nothing is drawn or that is not known.
func (w Water) Share() float64 {
	if !(w.Draw > 0) {
		return math.NaN()
	}
	return w.Recharge / w.Draw
}

// A Month is a calendar month of a mean year; a Year is one of the record, or their mean.
type (
	Month struct {
		Month int
		Water
	}
	Year struct {
		Year int
		Water
	}
)

// Of accounts for a scheme whose setup was made of the same site.
func Of(ctx context.Context, s *plan.Site, setup *Setup) (*Account, error) {
	a := &Account{Scheme: setup.Scheme, Name: setup.Name, Setup: setup}
	a.note(setup.Problems)
	a.Notes = append(a.Notes, setup.Pools.Notes...)
	if err := a.balance(ctx, s); err != nil {
		return nil, fmt.Errorf("%s: %w", a.Name, err)
	}
	if err := a.rain(ctx, s); err != nil {
		return nil, fmt.Errorf("%s: %w", a.Name, err)
	}
	a.rise()
	a.price(s)
	risks := a.risks(s)
	a.Cautions = slices.Concat(setup.Measured.Cautions, caution.CheckSoak(s, a.Scheme, risks, caution.Limits{}))
	if len(risks.Pools) > 0 {
		a.Cautions = slices.DeleteFunc(a.Cautions, caution.Caution.OfStillWater)
	}
	return a, ctx.Err()
}

// note notes what is wrong with what is drawn.
func (a *Account) note(problems []channel.Problem) {
	for _, p := range problems {
		a.Notes = append(a.Notes, p.Error())
	}
}

// withhold notes that a figure is not told.
func (a *Account) withhold(what, format string, args ...any) {
	w := Withheld{what, sentence(fmt.Sprintf(format, args...))}
	if !slices.Contains(a.Withheld, w) {
		a.Withheld = append(a.Withheld, w)
	}
}

// sentence begins words with a capital and ends them with a stop.
func sentence(words string) string {
	first, size := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(first)) + strings.TrimSuffix(words[size:], ".") + "."
}
