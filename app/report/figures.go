// Package report writes what the schemes of a site measure, and what to look into
// before they are dug: a table of text for a person, or JSON for a program. Both
// hold the same figures; lengths are metres, areas m², volumes m³.
package report

import (
	"encoding/json"
	"io"
	"math"
	"strconv"

	"runnel/analysis/caution"
	"runnel/analysis/channel"
	"runnel/analysis/compare"
	"runnel/geo"
	"runnel/geo/plan"
)

// Figures are what the schemes of a site measure, as they are written.
type Figures struct {
	Site    string          `json:"site"`
	Setting SettingFigures  `json:"setting"`
	Note    string          `json:"note"`
	Schemes []SchemeFigures `json:"schemes"`
}

// SettingFigures are what the figures rest on beside the ground and the plan.
type SettingFigures struct {
	Soil    string       `json:"soil"`
	RunDays RangeFigures `json:"run_days"`
}

// SchemeFigures are what one scheme measures.
type SchemeFigures struct {
	Scheme          string           `json:"scheme"`
	ContactArea     Figure           `json:"contact_area_m2"`
	ContactOnGround Figure           `json:"contact_area_on_ground_m2"`
	Ratio           Figure           `json:"contact_ratio_to_as_it_is"`
	PlotRatio       Figure           `json:"contact_ratio_to_plot"`
	Perimeter       Figure           `json:"mean_wetted_perimeter_m"`
	WetBank         Figure           `json:"wet_bank_m"`
	Surface         Figure           `json:"water_surface_m2"`
	Storage         Figure           `json:"storage_m3"`
	Length          Figure           `json:"length_m"`
	Depth           Figure           `json:"greatest_depth_m"`
	Cut             Figure           `json:"cut_m3"`
	Fill            Figure           `json:"fill_m3"`
	Channels        []ChannelFigures `json:"channels"`
	Cautions        []CautionFigures `json:"cautions"`
	Problems        []string         `json:"problems"`
	// WaterNotes say of channels for which a flow is set whether they are measured with
	// the water as it flows or as it stands.
	WaterNotes []string `json:"water_notes"`
	// Shape is left out where it was not asked for, and of the site as it is.
	Shape *ShapeFigures `json:"shape,omitempty"`
	// Soak is left out where it was not asked for.
	Soak *SoakBeside `json:"soak,omitempty"`
}

// ChannelFigures are what one channel or drain measures.
type ChannelFigures struct {
	ID          plan.ID `json:"id"`
	Name        string  `json:"name"`
	Kind        string  `json:"kind"`
	Level       Figure  `json:"water_level_m"`
	ContactArea Figure  `json:"contact_area_m2"`
	Perimeter   Figure  `json:"mean_wetted_perimeter_m"`
	WetBank     Figure  `json:"wet_bank_m"`
	Surface     Figure  `json:"water_surface_m2"`
	Storage     Figure  `json:"storage_m3"`
	Depth       Figure  `json:"greatest_depth_m"`
	Length      Figure  `json:"length_m"`
	// Pools are left out where there is one.
	Pools []PoolFigures `json:"pools,omitempty"`
	// Flows is set where the water is taken as it flows: the level is that of its lowest
	// place then.
	Flows bool `json:"as_it_flows"`
}

// PoolFigures is one of several pools of a channel: the stretch along it, and the level.
type PoolFigures struct {
	From  Figure `json:"from_m"`
	To    Figure `json:"to_m"`
	Level Figure `json:"water_level_m"`
}

// CautionFigures is one caution.
type CautionFigures struct {
	Rule     string    `json:"rule"`
	Text     string    `json:"text"`
	Measured string    `json:"measured"`
	Guidance string    `json:"guidance"`
	Features []plan.ID `json:"features"`
}

// RangeFigures is a figure known as low, likely and high.
type RangeFigures struct {
	Low    Figure `json:"low"`
	Likely Figure `json:"likely"`
	High   Figure `json:"high"`
}

// A Figure is a number that is written to three decimals, and as null in JSON
// and as a dash in tables where it is not known.
type Figure float64

func (f Figure) known() bool { return !math.IsNaN(float64(f)) && !math.IsInf(float64(f), 0) }

// MarshalJSON writes the figure.
func (f Figure) MarshalJSON() ([]byte, error) {
	if !f.known() {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, f.rounded(3), 'f', -1, 64), nil
}

// rounded returns the figure to a number of decimals, nought without a sign.
func (f Figure) rounded(decimals int) float64 {
	scale := math.Pow10(decimals)
	return math.Round(float64(f)*scale)/scale + 0
}

// With writes the figure with a number of decimals.
func (f Figure) With(decimals int) string {
	if !f.known() {
		return "–"
	}
	return strconv.FormatFloat(f.rounded(decimals), 'f', decimals, 64)
}

// Of gathers the figures of accounts of a site.
func Of(s *plan.Site, accounts []compare.Account) Figures {
	f := Figures{
		Site:    s.Name,
		Setting: SettingFigures{Soil: s.Setting.Soil, RunDays: rangeOf(s.Setting.RunDays)},
		Note:    caution.Deference,
		Schemes: []SchemeFigures{},
	}
	for _, a := range accounts {
		f.Schemes = append(f.Schemes, schemeOf(a))
	}
	return f
}

// WriteJSON writes the figures as indented JSON.
func (f Figures) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(f)
}

func schemeOf(a compare.Account) SchemeFigures {
	f := SchemeFigures{
		Scheme: a.Name, ContactArea: Figure(a.Contact), ContactOnGround: Figure(a.ContactOnGround), Ratio: Figure(a.Ratio),
		PlotRatio: Figure(a.PlotRatio), Perimeter: Figure(a.Perimeter),
		WetBank: Figure(a.WetBank), Surface: Figure(a.Surface), Storage: Figure(a.Storage),
		Length: Figure(a.Length), Depth: Figure(a.Depth), Cut: Figure(a.Cut), Fill: Figure(a.Fill),
		Channels: []ChannelFigures{}, Cautions: []CautionFigures{}, Problems: []string{}, WaterNotes: append([]string{}, a.Notes...),
	}
	for _, c := range a.Channels {
		m := c.Measure
		f.Channels = append(f.Channels, ChannelFigures{
			ID: c.ID, Name: c.Title, Kind: plan.SpecOf(c.Kind).Name, Level: Figure(m.Level), Flows: a.Network.Runs(c.ID), ContactArea: Figure(m.Contact), Perimeter: Figure(m.Perimeter()),
			WetBank: Figure(m.WetBank), Surface: Figure(m.Surface), Storage: Figure(m.Volume), Depth: Figure(m.Depth), Length: Figure(m.Length),
			Pools: poolsOf(a.Network, c.ID),
		})
	}
	for _, c := range a.Cautions {
		f.Cautions = append(f.Cautions, CautionFigures{c.Rule, c.Text, c.Measured, c.Guidance, append([]plan.ID{}, c.Features...)})
	}
	for _, p := range a.Problems {
		f.Problems = append(f.Problems, p.Error())
	}
	return f
}

func poolsOf(n *channel.Network, id plan.ID) []PoolFigures {
	pools := n.Pools(id)
	if len(pools) < 2 || n.Runs(id) { // running water has no pools
		return nil
	}
	var all []PoolFigures
	for _, p := range pools {
		all = append(all, PoolFigures{Figure(p.From), Figure(p.To), Figure(p.Level)})
	}
	return all
}

func rangeOf(r geo.Range) RangeFigures {
	return RangeFigures{Figure(r.Low), Figure(r.Likely), Figure(r.High)}
}
