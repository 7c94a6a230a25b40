package ui

import (
	"context"

	"runnel/analysis/compare"
	"runnel/analysis/earthwork"
	"runnel/geo/plan"
)

// A dig is the earth that a scheme moves, and what the soil does once it is dug.
type dig struct {
	earth  earthwork.Earth
	change earthwork.Change
}

// A worth is what the winding of a scheme buys, and what a little more of it would.
type worth struct {
	gain        compare.Gain
	sensitivity compare.Sensitivity
}

// outcomes are what comes of a scheme when it is dug and when water runs in it. They
// take longer than a drag has time for.
type outcomes struct {
	dig   *afterwards[dig]
	flow  *afterwards[*runs]
	worth *afterwards[worth]
}

func newOutcomes(w *Window) *outcomes {
	o := &outcomes{dig: newAfterwards(w, findDig), flow: newAfterwards(w, findFlow), worth: newAfterwards(w, findWorth)}
	wanted := func() bool { return (w.showsPart(outcomePart) || w.channels.on) && w.figures.of != plan.AsItIs }
	o.flow.took = func() { w.ledger.refresh(); w.section.refresh() }
	o.dig.wanted, o.flow.wanted, o.worth.wanted = wanted, wanted, wanted
	return o
}

// follow asks for what comes of the newest figures.
func (o *outcomes) follow() {
	o.dig.follow()
	o.flow.follow()
	o.worth.follow()
}

func findDig(ctx context.Context, f figures) (d dig, err error) {
	d.change = earthwork.ChangeOf(f.site.Setting.Soil)
	d.earth, err = earthwork.EndAreas(ctx, f.site.Ground, f.scheme.Network, 0)
	return d, err
}

func findWorth(ctx context.Context, f figures) (v worth, err error) {
	if v.gain, err = compare.GainOf(ctx, f.site, &f.scheme); err != nil {
		return v, err
	}
	v.sensitivity, err = compare.SensitivityOf(ctx, f.site, &f.scheme)
	return v, err
}
