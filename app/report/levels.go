package report

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"runnel/analysis/compare"
	"runnel/geo/plan"
)

// LevelFigures are stage tables of a site's schemes, as they are written.
type LevelFigures struct {
	Site    string         `json:"site"`
	Note    string         `json:"note"`
	Schemes []StageFigures `json:"schemes"`
}

// StageFigures is the stage table of one scheme; Why says why it has none.
type StageFigures struct {
	Scheme   string             `json:"scheme"`
	Why      string             `json:"why_not,omitempty"`
	Notes    []string           `json:"notes,omitempty"`
	Levels   []LevelFigure      `json:"levels"`
	Channels []LineLevelFigures `json:"channels"`
}

// LineLevelFigures is the stage table of one channel.
type LineLevelFigures struct {
	ID     plan.ID       `json:"id"`
	Name   string        `json:"name"`
	Levels []LevelFigure `json:"levels"`
}

// LevelFigure is what water touches and holds at one level.
type LevelFigure struct {
	Level     Figure `json:"water_level_m"`
	InUse     bool   `json:"in_use"`
	Perimeter Figure `json:"mean_wetted_perimeter_m"`
	Contact   Figure `json:"contact_area_m2"`
	Surface   Figure `json:"water_surface_m2"`
	Volume    Figure `json:"storage_m3"`
	WetBank   Figure `json:"wet_bank_m"`
}

// levelNote says what a stage table rests on.
const levelNote = "Water stands at one level in all channels, or at the brim of those that are lower; pools that sills hold higher stand as they do in use. Drains are left out. " +
	"The mean wetted perimeter is the contact area over the length of line that is wet; it is not told where all is dry."

// NewLevels begins the stage tables of a site.
func NewLevels(s *plan.Site) LevelFigures {
	return LevelFigures{Site: s.Name, Note: levelNote, Schemes: []StageFigures{}}
}

// Add adds the table of one scheme.
func (f *LevelFigures) Add(scheme string, t compare.Stages) {
	one := StageFigures{Scheme: scheme, Why: t.Why, Notes: t.Notes, Levels: levelsOf(t.Scheme), Channels: []LineLevelFigures{}}
	for _, l := range t.Lines {
		one.Channels = append(one.Channels, LineLevelFigures{l.ID, l.Title, levelsOf(l.Points)})
	}
	f.Schemes = append(f.Schemes, one)
}

func levelsOf(points []compare.StagePoint) []LevelFigure {
	all := []LevelFigure{}
	for _, p := range points {
		all = append(all, LevelFigure{Figure(p.Level), p.InUse, Figure(p.Perimeter), Figure(p.Contact), Figure(p.Surface), Figure(p.Volume), Figure(p.WetEdge)})
	}
	return all
}

// WriteJSON writes the tables as indented JSON.
func (f LevelFigures) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(f)
}

// WriteTable writes the tables for a person.
func (f LevelFigures) WriteTable(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", f.Site)
	for _, s := range f.Schemes {
		if s.Why != "" {
			fmt.Fprintf(&b, "\n%s: –, for %s.\n", s.Scheme, s.Why)
			continue
		}
		fmt.Fprintf(&b, "\n%s\n%s", s.Scheme, align(levelCells("All channels", s.Levels)))
		for _, c := range s.Channels {
			if len(s.Channels) > 1 {
				fmt.Fprintf(&b, "\n%s", align(levelCells(c.Name, c.Levels)))
			}
		}
		for _, note := range s.Notes {
			fmt.Fprintf(&b, "%s\n", note)
		}
	}
	if len(f.Schemes) == 0 {
		b.WriteString("\nNo scheme is drawn yet.\n")
	}
	fmt.Fprintf(&b, "\n* in use, and there a channel stands as it is drawn. %s\n", f.Note)
	_, err := io.WriteString(w, b.String())
	return err
}

func levelCells(name string, levels []LevelFigure) [][]string {
	cells := [][]string{{name, "water level [m]", "mean wetted perimeter [m]", "contact area [m²]", "water surface [m²]", "storage [m³]", "wet bank [m]"}}
	for _, l := range levels {
		mark := ""
		if l.InUse {
			mark = "  *"
		}
		cells = append(cells, []string{mark, l.Level.With(3), l.Perimeter.With(2), l.Contact.With(1), l.Surface.With(1), l.Volume.With(2), l.WetBank.With(1)})
	}
	return cells
}

// WriteCSV writes the tables as comma-separated values with a heading; a figure that
// is not told is empty, and a scheme that has no table is one line that says why.
func (f LevelFigures) WriteCSV(w io.Writer) error {
	c := csv.NewWriter(w)
	rows := [][]string{{"scheme", "channel", "water_level_m", "in_use", "mean_wetted_perimeter_m", "contact_area_m2", "water_surface_m2", "storage_m3", "wet_bank_m", "why_not"}}
	for _, s := range f.Schemes {
		if s.Why != "" {
			rows = append(rows, []string{s.Scheme, "", "", "", "", "", "", "", "", s.Why})
		}
		for _, l := range s.Levels {
			rows = append(rows, l.csv(s.Scheme, "all channels"))
		}
		for _, channel := range s.Channels {
			for _, l := range channel.Levels {
				rows = append(rows, l.csv(s.Scheme, channel.Name))
			}
		}
	}
	return c.WriteAll(rows)
}

func (l LevelFigure) csv(scheme, channel string) []string {
	cells, why := []string{scheme, channel, l.Level.plain(), fmt.Sprint(l.InUse)}, ""
	for _, f := range []Figure{l.Perimeter, l.Contact, l.Surface, l.Volume, l.WetBank} {
		cells = append(cells, f.plain())
	}
	if !l.Perimeter.known() {
		why = "all is dry"
	}
	return append(cells, why)
}

// plain writes the figure as a program reads it, empty where it is not known.
func (f Figure) plain() string {
	if !f.known() {
		return ""
	}
	text, _ := f.MarshalJSON()
	return string(text)
}
