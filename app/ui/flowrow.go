package ui

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"strings"

	"runnel/analysis/hydraulics"
	"runnel/geo/plan"
)

// A runs is how water runs through a scheme.
type runs struct {
	result   hydraulics.Result
	barriers []barrier
	site     *plan.Site
}

func findFlow(ctx context.Context, f figures) (*runs, error) {
	r := &runs{site: f.site, barriers: barriersOf(f)}
	var err error
	r.result, err = hydraulics.Flow(ctx, f.site, f.scheme.Network, hydraulics.Options{})
	if err == nil && len(r.result.Reaches) == 0 {
		var why []error
		for _, w := range r.result.Withheld {
			why = append(why, w.Err)
		}
		err = errors.Join(why...)
	}
	return r, err
}

// flowRows are the figures of the water that runs, in the order in which they are read.
func flowRows() []outcomeKind {
	return []outcomeKind{
		{tr("Flow let in"), "flow", strong, flows(writeFlow)},
		{tr("Greatest velocity"), "velocity", strong, flows(writeSpeed)},
		{tr("Least freeboard"), "freeboard", strong, flows(writeFreeboard)},
		{tr("Froude number, at most"), "froude", body, flows(writeFroude)},
		{tr("Flow let in with the drain full"), "inlet", body, flows(writeFull)},
	}
}

// flows writes a figure of running water: a dash, and why, where it is not known. The
// reason stands beneath the first figure alone.
func flows(write func(w *Window, r *runs) (figure, note string)) func(*Window) outcomeFigure {
	return func(w *Window) outcomeFigure {
		o := w.outcomes.flow
		if !o.last() || o.value == nil || len(o.value.result.Reaches) == 0 {
			return outcomeFigure{figure: dash, stale: !o.current()}
		}
		figure, note := write(w, o.value)
		return outcomeFigure{figure, note, !o.current()}
	}
}

func writeFlow(w *Window, r *runs) (figure, note string) {
	sum, said := 0.0, []string{}
	for _, in := range r.result.Inflows {
		sum += in.Flow
		said = append(said, sentence(w.units.told(in.From)))
	}
	if math.IsNaN(sum) {
		return dash, strings.Join(said, " ")
	}
	return w.units.flow(sum), strings.Join(said, " ")
}

// A runningPlace is one station of the reach that it lies in.
type runningPlace struct {
	reach *hydraulics.Reach
	hydraulics.Station
}

// greatest returns the place at which a figure is greatest; ok is false where it is
// nowhere known.
func (r *runs) greatest(of func(hydraulics.Station) float64) (at runningPlace, ok bool) {
	most := math.Inf(-1)
	for i := range r.result.Reaches {
		reach := &r.result.Reaches[i]
		for _, s := range reach.Stations {
			if v := of(s); v > most {
				at, most, ok = runningPlace{reach, s}, v, true
			}
		}
	}
	return at, ok
}

// alongWhich says where along which channel a place is.
func (w *Window) alongWhich(at runningPlace) string {
	return trf("%[1]s along %[2]s", w.units.length(at.Chainage), told(at.reach.Title))
}

func writeSpeed(w *Window, r *runs) (figure, note string) {
	at, ok := r.greatest(func(s hydraulics.Station) float64 { return math.Abs(s.Velocity) })
	if !ok {
		return dash, ""
	}
	figure = w.units.speed(math.Abs(at.Velocity))
	if at.Velocity == 0 {
		return figure, ""
	}
	f, _ := r.site.Plan.Find(at.reach.ID)
	if f.Kind != plan.Channel {
		return figure, w.alongWhich(at)
	}
	lining := f.Text("lining")
	limit, err := hydraulics.LimitOf(lining, r.site.Setting.Soil, at.slope())
	if err != nil {
		return figure, trf("%[1]s; no limit is published: %[2]s", w.alongWhich(at), w.units.told(err.Error()))
	}
	return figure, trf("%[1]s; %[2]s on %[3]s stands %[4]s", w.alongWhich(at), told(lining), told(r.site.Setting.Soil), w.units.speed(limit.Velocity))
}

// slope is the mean fall of the bed of the place's reach [m/m].
func (p runningPlace) slope() float64 {
	all := p.reach.Stations
	if run := all[len(all)-1].Along - all[0].Along; run > 0 {
		return math.Abs(all[0].Bed-all[len(all)-1].Bed) / run
	}
	return 0
}

func writeFreeboard(w *Window, r *runs) (figure, note string) {
	at, ok := r.greatest(func(s hydraulics.Station) float64 { return -s.Freeboard })
	switch {
	case !ok:
		return dash, ""
	case at.Freeboard < 0:
		return w.units.height(at.Freeboard), trf("the water stands above the bank, %s", w.alongWhich(at))
	}
	return w.units.height(at.Freeboard), w.alongWhich(at)
}

func writeFroude(w *Window, r *runs) (figure, note string) {
	at, ok := r.greatest(func(s hydraulics.Station) float64 { return s.Froude })
	if !ok {
		return dash, ""
	}
	if at.Froude > 1 {
		return decimal(at.Froude, 2), trf("above 1 the water rushes, %s", w.alongWhich(at))
	}
	return decimal(at.Froude, 2), tr("below 1 the water runs calmly, above 1 it rushes")
}

// writeFull writes what runs in when the drains run to their banks.
func writeFull(w *Window, r *runs) (figure, note string) {
	if r.result.Full == nil || len(r.result.Full.Reaches) == 0 {
		return dash, ""
	}
	full, sum := &runs{result: *r.result.Full, site: r.site}, 0.0
	for _, in := range r.result.Full.Inflows {
		sum += in.Flow
	}
	if math.IsNaN(sum) {
		return dash, ""
	}
	speed, _ := writeSpeed(w, full)
	at, ok := full.greatest(func(s hydraulics.Station) float64 { return -s.Freeboard })
	switch {
	case !ok:
		return w.units.flow(sum), trf("its water then runs at %s at most", speed)
	case at.Freeboard < 0:
		return w.units.flow(sum), trf("its water then runs at %[1]s at most, and stands %[2]s above a bank, %[3]s", speed, w.units.height(-at.Freeboard), w.alongWhich(at))
	}
	return w.units.flow(sum), trf("its water then runs at %[1]s at most, %[2]s or more below the banks", speed, w.units.height(at.Freeboard))
}

// on lists the stations of one line, up its chainage; of the two arms of an island those
// of the left one.
func (r *runs) on(id plan.ID) (all []hydraulics.Station) {
	if r == nil {
		return nil
	}
	for _, reach := range r.result.Reaches {
		if reach.ID == id && (reach.Island == 0 || reach.Left) {
			all = append(all, reach.Stations...)
		}
	}
	slices.SortStableFunc(all, func(a, b hydraulics.Station) int { return cmp.Compare(a.Chainage, b.Chainage) })
	return all
}

// speedAt is how fast water runs at a chainage of a line [m/s]; NaN where that is not
// known.
func (r *runs) speedAt(id plan.ID, chainage float64) float64 {
	speed, least := math.NaN(), math.Inf(1)
	for _, s := range r.on(id) {
		if away := math.Abs(s.Chainage - chainage); away < least {
			speed, least = math.Abs(s.Velocity), away
		}
	}
	return speed
}

// inflowOf is what runs into a channel whose flow is not set [m³/s], if it is known.
func (w *Window) inflowOf(id plan.ID) (float64, bool) {
	o := w.outcomes.flow
	if !o.last() || o.value == nil {
		return 0, false
	}
	for _, in := range o.value.result.Inflows {
		if in.Channel == id && in.Drain != 0 && !math.IsNaN(in.Flow) {
			return in.Flow, true
		}
	}
	return 0, false
}
