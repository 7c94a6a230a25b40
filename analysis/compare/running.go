package compare

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/channel"
	"runnel/analysis/hydraulics"
	"runnel/geo/plan"
)

// A laying is a scheme laid out with the water that it is measured with.
type laying struct {
	network  *channel.Network
	problems []channel.Problem
	// notes say of each water for which a flow is set how it is measured.
	notes []string
}

// layOut lays a scheme out. In channels that are joined to one for which a flow is set
// the water is taken as it runs, where the steady flow can be worked out and stands
// higher than the water at rest does; else as it stands.
func layOut(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (laying, error) {
	network, problems := channel.NewNetwork(s, scheme)
	l := laying{network: network, problems: problems}
	set := slices.DeleteFunc(network.Systems(), func(ids []plan.ID) bool { return !anySet(network, ids) })
	if len(set) == 0 {
		return l, nil
	}
	flow, err := hydraulics.Flow(ctx, s, network, hydraulics.Options{})
	if err != nil {
		return l, err
	}
	levels := slices.DeleteFunc(flow.Levels(), func(r channel.RunningLevel) bool {
		return !slices.ContainsFunc(set, func(ids []plan.ID) bool { return slices.Contains(ids, r.ID) })
	})
	if len(levels) > 0 {
		l.network = network.Running(levels)
		l.problems = slices.DeleteFunc(problems, func(p channel.Problem) bool { return p.HoldsNone() && l.network.Wet(p.ID) })
	}
	for _, ids := range set {
		l.notes = append(l.notes, l.note(&flow, ids))
	}
	return l, nil
}

func anySet(n *channel.Network, ids []plan.ID) bool {
	return slices.ContainsFunc(ids, func(id plan.ID) bool { return featureOf(n, id).Num("flow") > 0 })
}

// note says how the water of some channels is measured: as it runs, or as it stands
// and why.
func (l *laying) note(flow *hydraulics.Result, ids []plan.ID) string {
	titles := titled(l.network, ids)
	if slices.ContainsFunc(ids, l.network.Runs) {
		return fmt.Sprintf("%s: measured with the water as it flows, with the flow that is set, where that stands higher than the water at rest.", titles)
	}
	why := "as it flows it stands nowhere higher"
	for _, w := range flow.Withheld {
		if slices.Contains(ids, w.ID) {
			why = w.Error()
		}
	}
	for _, r := range flow.Reaches {
		if r.Still != "" && slices.Contains(ids, r.ID) {
			why = r.Still
		}
	}
	return fmt.Sprintf("%s: measured with the water as it stands, not as it flows: %s.", titles, strings.TrimSuffix(why, "."))
}

// titled lists the titles of some channels.
func titled(n *channel.Network, ids []plan.ID) string {
	var titles []string
	for _, id := range ids {
		titles = append(titles, featureOf(n, id).Title())
	}
	if last := len(titles) - 1; last > 0 {
		return strings.Join(titles[:last], ", ") + " and " + titles[last]
	}
	return titles[0]
}
