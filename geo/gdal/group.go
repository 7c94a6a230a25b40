package gdal

import (
	"path/filepath"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A Group is what of a drawing becomes features of one kind: a layer, or in a drawing
// that tells kinds apart, as Runnel's own do, all of one kind.
type Group struct {
	// Name is that of the layer, or of the kind as files have it.
	Name  string
	Drawn []Drawn
	// Points, Lines and Areas count its shapes; Closed are the lines that may be areas.
	Points, Lines, Areas, Closed int
	// Likely is the kind that it seems to be; NoKind where nothing tells.
	Likely plan.Kind
}

// Groups sorts what was read of a file, in the order of what comes first.
func Groups(drawn []Drawn, file string) []Group {
	var groups []Group
	places := map[string]int{}
	for _, d := range drawn {
		name := d.Layer
		if kind, ok := d.kind(); ok {
			name = plan.SpecOf(kind).Name
		}
		i, ok := places[name]
		if !ok {
			i = len(groups)
			places[name] = i
			groups = append(groups, Group{Name: name})
		}
		groups[i].add(d)
	}
	for i := range groups {
		groups[i].guess(file, len(groups) == 1)
	}
	return groups
}

// kind is what a drawing itself says that a shape is.
func (d Drawn) kind() (plan.Kind, bool) { return plan.KindNamed(d.Fields[keyFold(d.Fields, "kind")]) }

func (g *Group) add(d Drawn) {
	g.Drawn = append(g.Drawn, d)
	switch shape := d.Geometry.(type) {
	case orb.Point:
		g.Points++
	case orb.LineString:
		g.Lines++
		if ringed(shape) {
			g.Closed++
		}
	case orb.Polygon:
		g.Areas++
	}
}

// ringed reports whether a line is closed and may be an area.
func ringed(line orb.LineString) bool { return len(line) >= 4 && line[0] == line[len(line)-1] }

// Suits counts the shapes of which features of a kind may be made.
func (g Group) Suits(kind plan.Kind) int {
	switch plan.SpecOf(kind).Shape {
	case plan.PointShape:
		return g.Points
	case plan.LineShape:
		return g.Lines + g.Areas
	}
	return g.Areas + g.Closed
}

// tellingNames are parts of the names of layers and files that tell what they hold; of
// several the first counts that suits the shapes.
var tellingNames = []struct {
	part string
	kind plan.Kind
}{
	{"build", plan.Roof}, {"roof", plan.Roof}, {"house", plan.Roof}, {"bound", plan.Boundary}, {"parcel", plan.Boundary}, {"plot", plan.Boundary},
	{"footpath", plan.Path}, {"path", plan.Path}, {"track", plan.Path}, {"route", plan.Path},
	{"pav", plan.Paving}, {"road", plan.Paving}, {"street", plan.Paving}, {"downpipe", plan.Downpipe}, {"culvert", plan.Culvert},
	{"inlet", plan.Inlet}, {"gully", plan.Inlet}, {"drain", plan.Drain}, {"ditch", plan.Drain}, {"kerb", plan.Kerb}, {"curb", plan.Kerb},
	{"wall", plan.Wall}, {"cover", plan.Cover}, {"tree", plan.Tree}, {"well", plan.Well}, {"septic", plan.SepticField}, {"cable", plan.ServiceLine},
	{"service", plan.ServiceLine}, {"sewer", plan.ServiceLine}, {"island", plan.Island}, {"channel", plan.Channel}, {"plant", plan.Planting}, {"bed", plan.Planting},
}

// doubles are layers that hold once more, point by point, what others of the file hold
// as lines (GPX as GDAL reads it).
var doubles = []string{"track_points", "route_points"}

// usualKinds are what shapes are taken for where no name tells anything.
var usualKinds = [...]plan.Kind{plan.PointShape: plan.Tree, plan.LineShape: plan.Drain, plan.AreaShape: plan.Roof}

// guess finds the likely kind: that of the group's own name, where it is alone also that
// of the file's, or at last what most of its shapes usually are.
func (g *Group) guess(file string, alone bool) {
	if kind, ok := plan.KindNamed(g.Name); ok && g.Suits(kind) > 0 {
		g.Likely = kind
		return
	}
	if slices.Contains(doubles, g.Name) || strings.HasSuffix(g.Name, textsOf) {
		return
	}
	names := []string{g.Name}
	if alone {
		names = append(names, filepath.Base(file))
	}
	for _, name := range names {
		for _, t := range tellingNames {
			if strings.Contains(strings.ToLower(name), t.part) && g.Suits(t.kind) > 0 {
				g.Likely = t.kind
				return
			}
		}
	}
	if alone {
		g.Likely = usualKinds[g.mostly()]
	}
}

// mostly is what most of the shapes are.
func (g Group) mostly() plan.Shape {
	counts := []int{plan.PointShape: g.Points, plan.LineShape: g.Lines, plan.AreaShape: g.Areas}
	most := plan.PointShape
	for shape, n := range counts {
		if n > counts[most] {
			most = plan.Shape(shape)
		}
	}
	return most
}
