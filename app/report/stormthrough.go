package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"runnel/analysis/soakin"
	"runnel/geo"
	"runnel/geo/plan"
)

// StormFigures are how the design storm goes through a scheme.
type StormFigures struct {
	Rain      Figure           `json:"rain_mm"`
	Hours     Figure           `json:"hours"`
	Shape     string           `json:"distribution"`
	Inflows   []StormInflow    `json:"inflows"`
	Pools     []PoolStorm      `json:"pools"`
	Overflows []OverflowFigure `json:"overflows"`
}

// StormInflow are what the storm brings to one pool.
type StormInflow struct {
	Name          string `json:"name"`
	Area          Figure `json:"contributing_ground_m2"`
	Hard          Figure `json:"of_it_roofs_and_paving_m2"`
	Street        Figure `json:"of_it_streets_m2"`
	CurveNumber   Figure `json:"curve_number"`
	Concentration Figure `json:"time_of_concentration_min"`
	Volume        Figure `json:"runoff_m3"`
	Peak          Figure `json:"peak_l_per_s"`
	Rational      Figure `json:"peak_by_rational_method_l_per_s"`
}

// PoolStorm is how the storm goes through one pool. Empty is null in JSON where it is
// longer than was looked at.
type PoolStorm struct {
	Name      string `json:"name"`
	Peak      Figure `json:"highest_level_m"`
	PeakAt    Figure `json:"after_h"`
	Depth     Figure `json:"greatest_depth_m"`
	Freeboard Figure `json:"freeboard_m"`
	Over      bool   `json:"runs_over"`
	Out       Figure `json:"leaves_m3"`
	// Ways are what leaves by each way out.
	Ways  []WayFigure  `json:"ways_out"`
	Empty RangeFigures `json:"hours_to_empty"`

	empty geo.Range
}

// WayFigure is what leaves a pool by one way out.
type WayFigure struct {
	Name   string `json:"name"`
	Peak   Figure `json:"peak_l_per_s"`
	Volume Figure `json:"volume_m3"`
}

// OverflowFigure is where the water goes that leaves a pool.
type OverflowFigure struct {
	From     string `json:"from"`
	Over     string `json:"over"`
	Volume   Figure `json:"volume_m3"`
	Peak     Figure `json:"peak_l_per_s"`
	Length   Figure `json:"way_m"`
	Building string `json:"nearest_building,omitempty"`
	Away     Figure `json:"from_building_m"`
}

// Storms are the design storm in the schemes of a site.
type Storms struct{ SoakFigures[StormFigures] }

// NewStorms gathers them.
func NewStorms(s *plan.Site, accounts []*soakin.Account) Storms {
	return Storms{newSoak(s, accounts, stormOf)}
}

// minutes is how many of them an hour has.
const minutes = 60

func stormOf(a *soakin.Account) StormFigures {
	st := a.Storm
	f := StormFigures{Rain: Figure(st.Rain), Hours: Figure(st.Hours), Shape: st.Shape, Inflows: []StormInflow{}, Pools: []PoolStorm{}, Overflows: []OverflowFigure{}}
	for _, in := range st.Inflows {
		f.Inflows = append(f.Inflows, StormInflow{
			in.Title, Figure(in.Area), Figure(in.Hard), Figure(in.Street), Figure(in.CurveNumber), Figure(in.Concentration * minutes),
			Figure(in.Volume), Figure(in.Peak * litres), Figure(in.Rational * litres),
		})
	}
	for i, p := range st.Likely.Pools {
		if a.Setup.Pools.Pools[i].Drain {
			continue
		}
		out, ways := 0.0, []WayFigure{}
		for _, o := range p.Outlets {
			if out += o.Volume; o.Volume > 0 {
				ways = append(ways, WayFigure{o.Title, Figure(o.Peak * litres), Figure(o.Volume)})
			}
		}
		f.Pools = append(f.Pools, PoolStorm{
			Name: p.Title, Peak: Figure(p.Peak), PeakAt: Figure(p.PeakAt), Depth: Figure(p.Depth), Freeboard: Figure(p.Freeboard), Over: p.Over,
			Out: Figure(out), Ways: ways, Empty: rangeOf(st.Empty[i]), empty: st.Empty[i],
		})
	}
	for _, o := range st.Overflows {
		one := OverflowFigure{From: o.Title, Over: o.Outlet.Title, Volume: Figure(o.Volume), Peak: Figure(o.Peak * litres), Length: Figure(o.Length()), Away: Figure(math.NaN())}
		if !math.IsInf(o.Away, 1) {
			one.Building, one.Away = o.Building.Title(), Figure(o.Away)
		}
		f.Overflows = append(f.Overflows, one)
	}
	return f
}

// WriteTable writes the storms for a person.
func (f Storms) WriteTable(w io.Writer) error {
	return f.writeTable(w, func(b *strings.Builder, s StormFigures) {
		fmt.Fprintf(b, "%s mm of rain in %s h, %s.\n", s.Rain.With(1), s.Hours.With(1), s.Shape)
		if len(s.Inflows) > 0 {
			cells := [][]string{{"What comes", "ground [m²]", "hard [m²]", "street [m²]", "curve number", "concentration [min]", "runoff [m³]", "peak [L/s]", "rational method [L/s]"}}
			for _, in := range s.Inflows {
				cells = append(cells, []string{"  " + in.Name, in.Area.With(0), in.Hard.With(0), in.Street.With(0), in.CurveNumber.With(1),
					in.Concentration.With(0), in.Volume.With(1), in.Peak.With(2), in.Rational.With(2)})
			}
			b.WriteString(align(cells))
		}
		if len(s.Pools) == 0 {
			b.WriteString("No channel is drawn for the storm to go through.\n")
			return
		}
		cells := [][]string{{"How it stands", "highest [m]", "after [h]", "depth [m]", "freeboard [m]", "leaves [m³]", "empty after [h]"}}
		for _, p := range s.Pools {
			freeboard := p.Freeboard.With(2)
			if p.Over {
				freeboard = "runs over"
			}
			cells = append(cells, []string{"  " + p.Name, p.Peak.With(2), p.PeakAt.With(1), p.Depth.With(2), freeboard, p.Out.With(1), hoursBetween(p.empty)})
		}
		b.WriteString(align(cells))
		for _, p := range s.Pools {
			for _, way := range p.Ways {
				fmt.Fprintf(b, "%s: %s m³ leave by %s, %s L/s at most.\n", p.Name, way.Volume.With(1), way.Name, way.Peak.With(2))
			}
		}
		for _, o := range s.Overflows {
			fmt.Fprintf(b, "%s m³ leave %s over %s, %s L/s at most, and run %s m down the ground", o.Volume.With(2), o.From, o.Over, o.Peak.With(2), o.Length.With(0))
			if o.Building != "" {
				fmt.Fprintf(b, ", at the nearest %s m from %s", o.Away.With(1), o.Building)
			}
			b.WriteString(".\n")
		}
	})
}
