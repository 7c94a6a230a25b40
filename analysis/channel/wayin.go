package channel

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/geo"
	"runnel/geo/plan"
)

// noWayIn says which channels no water comes to: joined to no drain, while there
// are drains, with no flow let in.
func (n *Network) noWayIn() {
	drains := slices.ContainsFunc(n.lines, func(f feature) bool { return f.Kind == plan.Drain })
	for _, of := range n.systems {
		var titles []string
		fed := len(of.drains) > 0
		for _, run := range of.runs {
			titles = append(titles, n.lines[run].Title())
			fed = fed || n.lines[run].Num("flow") > 0
		}
		if fed || !drains {
			continue
		}
		f, last := &n.lines[of.runs[0]], len(titles)-1
		err := fmt.Errorf("%s has no way in for water: neither end comes to a drain, or to a channel that is led to one; lead one there, or set the flow that is let in. It is measured as if full", titles[0])
		switch {
		case last == 0 && f.withheld:
			err = fmt.Errorf("%s has no way in for water: neither end comes to a drain, or to a channel that is led to one; lead one there, or set the flow that is let in", titles[0])
		case last > 0:
			err = fmt.Errorf("%s and %s have no way in for water: no end of theirs comes to a drain, or to a channel that is led to one; lead one there, or set the flow that is let in. They are measured as if full", strings.Join(titles[:last], ", "), titles[last])
		}
		n.wrong(f.Feature, f.Line()[0], err)
	}
}

// RunDaysOf returns on how many days in a year water runs in a channel, a drain or
// an island's moat: as long as any drain that feeds it does, where that is set for
// the drain, else as usual.
func (n *Network) RunDaysOf(id plan.ID, usual geo.Range) geo.Range {
	line := slices.IndexFunc(n.lines, func(f feature) bool { return f.ID == id })
	if i := slices.IndexFunc(n.islands, func(f plan.Feature) bool { return f.ID == id }); i >= 0 {
		line = n.segs[n.reaches[i].first].line
	}
	if line < 0 {
		return usual
	}
	drains := []int{line}
	if n.lines[line].Kind != plan.Drain {
		drains = n.feeding(line)
	}
	var longest geo.Range
	for _, i := range drains {
		days := usual
		if set := n.lines[i].Num("run_days"); !math.IsNaN(set) {
			days = geo.Range{Low: set, Likely: set, High: set}
		}
		longest = geo.Range{Low: max(longest.Low, days.Low), Likely: max(longest.Likely, days.Likely), High: max(longest.High, days.High)}
	}
	if len(drains) == 0 {
		return usual
	}
	return longest
}

// feeding lists the drains that a channel's system touches, by their place in the
// list of lines.
func (n *Network) feeding(line int) []int {
	for _, of := range n.systems {
		if slices.Contains(of.runs, line) {
			return of.drains
		}
	}
	return nil
}
