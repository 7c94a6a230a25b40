package report

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/caution"
	"runnel/analysis/propose"
	"runnel/geo/plan"
)

// ProposalFigures are courses that are proposed for a channel, as they are written.
// Places are those of the site's own reference system.
type ProposalFigures struct {
	Site   string `json:"site"`
	Scheme string `json:"scheme"`
	// Instead names the channel that they take the place of, Drawn what that comes to.
	Instead   string           `json:"instead,omitempty"`
	Note      string           `json:"note"`
	Asked     Figure           `json:"asked_volume_m3"`
	Drawn     *CourseFigures   `json:"drawn,omitempty"`
	Straight  CourseFigures    `json:"straight"`
	Proposals []ProposalFigure `json:"proposals"`
}

// CourseFigures are what one course comes to.
type CourseFigures struct {
	Contact  Figure `json:"contact_area_m2"`
	Volume   Figure `json:"dug_m3"`
	BedWidth Figure `json:"bed_width_m"`
	Length   Figure `json:"length_m"`
}

// ProposalFigure is one proposal.
type ProposalFigure struct {
	Name string `json:"name"`
	CourseFigures
	Level      Figure            `json:"water_level_m"`
	Radius     Figure            `json:"least_radius_m"`
	Depth      Figure            `json:"greatest_cut_m"`
	Strip      *Figure           `json:"least_strip_m"` // nil where no bends lie side by side
	Leads      [2]Figure         `json:"leads_m"`
	Clearances []ClearanceFigure `json:"clearances"`
	Crosses    []string          `json:"crosses"`
	Under      []string          `json:"dug_through"`
	Knots      orb.LineString    `json:"knots"`
	Line       orb.LineString    `json:"line"`
}

// ClearanceFigure is how near a proposal comes to things of one kind.
type ClearanceFigure struct {
	Kind  string `json:"kind"`
	Name  string `json:"name"`
	Least Figure `json:"least_m"`
	Asked Figure `json:"asked_m"`
	label string
}

// proposalNote stands beside every list of proposals.
const proposalNote = "Proposals are starting points for whoever designs: curves that can be edited. They keep clear of what is drawn on the site and know of nothing else. " +
	"Distances are from the tops of the banks, beyond the stretches by which the ends leave the setbacks in which they lie. " + caution.Deference

// OfProposals gathers proposals for a question.
func OfProposals(s *plan.Site, q propose.Question, found []propose.Proposal) ProposalFigures {
	f := ProposalFigures{Site: s.Name, Scheme: s.Plan.SchemeName(q.Scheme), Note: proposalNote, Asked: Figure(q.Volume), Proposals: []ProposalFigure{}}
	if instead, ok := s.Plan.Find(q.Instead); ok {
		f.Instead = instead.Title()
	}
	for _, p := range found {
		st := p.Straight
		f.Straight = CourseFigures{Figure(st.Contact), Figure(st.Volume), Figure(st.BedWidth), Figure(st.Length)}
		f.Proposals = append(f.Proposals, proposalFigure(s, p))
	}
	return f
}

func proposalFigure(s *plan.Site, p propose.Proposal) ProposalFigure {
	f := ProposalFigure{
		Name: p.Channel.Title(), CourseFigures: CourseFigures{Figure(p.Contact), Figure(p.Volume), Figure(p.BedWidth), Figure(p.Length)},
		Level: Figure(p.Level), Radius: Figure(p.Radius), Depth: Figure(p.Depth), Leads: [2]Figure{Figure(p.Leads[0]), Figure(p.Leads[1])},
		Clearances: []ClearanceFigure{}, Crosses: []string{}, Under: []string{}, Knots: p.Knots, Line: p.Line,
	}
	if !math.IsInf(p.Strip, 0) {
		strip := Figure(p.Strip)
		f.Strip = &strip
	}
	for _, c := range p.Clearances {
		thing, _ := s.Plan.Find(c.ID)
		f.Clearances = append(f.Clearances, ClearanceFigure{plan.SpecOf(c.Kind).Name, thing.Title(), Figure(c.Least), Figure(c.Limit), strings.ToLower(c.Kind.String())})
	}
	for _, id := range p.Crossed {
		thing, _ := s.Plan.Find(id)
		f.Crosses = append(f.Crosses, thing.Title())
	}
	for _, id := range p.Under {
		thing, _ := s.Plan.Find(id)
		f.Under = append(f.Under, thing.Title())
	}
	return f
}

// WriteTable writes the proposals for a person.
func (f ProposalFigures) WriteTable(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", f.Site, f.Scheme)
	if f.Instead != "" {
		fmt.Fprintf(&b, "In place of %s, with %s m³ of digging.\n\n", f.Instead, f.Asked.With(1))
	} else {
		fmt.Fprintf(&b, "With %s m³ of digging.\n\n", f.Asked.With(1))
	}
	b.WriteString(align(f.cells()))
	if crossed := f.crossed(); crossed != "" {
		fmt.Fprintf(&b, "\nThere is no way but across %s. Have it located and ask its owner before anything is dug.\n", crossed)
	}
	for _, p := range f.Proposals {
		if len(p.Under) > 0 {
			fmt.Fprintf(&b, "\n%s is dug through %s as drawn; move what lies in its way, or have a path cross the water.\n", p.Name, strings.Join(p.Under, ", "))
		}
	}
	fmt.Fprintf(&b, "\n%s\n", f.Note)
	_, err := io.WriteString(w, b.String())
	return err
}

// crossed names the service lines that lie between the ends: those of each proposal.
func (f ProposalFigures) crossed() string {
	if len(f.Proposals) == 0 {
		return ""
	}
	return strings.Join(f.Proposals[0].Crosses, ", ")
}

func (f ProposalFigures) cells() [][]string {
	head := []string{""}
	courses := []CourseFigures{}
	for _, p := range f.Proposals {
		head, courses = append(head, p.Name), append(courses, p.CourseFigures)
	}
	head, courses = append(head, "Straight line"), append(courses, f.Straight)
	if f.Drawn != nil {
		head, courses = append(head, "As drawn"), append(courses, *f.Drawn)
	}
	cells := [][]string{head}
	row := func(heading string, of func(c CourseFigures) string) {
		line := []string{heading}
		for _, c := range courses {
			line = append(line, of(c))
		}
		cells = append(cells, line)
	}
	row("Contact area [m²]", func(c CourseFigures) string { return c.Contact.With(1) })
	row("Dug [m³]", func(c CourseFigures) string { return c.Volume.With(1) })
	row("  contact area for each [m²/m³]", func(c CourseFigures) string { return (c.Contact / c.Volume).With(2) })
	row("Length [m]", func(c CourseFigures) string { return c.Length.With(1) })
	row("Bed width [m]", func(c CourseFigures) string { return c.BedWidth.With(2) })
	return append(cells, f.limitCells(len(head))...)
}

// limitCells say how each proposal keeps the limits.
func (f ProposalFigures) limitCells(columns int) [][]string {
	var cells [][]string
	row := func(heading string, of func(p ProposalFigure) string) {
		line := slices.Repeat([]string{"–"}, columns)
		line[0] = heading
		for i, p := range f.Proposals {
			line[i+1] = of(p)
		}
		cells = append(cells, line)
	}
	row("Water level [m]", func(p ProposalFigure) string { return p.Level.With(2) })
	row("Least radius of a bend [m]", func(p ProposalFigure) string { return p.Radius.With(1) })
	row("Greatest depth of cut [m]", func(p ProposalFigure) string { return p.Depth.With(2) })
	row("Ground between bends, least [m]", func(p ProposalFigure) string {
		if p.Strip == nil {
			return "–"
		}
		return p.Strip.With(1)
	})
	if len(f.Proposals) == 0 {
		return cells
	}
	for i, c := range f.Proposals[0].Clearances {
		row(fmt.Sprintf("To %s, %s asked [m]", c.label, c.Asked.With(1)), func(p ProposalFigure) string {
			if i >= len(p.Clearances) {
				return "–"
			}
			return p.Clearances[i].Least.With(1)
		})
	}
	return cells
}

// WriteJSON writes the proposals as indented JSON.
func (f ProposalFigures) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(f)
}
