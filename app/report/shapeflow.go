package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/hydraulics"
	"runnel/geo/plan"
)

// FlowFigures are the steady flow through a scheme; what cannot be given is null.
type FlowFigures struct {
	Inflow    Figure          `json:"inflow_l_s"`
	Inflows   []InflowFigures `json:"inflows"`
	Fastest   AtFigures       `json:"greatest_velocity_m_s"`
	Freeboard AtFigures       `json:"least_freeboard_m"`
	Reaches   []ReachFigures  `json:"reaches"`
	Findings  []FindingFigure `json:"findings"`
	// Still says of each channel in which nothing flows why, Withheld why a flow is not
	// given.
	Still    []string `json:"still"`
	Withheld []string `json:"withheld"`
}

// InflowFigures is what comes into a channel at one place.
type InflowFigures struct {
	Channel plan.ID `json:"channel"`
	Drain   plan.ID `json:"drain,omitempty"`
	Flow    Figure  `json:"flow_l_s"`
	Offered Figure  `json:"offered_l_s"`
	From    string  `json:"from"`
}

// AtFigures is a figure and where it is.
type AtFigures struct {
	Value    Figure `json:"value"`
	Channel  string `json:"channel,omitempty"`
	Chainage Figure `json:"chainage_m"`
}

// FindingFigure is something about the flow that a designer should know.
type FindingFigure struct {
	ID     plan.ID `json:"id"`
	Text   string  `json:"text"`
	Source string  `json:"source,omitempty"`
}

// litres is how many litres a cubic metre holds.
const litres = 1000

func flowOf(r *hydraulics.Result) *FlowFigures {
	nowhere := AtFigures{Value: Figure(math.NaN()), Chainage: Figure(math.NaN())}
	f := &FlowFigures{Inflow: Figure(math.NaN()), Inflows: []InflowFigures{}, Fastest: nowhere, Freeboard: nowhere, Reaches: []ReachFigures{}, Findings: []FindingFigure{}, Still: []string{}, Withheld: []string{}}
	for i, in := range r.Inflows {
		f.Inflows = append(f.Inflows, InflowFigures{in.Channel, in.Drain, Figure(in.Flow * litres), Figure(in.Offered * litres), in.From})
		if i == 0 {
			f.Inflow = 0
		}
		f.Inflow += Figure(in.Flow * litres)
	}
	for i := range r.Reaches {
		f.addReach(&r.Reaches[i])
	}
	for _, found := range r.Findings {
		f.Findings = append(f.Findings, FindingFigure{found.ID, found.Text, found.Source})
	}
	for _, w := range r.Withheld {
		f.Withheld = append(f.Withheld, w.Error())
	}
	return f
}

func (f *FlowFigures) addReach(reach *hydraulics.Reach) {
	if reach.Still != "" && !slices.Contains(f.Still, reach.Still) {
		f.Still = append(f.Still, reach.Still)
	}
	for _, s := range reach.Stations {
		if v := Figure(math.Abs(s.Velocity)); v.known() && !(v <= f.Fastest.Value) {
			f.Fastest = AtFigures{v, reach.Title, Figure(s.Chainage)}
		}
		if v := Figure(s.Freeboard); v.known() && !(v >= f.Freeboard.Value) {
			f.Freeboard = AtFigures{v, reach.Title, Figure(s.Chainage)}
		}
	}
	if len(reach.Stations) > 0 {
		f.Reaches = append(f.Reaches, reachOf(reach))
	}
}

// writeFlows writes the flow as the drains run and as they are full; once, where that is
// the same.
func writeFlows(b *strings.Builder, running, full *FlowFigures) {
	ways, cells := []*FlowFigures{running, full}, [][]string{{"Flow", "drains as they run", "drains full"}}
	if running.same(full) {
		ways, cells = ways[:1], [][]string{{"Flow", ""}}
	}
	add := func(heading string, of func(*FlowFigures) string) {
		line := []string{heading}
		for _, f := range ways {
			line = append(line, of(f))
		}
		cells = append(cells, line)
	}
	add("  let in [L/s]", func(f *FlowFigures) string { return f.Inflow.With(1) })
	add("  greatest velocity [m/s]", func(f *FlowFigures) string { return f.Fastest.Value.With(2) })
	add("  least freeboard [m]", func(f *FlowFigures) string { return f.Freeboard.Value.With(2) })
	b.WriteString("\n" + align(cells))
	for _, in := range running.Inflows {
		fmt.Fprintf(b, "%s\n", in.From)
	}
	writeReaches(b, ways)
	if len(ways) == 1 {
		writeLines(b, "", running.lines(), nil)
		return
	}
	first, second := running.lines(), full.lines()
	writeLines(b, "As the drains run and with them full: ", first, func(line string) bool { return slices.Contains(second, line) })
	writeLines(b, "As the drains run: ", first, func(line string) bool { return !slices.Contains(second, line) })
	writeLines(b, "With the drains full: ", second, func(line string) bool { return !slices.Contains(first, line) })
}

// same reports whether two flows have the same figures.
func (f *FlowFigures) same(other *FlowFigures) bool {
	one, err := json.Marshal(f)
	if err != nil {
		return false
	}
	two, err := json.Marshal(other)
	return err == nil && bytes.Equal(one, two)
}

// lines lists what there is to say of a flow, a sentence each.
func (f *FlowFigures) lines() []string {
	var lines []string
	for _, found := range f.Findings {
		line := strings.TrimSuffix(found.Text, ".")
		if found.Source != "" {
			line += " (" + found.Source + ")"
		}
		lines = append(lines, line)
	}
	for _, why := range slices.Concat(f.Still, f.Withheld) {
		lines = append(lines, strings.TrimSuffix(why, "."))
	}
	return lines
}

// writeLines writes those lines that are wanted, or all where that is nil.
func writeLines(b *strings.Builder, when string, lines []string, wanted func(string) bool) {
	for _, line := range lines {
		if wanted == nil || wanted(line) {
			fmt.Fprintf(b, "  -  %s%s.\n", when, line)
		}
	}
}
