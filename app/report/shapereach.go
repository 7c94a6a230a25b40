package report

import (
	"fmt"
	"math"
	"strings"

	"runnel/analysis/channel"
	"runnel/analysis/hydraulics"
	"runnel/geo/plan"
)

// ReachFigures are the flow along a stretch of a channel or an arm round an island:
// what is greatest along it, and of freeboard what is least.
type ReachFigures struct {
	Channel plan.ID `json:"channel"`
	Name    string  `json:"name"`
	// Island is that which an arm goes round, Side the side on which it passes it.
	Island    plan.ID `json:"island,omitempty"`
	Side      string  `json:"side,omitempty"`
	From      Figure  `json:"from_m"`
	To        Figure  `json:"to_m"`
	Flow      Figure  `json:"flow_l_s"`
	Depth     Figure  `json:"greatest_depth_m"`
	Normal    Figure  `json:"normal_depth_m"`
	Critical  Figure  `json:"critical_depth_m"`
	Velocity  Figure  `json:"greatest_velocity_m_s"`
	Froude    Figure  `json:"greatest_froude_number"`
	Shear     Figure  `json:"greatest_shear_pa"`
	Freeboard Figure  `json:"least_freeboard_m"`
	// Profile is the water from station to station.
	Profile []StationFigures `json:"profile"`
}

// StationFigures is the water at one place of a reach.
type StationFigures struct {
	Chainage  Figure `json:"chainage_m"`
	Bed       Figure `json:"bed_m"`
	Level     Figure `json:"water_level_m"`
	Depth     Figure `json:"depth_m"`
	Velocity  Figure `json:"velocity_m_s"`
	Froude    Figure `json:"froude_number"`
	Shear     Figure `json:"shear_pa"`
	Freeboard Figure `json:"freeboard_m"`
}

func reachOf(r *hydraulics.Reach) ReachFigures {
	first, last := r.Stations[0], r.Stations[len(r.Stations)-1]
	none := Figure(math.NaN())
	f := ReachFigures{
		Channel: r.ID, Name: r.Title, Island: r.Island, From: Figure(first.Chainage), To: Figure(last.Chainage), Flow: Figure(r.Flow * litres),
		Depth: none, Normal: Figure(r.Normal), Critical: Figure(r.Critical), Velocity: none, Froude: none, Shear: none, Freeboard: none,
		Profile: []StationFigures{},
	}
	if r.Kind == channel.ArmLink {
		f.Side = "right"
		if r.Left {
			f.Side = "left"
		}
	}
	for _, s := range r.Stations {
		f.Depth, f.Velocity = f.Depth.higher(s.Depth), f.Velocity.higher(math.Abs(s.Velocity))
		f.Froude, f.Shear = f.Froude.higher(s.Froude), f.Shear.higher(s.Shear)
		f.Freeboard = -(-f.Freeboard).higher(-s.Freeboard)
		f.Profile = append(f.Profile, StationFigures{Figure(s.Chainage), Figure(s.Bed), Figure(s.Level), Figure(s.Depth), Figure(s.Velocity), Figure(s.Froude), Figure(s.Shear), Figure(s.Freeboard)})
	}
	return f
}

// higher returns the higher of two figures, of which either may not be known.
func (f Figure) higher(v float64) Figure {
	if !(Figure(v) <= f) && !math.IsNaN(v) {
		return Figure(v)
	}
	return f
}

// title names a reach: its channel, where along it, and round which side of what island.
func (f ReachFigures) title() string {
	if f.Side != "" {
		return fmt.Sprintf("  %s, arm on the %s, %s to %s m", f.Name, f.Side, f.From.With(1), f.To.With(1))
	}
	return fmt.Sprintf("  %s, %s to %s m", f.Name, f.From.With(1), f.To.With(1))
}

// writeReaches writes a table of the flow along each reach, for each of the ways in
// which the drains may run.
func writeReaches(b *strings.Builder, ways []*FlowFigures) {
	for i, flow := range ways {
		heading := "Flow along the channels"
		if len(ways) > 1 {
			heading += []string{", drains as they run", ", drains full"}[i]
		}
		cells := [][]string{{heading, "flow [L/s]", "depth [m]", "normal [m]", "critical [m]", "velocity [m/s]", "Froude", "shear [Pa]", "freeboard [m]"}}
		for _, f := range flow.Reaches {
			cells = append(cells, []string{f.title(), f.Flow.With(1), f.Depth.With(2), f.Normal.With(2), f.Critical.With(2),
				f.Velocity.With(2), f.Froude.With(2), f.Shear.With(1), f.Freeboard.With(2)})
		}
		if len(cells) > 1 {
			b.WriteString("\n" + align(cells))
		}
	}
}
