package compare

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// Sensitivity is what a little more of each lever buys and costs. Each is moved a
// small step either way on the real ground, everything is laid out and measured
// again, and the difference is taken for one metre; where a limit of a field stands
// in the way of one step the other is taken alone. It tells of small changes only.
// The water finds its level anew each time, by the rules of package channel.
type Sensitivity struct {
	// Rows are in the order of what buys the most contact for each m³ dug.
	Rows []SensitivityRow
	// Held is what holds the water's level of all channels.
	Held Holder
	// Why says why there are no rows; empty where there are.
	Why string
}

// A Holder is what holds the water of a channel at its level.
type Holder string

// The holders: the level that is set, the drain that the channel opens on, a
// spillway, the lowest bank, the flow that is set; and Several where they differ from channel to channel.
const (
	HeldBySetting  Holder = "setting"
	HeldByDrain    Holder = "drain"
	HeldBySpillway Holder = "spillway"
	HeldByBank     Holder = "bank"
	HeldByFlow     Holder = "flow"
	HeldBySeveral  Holder = "several"
)

// holder tells what holds the water of an account's channels.
func (a *Account) holder() Holder {
	by := map[plan.ID]Holder{}
	for _, u := range a.Usuals {
		if u.Field == "water_level" {
			by[u.ID] = map[channel.Source]Holder{channel.FromDrain: HeldByDrain, channel.FromWater: HeldBySpillway, channel.FromBank: HeldByBank}[u.From]
		}
	}
	all := Holder("")
	for _, l := range a.Channels {
		if l.Kind != plan.Channel {
			continue
		}
		here := cmp.Or(by[l.ID], HeldBySetting)
		if a.Network.Runs(l.ID) {
			here = HeldByFlow
		}
		if all = cmp.Or(all, here); all != here {
			return HeldBySeveral
		}
	}
	return all
}

// LevelSentence says whether the water's level stays when the bed is lowered.
func (s Sensitivity) LevelSentence() string {
	i := slices.IndexFunc(s.Rows, func(r SensitivityRow) bool { return r.Lever == Deeper })
	switch {
	case i < 0:
		return ""
	case math.IsNaN(s.Rows[i].Level):
		return "What a lower bed buys in contact is not told: its water would no longer run as it does."
	case math.Abs(s.Rows[i].Level) >= stays:
		if share := 100 * s.Rows[i].Level; share < 0 {
			return fmt.Sprintf("When the bed is lowered the water falls by %.0f %% of that.", -share)
		}
		return fmt.Sprintf("When the bed is lowered the water rises by %.0f %% of that.", 100*s.Rows[i].Level)
	}
	switch s.Held {
	case HeldBySetting:
		return "The water's level stays when the bed is lowered: it is the one that is set."
	case HeldByDrain:
		return "The water's level stays when the bed is lowered: the drain holds it."
	case HeldBySpillway:
		return "The water's level stays when the bed is lowered: the spillway holds it."
	case HeldByBank:
		return "The water's level stays when the bed is lowered: the lowest bank holds it."
	case HeldByFlow:
		return "The water's level stays when the bed is lowered: what it runs out over holds it."
	}
	return "The water's level stays when the bed is lowered, whatever holds it in each channel."
}

// A SensitivityRow is what one more metre of a lever buys and costs.
type SensitivityRow struct {
	Lever Lever
	// Contact is what it buys [m² per m], drains on the site counted, Dig what it
	// costs [m³ per m], PerDig the one over the other [m² per m³]; NaN where nothing
	// more is dug.
	Contact, Dig, PerDig float64
	// Level is how far the channels' water moves, in the mean along them [m per m];
	// nought where it stays.
	Level float64
	// Arms is set where the arms of islands are widened with the beds.
	Arms bool
}

// stays is how little the water moves that is said to stay [m per m].
const stays = 0.001

// Note says what the water's level does.
func (r SensitivityRow) Note() string {
	switch {
	case math.IsNaN(r.Level):
		return "its water would not run as it does now"
	case math.Abs(r.Level) < stays:
		return "the water's level stays"
	case r.Level < 0:
		return "the water falls, because what holds it back gets lower"
	}
	return "the water rises, because what holds it back gets higher"
}

// SensitivityOf works out what the levers of a scheme buy that Measure accounted for
// on the same site.
func SensitivityOf(ctx context.Context, s *plan.Site, a *Account) (Sensitivity, error) {
	p := prober{site: s, account: a}
	for _, l := range a.Channels {
		if l.Kind == plan.Channel {
			p.length += l.Measure.Length
			p.wet += l.Measure.Wet
			if l.Unknown > 0 {
				p.beyond = cmp.Or(p.beyond, l.Title)
			}
		}
	}
	switch {
	case p.length == 0:
		return Sensitivity{Why: "the scheme has no channel"}, ctx.Err()
	case p.wet == 0:
		return Sensitivity{Why: "no channel of the scheme holds water"}, ctx.Err()
	case p.beyond != "":
		return Sensitivity{Why: fmt.Sprintf("%s leaves the ground that is known", p.beyond)}, ctx.Err()
	}
	levers := []Lever{Longer, Wider, Deeper}
	rows := make([]SensitivityRow, len(levers))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(2)
	for i, lever := range levers {
		group.Go(func() (err error) {
			rows[i], err = p.row(ctx, lever)
			return err
		})
	}
	err := group.Wait()
	slices.SortStableFunc(rows, func(a, b SensitivityRow) int { return cmp.Compare(b.worth(), a.worth()) })
	return Sensitivity{Rows: rows, Held: a.holder()}, err
}

// worth orders the rows: what buys something for no dig comes first.
func (r SensitivityRow) worth() float64 {
	switch {
	case !math.IsNaN(r.PerDig):
		return r.PerDig
	case r.Contact > 0:
		return math.Inf(1)
	}
	return math.Inf(-1)
}
