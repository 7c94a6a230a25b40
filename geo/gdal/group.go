package gdal

import (
	"path/filepath"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A Group is what of a drawing becomes features of one kind: the points, the lines or the
// areas of a layer, or in a drawing that tells kinds apart, as Runnel's own do, all of one
// kind.
type Group struct {
	// Name is that of the layer, of the kind as files have it, or a value of the field
	// that they are sorted by. Groups of other shapes may have the same.
	Name  string
	Drawn []Drawn
	// Points, Lines and Areas count its shapes; Closed are the lines that may be areas.
	Points, Lines, Areas, Closed int
	// Likely is the kind that it seems to be; NoKind where nothing tells. Named is set
	// where its own name tells.
	Likely plan.Kind
	Named  bool
}

// Groups sorts what was read of a file by layers and shapes, in the order of what comes
// first.
func Groups(drawn []Drawn, file string) []Group { return GroupsBy(drawn, file, "") }

// GroupsBy is Groups by the values of a field; what has none stays with its layer.
func GroupsBy(drawn []Drawn, file, field string) []Group {
	type key struct {
		name  string
		shape plan.Shape
	}
	var groups []Group
	places, names := map[key]int{}, map[string]bool{}
	for _, d := range drawn {
		k := key{d.sortedBy(field), shapeOf(d.Geometry)}
		if kind, ok := d.kind(); ok {
			k = key{name: plan.SpecOf(kind).Name}
		}
		i, ok := places[k]
		if !ok {
			i = len(groups)
			places[k], names[k.name] = i, true
			groups = append(groups, Group{Name: k.name})
		}
		groups[i].add(d)
	}
	for i := range groups {
		groups[i].guess(file, len(names) == 1)
	}
	return groups
}

func (d Drawn) sortedBy(field string) string {
	if value := strings.TrimSpace(d.Fields[keyFold(d.Fields, field)]); field != "" && value != "" {
		return value
	}
	return d.Layer
}

func shapeOf(g orb.Geometry) plan.Shape {
	switch g.(type) {
	case orb.Point:
		return plan.PointShape
	case orb.LineString:
		return plan.LineShape
	}
	return plan.AreaShape
}

// tellingFields are names of fields that say what a shape is, those that say it best first.
var tellingFields = []string{"kind", "type", "class", "category", "layer", "feature", "use", "code", "tipo", "clase", "capa", "typ", "art", "klasse", "name", "description"}

// mostLooked is how many shapes are looked at for fields to sort by.
const mostLooked = 50_000

// mostValues is how many values a field has at most whose values may be kinds.
const mostValues = 12

// SortFields lists the fields by which a drawing may be sorted: those with a name that
// says so, of 2 to 12 values, which half of the shapes or more have.
func SortFields(drawn []Drawn) (fields []string) {
	drawn = drawn[:min(len(drawn), mostLooked)]
	for _, name := range tellingFields {
		own, set, values := "", 0, map[string]bool{}
		for _, d := range drawn {
			key := keyFold(d.Fields, name)
			if value := strings.TrimSpace(d.Fields[key]); value != "" {
				own, set = key, set+1
				values[value] = true
			}
			if len(values) > mostValues {
				break
			}
		}
		if len(values) >= 2 && len(values) <= mostValues && 2*set >= len(drawn) {
			fields = append(fields, own)
		}
	}
	return fields
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
	{"soil", plan.SoilZone}, {"soil", plan.SoilTest},
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
		g.Likely, g.Named = kind, true
		return
	}
	if slices.Contains(doubles, g.Name) || strings.HasSuffix(g.Name, textsOf) {
		return
	}
	names := []string{g.Name}
	if alone {
		names = append(names, filepath.Base(file))
	}
	for i, name := range names {
		for _, t := range tellingNames {
			if strings.Contains(strings.ToLower(name), t.part) && g.Suits(t.kind) > 0 {
				g.Likely, g.Named = t.kind, i == 0
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
