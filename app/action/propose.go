package action

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/propose"
	"runnel/app/report"
	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// Propose finds courses for a channel that touch more soil for the same digging.
type Propose struct {
	Site    string   `arg:"" help:"The site (.gpkg)."`
	From    string   `placeholder:"E,N" help:"The inlet; left out with --to, the start and the end of the scheme's first channel, in place of it."`
	To      string   `placeholder:"E,N" help:"The outlet."`
	Scheme  string   `placeholder:"NAME" help:"The scheme whose drawn things count; left out, the site as it is, or the first scheme with a channel where no ends are given."`
	Volume  *float64 `placeholder:"M3" help:"How much may be dug, in m³; left out, what that channel takes."`
	Grade   *float64 `placeholder:"PCT" help:"How much the bed falls along the line, in per cent; left out, as that channel's does, or level."`
	Sides   string   `placeholder:"H:V" help:"The side slopes, such as 2:1; left out, that channel's, or 3:1."`
	Width   string   `placeholder:"MIN,MAX" help:"The least and the greatest width of the bed, in metres; left out, 0.3,1.2."`
	Radius  float64  `placeholder:"M" help:"The least radius of a bend, in metres; left out, 1.5."`
	Setback *float64 `placeholder:"M" help:"How far to keep from all that is drawn, in metres; left out, the usual setback of each kind."`
	Strip   float64  `placeholder:"M" help:"The least width of ground between bends, in metres; left out, 0.5."`
	Count   int      `placeholder:"N" help:"How many proposals; left out, 3."`
	Seed    uint64   `placeholder:"N" help:"Where the search starts; the same one finds the same lines."`
	Effort  float64  `placeholder:"TIMES" help:"How long to search, as a multiple of the usual."`
	JSON    bool     `name:"json" help:"Write the proposals, with their lines, as JSON."`
	Write   bool     `help:"Add each proposal to the site as a new scheme."`
}

// Help tells what a proposal is.
func (p *Propose) Help() string {
	return `The most contact area that the digging buys is sought, by a channel of one section
whose bed is as wide as the volume allows. It keeps its banks clear of buildings,
wells, septic fields, trees' crowns, service lines, paving, drains and the boundary
as they are drawn. Proposals are starting points, editable curves; local codes and
licensed practice govern.`
}

// Run finds the proposals.
func (p *Propose) Run(ctx context.Context, s Streams) error {
	opened, err := s.In.Site(ctx, p.Site)
	if err != nil {
		return err
	}
	q, err := p.question(ctx, opened)
	if err != nil {
		return err
	}
	tell, end := s.progress("seeking lines")
	found, err := propose.Lines(ctx, opened, q, tell)
	end()
	if err != nil {
		return err
	}
	figures := report.OfProposals(opened, q, found)
	if figures.Drawn, err = drawn(ctx, opened, q); err != nil {
		return err
	}
	if p.Write {
		if err := p.write(opened, q, found, s); err != nil {
			return err
		}
	}
	if p.JSON {
		return figures.WriteJSON(s.Out)
	}
	return figures.WriteTable(s.Out)
}

// write adds the proposals to the site's file, a scheme for each.
func (p *Propose) write(opened *plan.Site, q propose.Question, found []propose.Proposal, s Streams) error {
	edit := &site.AddSchemes{Schemes: proposalSchemes(opened, q, found)}
	if err := edit.Apply(opened); err != nil {
		return err
	}
	if err := gdal.SaveSite(p.Site, opened); err != nil {
		return err
	}
	for _, made := range edit.Schemes {
		s.say(fmt.Sprintf("added the scheme %s", made.Name))
	}
	return nil
}

// proposalSchemes makes a scheme of each proposal, with what else stays of the scheme
// that it is made for.
func proposalSchemes(s *plan.Site, q propose.Question, found []propose.Proposal) []site.Filled {
	var schemes []site.Filled
	number := 1
	taken := func(name string) bool {
		return slices.ContainsFunc(s.Plan.Schemes, func(c plan.Scheme) bool { return strings.EqualFold(c.Name, name) })
	}
	for _, p := range found {
		for taken(fmt.Sprintf("Proposal %d", number)) {
			number++
		}
		name := fmt.Sprintf("Proposal %d", number)
		number++
		course := p.Channel
		course.Name = name
		schemes = append(schemes, site.Filled{Name: name, Features: append(propose.Kept(s, q), course)})
	}
	return schemes
}

// drawn measures the channel that the proposals take the place of; nil for none.
func drawn(ctx context.Context, s *plan.Site, q propose.Question) (*report.CourseFigures, error) {
	f, ok := s.Plan.Find(q.Instead)
	if !ok {
		return nil, nil
	}
	n, _ := channel.NewNetwork(s, q.Scheme)
	lines, err := n.Measure(ctx, channel.Step{})
	if err != nil {
		return nil, err
	}
	asked, err := propose.Asked(ctx, s, q.Scheme)
	for _, l := range lines {
		if l.ID == f.ID {
			m := l.Measure
			return &report.CourseFigures{Contact: report.Figure(m.Contact), Volume: report.Figure(asked.Volume), BedWidth: report.Figure(f.Num("bed_width")), Length: report.Figure(m.Length)}, err
		}
	}
	return nil, err
}

// question reads what is asked.
func (p *Propose) question(ctx context.Context, s *plan.Site) (propose.Question, error) {
	q, err := p.ends(ctx, s)
	if err != nil {
		return q, err
	}
	if p.Volume != nil {
		q.Volume = *p.Volume
	}
	if p.Grade != nil {
		q.Grade = *p.Grade
	}
	if p.Sides != "" {
		side, err := sideOf(p.Sides)
		if err != nil {
			return q, err
		}
		q.Left, q.Right = side, side
	}
	if p.Width != "" {
		pair, err := pairOf("--width", p.Width, "two widths in metres, such as 0.4,1.5")
		if err != nil {
			return q, err
		}
		q.Narrowest, q.Widest = pair[0], pair[1]
	}
	if b := p.Setback; b != nil {
		q.Setbacks = propose.Setbacks{Building: *b, Well: *b, Septic: *b, Boundary: *b, Tree: *b, Service: *b, Paving: *b}
		if *b == 0 {
			q.Setbacks.Building = leastSetback
		}
	}
	q.Radius, q.Strip, q.Count, q.Seed, q.Effort = p.Radius, p.Strip, p.Count, p.Seed, p.Effort
	return q, nil
}

// leastSetback stands for none [m]: nought in every setback would be the usual ones.
const leastSetback = 1e-9

// ends reads from where to where a course is sought, and in which scheme.
func (p *Propose) ends(ctx context.Context, s *plan.Site) (propose.Question, error) {
	if (p.From == "") != (p.To == "") {
		return propose.Question{}, mistyped("give both --from E,N and --to E,N, or neither")
	}
	scheme, err := schemeNamed(s, p.Scheme)
	if err != nil {
		return propose.Question{}, err
	}
	if p.From == "" {
		if p.Scheme == "" {
			scheme = firstWithChannel(s)
		}
		return propose.Asked(ctx, s, scheme)
	}
	if p.Volume == nil {
		return propose.Question{}, mistyped("say how much may be dug with --volume M3")
	}
	from, err := pairOf("--from", p.From, "an easting and a northing, such as 523413,4811160")
	if err != nil {
		return propose.Question{}, err
	}
	to, err := pairOf("--to", p.To, "an easting and a northing, such as 523476,4811139")
	return propose.Question{Scheme: scheme, From: from, To: to}, err
}

func firstWithChannel(s *plan.Site) plan.SchemeID {
	for _, scheme := range s.Plan.Schemes {
		for _, f := range s.Plan.Of(plan.Channel, scheme.ID) {
			if f.Scheme == scheme.ID {
				return scheme.ID
			}
		}
	}
	return plan.AsItIs
}

// pairOf reads two numbers with a comma between.
func pairOf(flag, typed, wanted string) (orb.Point, error) {
	parts := strings.Split(typed, ",")
	var pair orb.Point
	for i := range parts {
		v, err := strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
		if len(parts) != 2 || err != nil {
			return pair, mistyped("%s is %q; give %s", flag, typed, wanted)
		}
		pair[i] = v
	}
	return pair, nil
}

// sideOf reads a slope, H:V or H alone.
func sideOf(typed string) (float64, error) {
	across, down, both := strings.Cut(typed, ":")
	h, err := strconv.ParseFloat(strings.TrimSpace(across), 64)
	v := 1.0
	if both && err == nil {
		v, err = strconv.ParseFloat(strings.TrimSpace(down), 64)
	}
	if err != nil || !(h > 0) || !(v > 0) {
		return 0, mistyped("--sides is %q; give how far a bank goes across for its rise, such as 2:1", typed)
	}
	return h / v, nil
}
