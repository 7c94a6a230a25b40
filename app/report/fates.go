package report

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/fate"
	"runnel/geo/plan"
)

// FateFigures are where the water of a scheme's roofs and paving ends, as they are
// written. Places are those of the site's own reference system.
type FateFigures struct {
	Site       string         `json:"site"`
	Scheme     string         `json:"scheme"`
	Storm      Figure         `json:"storm_mm"`
	StormHours Figure         `json:"storm_hours"`
	YearRain   Figure         `json:"year_rain_mm"`
	Note       string         `json:"note"`
	Sources    []SourceFigure `json:"sources"`
	Problems   []string       `json:"problems"`
}

// SourceFigure is one roof or piece of paving.
type SourceFigure struct {
	ID          plan.ID     `json:"id"`
	Name        string      `json:"name"`
	Kind        string      `json:"kind"`
	Area        Figure      `json:"area_m2"`
	Coefficient Figure      `json:"runoff_coefficient"`
	Storm       Figure      `json:"storm_m3"`
	Year        Figure      `json:"year_m3"`
	Ends        []EndFigure `json:"ends"`
}

// EndFigure is the part of a source's water that ends in one place.
type EndFigure struct {
	Kind string `json:"kind"`
	// ID is that of the channel, drain or inlet; 0 for other ends.
	ID      plan.ID        `json:"id,omitempty"`
	Name    string         `json:"name"`
	Through []string       `json:"through_culverts"`
	Share   Figure         `json:"share"`
	Storm   Figure         `json:"storm_m3"`
	Year    Figure         `json:"year_m3"`
	Path    orb.LineString `json:"path"`
}

// fateNote says by what rule the water is parted.
const fateNote = "A hollow keeps what comes to it in the storm up to its brim; the rest spills on. " +
	"Culverts and drain inlets are taken to carry all that comes. The year's water is parted as the storm's: in lesser storms hollows keep more of it."

// OfFates gathers the fates of a scheme's water.
func OfFates(s *plan.Site, scheme plan.SchemeID, fates []fate.Fate, problems []channel.Problem) FateFigures {
	f := FateFigures{
		Site: s.Name, Scheme: s.Plan.SchemeName(scheme), Note: fateNote,
		Storm: Figure(s.Setting.Storm), StormHours: Figure(s.Setting.StormHours), YearRain: Figure(s.Setting.YearRain),
		Sources: []SourceFigure{}, Problems: []string{},
	}
	for _, one := range fates {
		from, _ := s.Plan.Find(one.Feature)
		source := SourceFigure{
			ID: one.Feature, Name: from.Title(), Kind: plan.SpecOf(from.Kind).Name, Area: Figure(one.Area),
			Coefficient: Figure(one.Coefficient), Storm: Figure(one.Storm), Year: Figure(one.Year), Ends: []EndFigure{},
		}
		for _, p := range one.Parts {
			source.Ends = append(source.Ends, endOf(s, p))
		}
		f.Sources = append(f.Sources, source)
	}
	for _, p := range problems {
		f.Problems = append(f.Problems, p.Error())
	}
	return f
}

func endOf(s *plan.Site, p fate.Part) EndFigure {
	end := EndFigure{
		Kind: p.Kind.String(), ID: p.Feature, Name: endName(s, p), Through: []string{}, Share: Figure(p.Share),
		Storm: Figure(p.Storm), Year: Figure(p.Year), Path: p.Path,
	}
	for _, id := range p.Through {
		culvert, _ := s.Plan.Find(id)
		end.Through = append(end.Through, culvert.Title())
	}
	return end
}

// endName says what a part ends in, for a person.
func endName(s *plan.Site, p fate.Part) string {
	last := p.Path[len(p.Path)-1]
	switch p.Kind {
	case fate.Edge:
		return "the " + p.SideName() + " edge at " + placeName(last)
	case fate.Hollow:
		return "the hollow at " + placeName(last)
	case fate.SmallHollows:
		return "small hollows on the way"
	}
	f, _ := s.Plan.Find(p.Feature)
	return f.Title()
}

func placeName(p orb.Point) string { return fmt.Sprintf("%.0f east, %.0f north", p[0], p[1]) }

// leastTold is the least share of a source's water that a table tells.
const leastTold = 0.001

// WriteTable writes the fates for a person.
func (f FateFigures) WriteTable(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", f.Site, f.Scheme)
	fmt.Fprintf(&b, "A storm of %s mm in %s hours, a year of %s mm.\n\n", f.Storm.With(0), f.StormHours.With(1), f.YearRain.With(0))
	if len(f.Sources) == 0 {
		b.WriteString("No roof and no paving lies on the ground; draw them to see where their water ends.\n")
	} else {
		b.WriteString(align(f.cells()))
		fmt.Fprintf(&b, "\n%s\n", f.Note)
	}
	if len(f.Problems) > 0 {
		b.WriteString("\nNot as drawn\n")
	}
	for _, problem := range f.Problems {
		fmt.Fprintf(&b, "  -  %s.\n", problem)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// cells lay out each source with its ends, then what comes to each kind of end.
func (f FateFigures) cells() [][]string {
	cells := [][]string{{"", "area [m²]", "share [%]", "storm [m³]", "year [m³]"}}
	var kinds []string
	storm, year := map[string]Figure{}, map[string]Figure{}
	for _, s := range f.Sources {
		cells = append(cells, []string{s.Name, s.Area.With(1), "", s.Storm.With(2), s.Year.With(1)})
		for _, e := range s.Ends {
			if !slices.Contains(kinds, e.Kind) {
				kinds = append(kinds, e.Kind)
			}
			storm[e.Kind], year[e.Kind] = storm[e.Kind]+e.Storm, year[e.Kind]+e.Year
			if e.Share >= leastTold {
				cells = append(cells, []string{"  to " + e.told(), "", (100 * e.Share).With(1), e.Storm.With(2), e.Year.With(1)})
			}
		}
	}
	cells = append(cells, []string{"All of it", "", "", "", ""})
	for _, k := range kinds {
		cells = append(cells, []string{"  " + kindName[k], "", "", storm[k].With(2), year[k].With(1)})
	}
	return cells
}

// told is an end with the culverts on the way to it.
func (e EndFigure) told() string {
	if len(e.Through) == 0 {
		return e.Name
	}
	return e.Name + ", by " + strings.Join(e.Through, ", ")
}

var kindName = map[string]string{
	fate.Edge.String(): "over the edge", fate.Channel.String(): "to channels", fate.Drain.String(): "to drains",
	fate.Inlet.String(): "to drain inlets", fate.Hollow.String(): "to hollows", fate.SmallHollows.String(): "to small hollows",
}

// WriteJSON writes the fates as indented JSON.
func (f FateFigures) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(f)
}
