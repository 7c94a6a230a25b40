package soakin

import (
	"context"
	"fmt"
	"slices"

	"runnel/analysis/demand"
	"runnel/analysis/fate"
	"runnel/analysis/hydrograph"
	"runnel/analysis/season"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// A Basis is what seasons rest on.
type Basis struct {
	// Record is set where they rest on a daily record, of Years whole years.
	Record bool
	Years  int
	// Reference says how the reference evapotranspiration was found, or why it is not known.
	Reference string
	// Unknown is how many days of the record have no rain or no temperature, of years that lack many.
	Unknown int
}

// String says it in a sentence.
func (b Basis) String() string {
	if !b.Record {
		return "No daily record is brought in: the drain is taken to run its days on end at its level, with no rain and no evaporation."
	}
	return fmt.Sprintf("A daily record of %d whole years; reference evapotranspiration: %s.", b.Years, b.Reference)
}

// balance runs the season and puts the demand beside it.
func (a *Account) balance(ctx context.Context, s *plan.Site) error {
	for _, p := range slices.Concat(a.Setup.Pools.Withheld, a.Setup.dry) {
		a.withhold("season", "%s", p.Err)
	}
	pools := a.Setup.Pools.Pools
	in, et, filled := season.Plain(pools), []float64(nil), *s
	if len(s.Weather.Days) > 0 {
		in, et, filled.Weather = a.recorded(s)
	} else {
		a.Basis.Reference = "not known without a record"
		a.withhold("demand", "No daily record is brought in, so what the planting needs is not told; bring in a record of rain and temperature.")
		a.withhold("recharge", "No daily record is brought in, so what evaporates and what roots take is not known, and of what soaks in not what is left; bring in a record of rain and temperature.")
	}
	if a.dries = et != nil; a.dries {
		demanded, problems := demand.Of(&filled, a.Scheme, et)
		a.note(problems)
		a.Demand = demanded
	}
	if len(pools) == 0 {
		if len(a.Setup.Pools.Withheld) == 0 {
			a.withhold("season", "No channel or drain of %s holds water, so there is no season to tell; draw a channel that a drain or a roof feeds.", a.Name)
		}
		a.knowNothing()
		return nil
	}
	var err error
	if a.model, err = season.New(in); err != nil {
		return err
	}
	a.factors = season.UsualFactors(in)
	a.factors.Clogging, a.factors.Mound = s.Setting.Clogging, a.Setup.mound
	a.Season = a.model.Trace(a.factors)
	for _, why := range a.Season.Withheld {
		a.withhold("season", "%s", why)
	}
	a.gatherMonths(filled.Weather)
	a.gatherYears()
	a.explain(s)
	return ctx.Err()
}

// recorded makes what the season is worked out of from the site's record, and the reference
// evapotranspiration [mm a day], nil where that is not known; the record has its short gaps filled.
func (a *Account) recorded(s *plan.Site) (season.Input, []float64, weather.Record) {
	pools := a.Setup.Pools.Pools
	a.Basis.Record = true
	et, how, err := demand.Reference(s.Weather)
	if a.Basis.Reference = how; err != nil {
		a.Basis.Reference = "not known"
		a.withhold("demand", "%s", err)
		a.withhold("recharge", "%s", err)
		et = nil
	}
	record, gaps := fillGaps(s.Weather, et)
	a.Basis.Unknown = gaps.left
	if gaps.filled > 0 {
		a.Notes = append(a.Notes, fmt.Sprintf("On %d days the record lacks rain or temperature; in years that lack no more than %d days they are taken as dry, and as the mean of their month.", gaps.filled, mostGaps))
	}
	in := season.Input{First: record.First, Pools: pools}
	for _, d := range record.Days {
		in.Rain = append(in.Rain, d.Rain)
	}
	if et != nil {
		in.Evaporation, in.Roots = demand.OpenWater(et), demand.RootsDaily(et)
	}
	for i, p := range pools {
		var ground []fate.Ground
		if !p.Drain { // which carries off what comes to it
			ground = a.Setup.Catchments[i].Ground
		}
		in.Runoff = append(in.Runoff, dailyRunoff(ground, in.Rain))
	}
	a.readLevels(&in, s)
	return in, et, record
}

// dailyRunoff returns what runs off some ground on each day of rain [mm]; [m³].
func dailyRunoff(ground []fate.Ground, rain []float64) []float64 {
	mix := hydrograph.MixOf(ground)
	sum := make([]float64, len(rain))
	for i, r := range rain {
		if r > 0 {
			sum[i] = mix.Runoff(r)
		}
	}
	return sum
}

// mostMisfit is how far off the answer of the water table may be unsaid, as a share of its greatest.
const mostMisfit = 0.05

// explain says what holds the season back, and what is taken for granted in it.
func (a *Account) explain(s *plan.Site) {
	say := func(format string, args ...any) { a.Notes = append(a.Notes, fmt.Sprintf(format, args...)) }
	switch {
	case a.Setup.mound == nil:
		say("How deep the groundwater lies, or the aquifer's conductivity, yield or thickness, is not set, so no mound holds the soaking back in these figures; where it lies near, less soaks in.")
	case a.Season.Total.Limited > 0:
		say("On %.0f days of the record the water table reaches a bed, and soaking is held back to what flows off below.", a.Season.Total.Limited)
	}
	if off := a.Setup.misfit; off > mostMisfit {
		say("The answer of the water table is fitted to Hantush's solution, and off by up to %.0f %% of its greatest; the aquifer is an unusual one.", 100*off)
	}
	if !a.Basis.Record {
		return
	}
	if a.Basis.Unknown > 0 {
		say("%d days of the record have no rain or no temperature; years that lack more than %d days are left out of means and ranges.", a.Basis.Unknown, mostGaps)
	}
	if a.dries {
		say("Recharge is soak-in less what roots take and what the soil about them holds more at the end than at the start, so that in single months the three need not add up.")
	}
	if a.Mean.Runoff > 0 {
		say("Runoff counts the share of the ground's water that passes the hollows on its way in the design storm; in lesser rain less comes.")
	}
	if a.Scheme != plan.AsItIs && a.Mean.Rain > 0 {
		say("Rain that falls on the channels is theirs, %.0f m³ in a mean year with the drains; as it is some of that rain soaks into the ground there too, which is in no figure.", a.Mean.Rain)
	}
}
