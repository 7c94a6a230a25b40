package gdal

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// useOf finds what a person says that a code or a layer is: under its whole name,
// under its first word, or under that without the number behind it, in whatever case.
func (g *gathering) useOf(code string) (survey.Use, bool) {
	if len(g.o.Uses) == 0 || code == "" {
		return 0, false
	}
	first := firstWord(code)
	for _, name := range []string{code, first, strings.TrimRight(first, "0123456789")} {
		if use, ok := g.o.Uses[name]; ok {
			return use, true
		}
		for key, use := range g.o.Uses {
			if name != "" && strings.EqualFold(key, name) {
				return use, true
			}
		}
	}
	return 0, false
}

func firstWord(code string) string {
	if words := strings.Fields(code); len(words) > 0 {
		return words[0]
	}
	return code
}

// join makes lines of the points whose codes draw them, in the order of the file.
// A point of a line is no spot besides. Lines of the edge are closed.
func (g *gathering) join() {
	drawn := g.drawnBy()
	if drawn == nil {
		return
	}
	rest := g.survey.Spots[:0:0]
	place := map[string]int{}
	var lines []survey.Line
	var members [][]survey.Spot
	for _, s := range g.survey.Spots {
		if s.Code < 0 || drawn[s.Code] == nil {
			rest = append(rest, s)
			continue
		}
		as := drawn[s.Code]
		i, ok := place[as.name]
		if !ok {
			i = len(lines)
			place[as.name] = i
			lines = append(lines, survey.Line{Use: as.use, Number: g.lines + i + 1})
			members = append(members, nil)
		}
		lines[i].At = append(lines[i].At, s.At)
		lines[i].Z = append(lines[i].Z, s.Z)
		members[i] = append(members[i], s)
	}
	g.takeJoined(lines, members, rest)
}

// takeJoined takes the lines that points were joined to, and the rest of the points
// as spots. A line of one point is a spot.
func (g *gathering) takeJoined(lines []survey.Line, members [][]survey.Spot, rest []survey.Spot) {
	single := 0
	for i, l := range lines {
		if len(l.At) < 2 {
			single++
			rest = append(rest, members[i]...)
			continue
		}
		g.survey.Lines = append(g.survey.Lines, closedEdge(l))
	}
	if n := len(lines) - single; n > 0 {
		g.note("%d points are joined to %d lines by their codes, in the order of the file.", len(g.survey.Spots)-len(rest), n)
	}
	if single > 0 {
		g.note("%d codes that should draw a line come with one point each; those stay points.", single)
	}
	g.survey.Spots = rest
}

// A fieldString is a line that points of one code draw.
type fieldString struct {
	name string
	use  survey.Use
}

// drawnBy returns by code what it draws; nil where it draws nothing, and nil
// altogether where none does.
func (g *gathering) drawnBy() []*fieldString {
	codes := g.source().Codes
	drawn := make([]*fieldString, len(codes))
	any := false
	for i, code := range codes {
		if use, ok := g.useOf(code); ok && use != survey.Contour {
			drawn[i], any = &fieldString{strings.ToUpper(firstWord(code)), use}, true
		}
	}
	if !any {
		return nil
	}
	return drawn
}

// closedEdge closes a line that is an edge, and forgets heights that it does not
// need.
func closedEdge(l survey.Line) survey.Line {
	if n := len(l.At); l.Use == survey.Edge && n > 2 && l.At[0] != l.At[n-1] {
		l.At = append(l.At, orb.Point(l.At[0]))
		l.Z = append(l.Z, l.Z[0])
	}
	if l.Z = levelled(l.Z); l.Use == survey.Edge && len(l.Z) == 1 && math.IsNaN(l.Z[0]) {
		l.Z = nil
	}
	return l
}
