package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"runnel/analysis/soakin"
	"runnel/geo"
	"runnel/geo/plan"
)

// SoakFigures are what soaks in under the schemes of a site, as one command tells it: P
// is what it tells of each.
type SoakFigures[P any] struct {
	Site    string          `json:"site"`
	Note    string          `json:"note"`
	Schemes []SchemeSoak[P] `json:"schemes"`
}

// SchemeSoak is one scheme's part: what it rests on, what is told, and what is not.
type SchemeSoak[P any] struct {
	Scheme   string            `json:"scheme"`
	Basis    string            `json:"basis"`
	Told     P                 `json:"told"`
	Notes    []string          `json:"notes"`
	Withheld []WithheldFigures `json:"withheld"`
}

// WithheldFigures is a figure that is not told, and why.
type WithheldFigures struct {
	What string `json:"what"`
	Why  string `json:"why"`
}

// soakNote stands beside all that is told of what soaks in.
const soakNote = "All of it is potential, not a promise of yield from a well. Local codes and licensed practice govern."

// newSoak begins what a command tells.
func newSoak[P any](s *plan.Site, accounts []*soakin.Account, tell func(*soakin.Account) P) SoakFigures[P] {
	f := SoakFigures[P]{Site: s.Name, Note: soakNote, Schemes: []SchemeSoak[P]{}}
	for _, a := range accounts {
		one := SchemeSoak[P]{Scheme: a.Name, Basis: a.Basis.String(), Told: tell(a), Notes: append([]string{}, a.Notes...), Withheld: []WithheldFigures{}}
		for _, w := range a.Withheld {
			one.Withheld = append(one.Withheld, WithheldFigures{w.What, w.Why})
		}
		f.Schemes = append(f.Schemes, one)
	}
	return f
}

// WriteJSON writes the figures as indented JSON.
func (f SoakFigures[P]) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(f)
}

// writeTable writes the figures for a person: each scheme's part as write has it, then
// what it rests on and what is not told.
func (f SoakFigures[P]) writeTable(w io.Writer, write func(*strings.Builder, P)) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", f.Site)
	for _, s := range f.Schemes {
		fmt.Fprintf(&b, "\n%s\n", s.Scheme)
		write(&b, s.Told)
		fmt.Fprintf(&b, "%s\n", s.Basis)
		for _, note := range s.Notes {
			fmt.Fprintf(&b, "%s\n", sentence(note))
		}
		for _, withheld := range s.Withheld {
			fmt.Fprintf(&b, "Not told, %s: %s\n", withheld.What, sentence(withheld.Why))
		}
	}
	fmt.Fprintf(&b, "\n%s\n", f.Note)
	_, err := io.WriteString(w, b.String())
	return err
}

// sentence ends words with a stop.
func sentence(words string) string { return strings.TrimSuffix(words, ".") + "." }

// WaterFigures are what a month or a year comes to.
type WaterFigures struct {
	Rain       Figure `json:"rain_mm"`
	Reference  Figure `json:"reference_evapotranspiration_mm"`
	RunDays    Figure `json:"days_the_drain_runs"`
	WetDays    Figure `json:"days_under_water"`
	Drain      Figure `json:"from_drains_m3"`
	Runoff     Figure `json:"runoff_m3"`
	Fallen     Figure `json:"rain_on_water_m3"`
	Soaked     Figure `json:"soaked_in_m3"`
	Roots      Figure `json:"taken_by_roots_m3"`
	Recharge   Figure `json:"recharge_potential_m3"`
	Evaporated Figure `json:"evaporated_m3"`
	Spilled    Figure `json:"overflow_m3"`
	RanBack    Figure `json:"ran_back_to_drains_m3"`
	Irrigation Figure `json:"irrigation_m3"`
	Household  Figure `json:"other_draw_m3"`
	Draw       Figure `json:"draw_m3"`
	Share      Figure `json:"share_put_back"`
}

func waterOf(w soakin.Water) WaterFigures {
	return WaterFigures{
		Figure(w.RainDepth), Figure(w.Reference), Figure(w.RunDays), Figure(w.WetDays), Figure(w.Drain), Figure(w.Runoff), Figure(w.Rain),
		Figure(w.Soaked), Figure(w.Roots), Figure(w.Recharge), Figure(w.Evaporated), Figure(w.Spilled), Figure(w.RanBack),
		Figure(w.Irrigation), Figure(w.Household), Figure(w.Draw), Figure(w.Share()),
	}
}

// percent writes a share in percent.
func (f Figure) percent() string {
	if !f.known() {
		return f.With(0)
	}
	return (f * 100).With(0) + " %"
}

// between writes a range from low to high.
func (r RangeFigures) between(decimals int) string {
	if !r.Likely.known() {
		return r.Likely.With(decimals)
	}
	return r.around(r.Likely, decimals)
}

// around writes a figure, and its range where that can be told from it.
func (r RangeFigures) around(f Figure, decimals int) string {
	figure, low, high := f.With(decimals), r.Low.With(decimals), r.High.With(decimals)
	if low == figure && high == figure {
		return figure
	}
	return fmt.Sprintf("%s (%s to %s)", figure, low, high)
}

// percentBetween writes a range of shares.
func (r RangeFigures) percentBetween() string {
	if !r.Likely.known() {
		return r.Likely.With(0)
	}
	return fmt.Sprintf("%s (%s to %s)", r.Likely.percent(), r.Low.percent(), r.High.percent())
}

// hoursOf writes a time in hours, which may be longer than was looked at.
func hoursOf(h Figure, longest float64) string {
	if float64(h) > longest {
		return fmt.Sprintf("over %.0f", longest)
	}
	return h.With(1)
}

func hoursBetween(r geo.Range) string {
	return fmt.Sprintf("%s (%s to %s)", hoursOf(Figure(r.Likely), soakin.Longest), hoursOf(Figure(r.Low), soakin.Longest), hoursOf(Figure(r.High), soakin.Longest))
}
