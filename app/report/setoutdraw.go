package report

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/earthwork"
	"runnel/geo/dxf"
	"runnel/geo/gpx"
	"runnel/geo/plan"
)

// WriteGPX writes a waypoint for each peg and a route along each line, with the level
// of the bed. lonlat takes a point of the site to longitude and latitude.
func (s SetOut) WriteGPX(w io.Writer, lonlat func(orb.Point) (orb.Point, error)) error {
	f := gpx.File{
		Name:  fmt.Sprintf("%s, %s", s.Site.Name, s.Scheme),
		About: fmt.Sprintf("Elevations are the level of the bed, above the datum of the site's survey. A hand-held receiver finds a peg to a few metres, not to the centimetre that digging needs. %s", Beware),
	}
	last := plan.ID(0)
	for _, p := range s.Pegs {
		at, err := lonlat(p.At)
		if err != nil {
			return err
		}
		point := gpx.Point{
			At: at, Elevation: p.Bed, Name: fmt.Sprint(p.Number),
			About: fmt.Sprintf("%s %s m, cut %s m: %s", p.Title, Figure(p.Chainage).With(2), Figure(p.Cut).With(2), PegMarks(p)),
		}
		f.Points = append(f.Points, point)
		if len(f.Routes) == 0 || p.ID != last {
			f.Routes, last = append(f.Routes, gpx.Route{Name: p.Title}), p.ID
		}
		route := &f.Routes[len(f.Routes)-1]
		route.Points = append(route.Points, point)
	}
	return gpx.Write(w, f)
}

// Lines are drawn through places so far apart [m], texts so tall [m].
const (
	drawnSpacing = 0.25
	lettering    = 0.15
)

// The layers' colours, by the index of the format.
const (
	red, yellow, green, cyan, blue, magenta, white = 1, 2, 3, 4, 5, 6, 7
)

// WriteDXF writes lines, pegs and labels in the coordinates of the site.
func (s SetOut) WriteDXF(ctx context.Context, w io.Writer) error {
	o := s.Options
	o.Spacing = drawnSpacing
	along, err := earthwork.SetOut(ctx, s.Site, s.Network, o)
	if err != nil {
		return err
	}
	layers := append([]dxf.Layer{{Name: "CENTRELINE", Colour: red, Lines: s.centrelines()}}, edgesOf(along)...)
	pegs, stakes, labels := dxf.Layer{Name: "PEGS", Colour: red}, dxf.Layer{Name: "STAKES", Colour: yellow}, dxf.Layer{Name: "LABELS", Colour: white}
	for _, p := range s.Pegs {
		pegs.Points = append(pegs.Points, placed(p.At, p.Bed))
		for _, side := range []earthwork.PegSide{p.Left, p.Right} {
			stakes.Points = append(stakes.Points, placed(side.Stake, side.StakeGround))
		}
		labels.Texts = append(labels.Texts, dxf.Text{
			At: placed(orb.Point{p.At[0] + lettering, p.At[1] + lettering}, p.Bed), Height: lettering,
			Text: fmt.Sprintf("%d bed %s cut %s", p.Number, Figure(p.Bed).With(2), Figure(p.Cut).With(2)),
		})
	}
	about := append([]string{"Coordinates and levels are metres."}, strings.Split(strings.TrimSpace(s.note()), "\n")...)
	return dxf.Write(w, dxf.Drawing{Layers: append(layers, pegs, stakes, labels), About: about})
}

func placed(at orb.Point, level float64) dxf.Point { return dxf.Point{X: at[0], Y: at[1], Z: level} }

// centrelines are the channels' lines as they are drawn, on the bed.
func (s SetOut) centrelines() []dxf.Line {
	var lines []dxf.Line
	for _, f := range s.Network.Features() {
		if f.Kind != plan.Channel {
			continue
		}
		var line dxf.Line
		chainage := 0.0
		for i, p := range f.Line() {
			if i > 0 {
				chainage += planar.Distance(f.Line()[i-1], p)
			}
			line = append(line, placed(p, s.Network.BedAt(f.ID, chainage)))
		}
		lines = append(lines, line)
	}
	return lines
}

// edgesOf draws the edges of beds, the tops of banks and the crests of islands
// through pegs.
func edgesOf(pegs []earthwork.Peg) []dxf.Layer {
	bed, top, crest := dxf.Layer{Name: "BED_EDGE", Colour: blue}, dxf.Layer{Name: "BANK_TOP", Colour: green}, dxf.Layer{Name: "CREST", Colour: magenta}
	arms := dxf.Layer{Name: "ARM", Colour: cyan}
	edge := func(p earthwork.Peg, way float64) dxf.Point {
		off := way * p.BedWidth / 2
		return placed(orb.Point{p.At[0] + p.Across[0]*off, p.At[1] + p.Across[1]*off}, p.Bed)
	}
	for _, run := range runsOf(pegs) {
		var lines [5]dxf.Line
		for _, p := range run {
			lines[0] = append(lines[0], edge(p, -1))
			lines[1] = append(lines[1], edge(p, 1))
			lines[2] = append(lines[2], placed(p.Left.Top, p.Left.Level))
			lines[3] = append(lines[3], placed(p.Right.Top, p.Right.Level))
			lines[4] = append(lines[4], placed(p.At, p.Bed))
		}
		if run[0].Marks(earthwork.PegCrest) {
			crest.Lines = append(crest.Lines, known(lines[2])...)
			continue
		}
		bed.Lines = append(append(bed.Lines, known(lines[0])...), known(lines[1])...)
		top.Lines = append(top.Lines, known(lines[3])...)
		if run[0].Kind == plan.Island {
			crest.Lines, arms.Lines = append(crest.Lines, known(lines[2])...), append(arms.Lines, lines[4])
		} else {
			top.Lines = append(top.Lines, known(lines[2])...)
		}
	}
	return []dxf.Layer{bed, top, crest, arms}
}

// known parts a line where a place or a level is not known.
func known(line dxf.Line) []dxf.Line {
	var parts []dxf.Line
	open := false
	for _, p := range line {
		if math.IsNaN(p.X + p.Y + p.Z) {
			open = false
			continue
		}
		if !open {
			parts, open = append(parts, nil), true
		}
		parts[len(parts)-1] = append(parts[len(parts)-1], p)
	}
	return parts
}

// runsOf parts pegs where the line is broken: at another line, and where pegs are left
// out. A moat that goes all round comes back to its first peg.
func runsOf(pegs []earthwork.Peg) [][]earthwork.Peg {
	const gap = 2 * drawnSpacing
	var runs [][]earthwork.Peg
	first := 0
	for i, p := range pegs {
		ahead := i > 0 && p.ID == pegs[i-1].ID
		if !ahead || p.Chainage-pegs[i-1].Chainage > gap {
			runs = append(runs, nil)
		}
		if !ahead {
			first = i
		}
		runs[len(runs)-1] = append(runs[len(runs)-1], p)
		last := i+1 == len(pegs) || pegs[i+1].ID != p.ID
		if start := pegs[first]; last && p.Kind == plan.Island && planar.Distance(start.At, p.At) < 2*gap {
			runs[len(runs)-1] = append(runs[len(runs)-1], start)
		}
	}
	return runs
}
