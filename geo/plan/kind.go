package plan

import "slices"

// Kind says what a feature is.
type Kind uint8

// The kinds. Those up to Tree are the site as it is; the others belong to a scheme.
const (
	NoKind Kind = iota
	Boundary
	Roof
	Downpipe
	Paving
	Cover
	Drain
	Inlet
	Kerb
	Wall
	Culvert
	Well
	SepticField
	ServiceLine
	SoilZone
	SoilTest
	Tree
	Channel
	Island
	Sill
	Spillway
	Section
	Crossing
	Path
	Place
	Planting
)

// Shape is the kind of geometry that a feature has.
type Shape uint8

// Points, lines and areas are orb's Point, LineString and Polygon.
const (
	PointShape Shape = iota
	LineShape
	AreaShape
)

func (s Shape) String() string { return [...]string{"point", "line", "area"}[s] }

func (s Shape) phrase() string { return [...]string{"a point", "a line", "an area"}[s] }

// A Spec is what holds for every feature of one kind.
type Spec struct {
	Kind Kind
	// Name is the kind's name in files and on the command line; Label is for people.
	Name, Label string
	Shape       Shape
	// InScheme is set for what is designed, clear for what is there already.
	InScheme bool
	Fields   []Field
}

// Specs lists every kind, in the order in which they are offered and drawn.
func Specs() []Spec { return specs }

// SpecOf returns the spec of k. It panics on a kind that is not in the list.
func SpecOf(k Kind) Spec {
	if k == NoKind || int(k) > len(specs) {
		panic("plan: unknown kind")
	}
	return specs[k-1]
}

// KindNamed finds a kind by its Name.
func KindNamed(name string) (Kind, bool) {
	for _, s := range specs {
		if s.Name == name {
			return s.Kind, true
		}
	}
	return NoKind, false
}

func (k Kind) String() string {
	if k == NoKind {
		return "nothing"
	}
	return SpecOf(k).Label
}

// runoff is the share of rain that leaves a hard surface: FHWA HEC-22 (3rd ed.)
// table 3-1 gives 0.75–0.95 for roofs and 0.70–0.95 for streets.
func runoff(usual float64) Field {
	return Field{Name: "runoff", Label: "Runoff coefficient", Usual: usual, Low: 0, High: 1}
}

func sideSlope(name, label string, usual float64) Field {
	return Field{Name: name, Label: label, Unit: "H:V", Usual: usual, Low: 0, High: 20}
}

func level(name, label string) Field {
	return Field{Name: name, Label: label, Unit: "m", Optional: true, Low: -500, High: 9000}
}

func capacity() Field {
	return Field{Name: "capacity", Label: "Capacity", Unit: "m³/s", Optional: true, Low: 0, High: 100}
}

func length(name, label string, usual, low, high float64) Field {
	return Field{Name: name, Label: label, Unit: "m", Usual: usual, Low: low, High: high}
}

func optional(name, label, unit string, low, high float64) Field {
	return Field{Name: name, Label: label, Unit: unit, Optional: true, Low: low, High: high}
}

func choice(name, label string, of ...string) Field {
	return Field{Name: name, Label: label, Type: Choice, Of: of}
}

// where makes a field count only where another holds a word, or is set.
func (f Field) where(field, is string) Field {
	f.Needs = Need{field, is}
	return f
}

// under heads some fields.
func under(head string, fields ...Field) []Field {
	for i := range fields {
		fields[i].Part = head
	}
	return fields
}

func text(name, label string) Field { return Field{Name: name, Label: label, Type: Text} }

// covers are the kinds of ground that rain falls on where nothing is built; the
// table of analysis/runoff knows how much runs off each.
var covers = []string{
	"lawn", "lawn on sand", "lawn on clay", "rough grass", "planted bed", "woodland", "bare soil", "gravel", "brick",
}

// Covers lists the covers of the ground, the usual one first.
func Covers() []string { return slices.Clone(covers) }

// linings are what beds and banks are lined with; the table of analysis/hydraulics
// knows how rough each is and what flow it stands.
var linings = []string{
	"short grass", "grass and weeds", "dense weeds", "bare earth, new", "bare earth, weathered", "gravel", "stones",
}

// Linings lists what beds and banks are lined with, the usual one first.
func Linings() []string { return slices.Clone(linings) }

// narrowest is the least width of a thing that can be dug or walked [m].
const narrowest = 0.05

var specs = []Spec{
	{Boundary, "boundary", "Boundary", AreaShape, false, nil},
	{Roof, "roof", "Roof", AreaShape, false, []Field{runoff(0.9), optional("basement", "Basement floor below ground", "m", 0, 30)}},
	{Downpipe, "downpipe", "Downpipe", PointShape, false, nil},
	{Paving, "paving", "Paving", AreaShape, false, []Field{runoff(0.85), choice("use", "Use", "street", "drive", "yard")}},
	{Cover, "cover", "Cover", AreaShape, false, []Field{choice("cover", "Cover", covers...)}},
	{Drain, "drain", "Drain", LineShape, false, []Field{
		length("bed_width", "Bed width", 0.4, 0, 20),
		sideSlope("side_left", "Left side slope", 1), sideSlope("side_right", "Right side slope", 1),
		length("depth", "Depth", 0.5, narrowest, 10), length("water_depth", "Water depth when it runs", 0.2, 0, 10),
		choice("owner", "Owner", "public", "private", "not known"),
		choice("lining", "Lining", linings...),
		optional("run_days", "Days in a year that it runs", "days", 0, 366),
	}},
	{Inlet, "inlet", "Drain inlet", PointShape, false, []Field{capacity()}},
	{Kerb, "kerb", "Kerb", LineShape, false, []Field{length("height", "Height", 0.12, 0, 2)}},
	{Wall, "wall", "Wall", LineShape, false, []Field{length("height", "Height", 1, 0, 10)}},
	{Culvert, "culvert", "Culvert", LineShape, false, []Field{
		length("diameter", "Diameter", 0.3, narrowest, 10),
		level("bed_start", "Bed level at the start"), level("bed_end", "Bed level at the end"),
		capacity(),
	}},
	{Well, "well", "Well", PointShape, false, []Field{
		{Name: "draw", Label: "Draw in the dry months", Unit: "m³/day", Optional: true, Low: 0, High: 10_000},
		{Name: "water_depth", Label: "Depth to water", Unit: "m", Optional: true, Low: 0, High: 500},
		{Name: "household", Label: "Other draw all year", Unit: "m³/day", Optional: true, Low: 0, High: 10_000},
	}},
	{SepticField, "septic_field", "Septic field", AreaShape, false, nil},
	{ServiceLine, "service_line", "Service line", LineShape, false, []Field{
		choice("carries", "Carries", "not known", "water", "gas", "power", "telecom", "sewer"),
		choice("located", "Located on the ground", "no", "yes"),
	}},
	{SoilZone, "soil_zone", "Soil zone", AreaShape, false, []Field{
		choice("texture", "Texture", slices.Concat([]string{asTested}, textures)...),
		optional("k_low", "Conductivity, low", "mm/h", 0, 100_000), optional("k_likely", "Conductivity, likely", "mm/h", 0, 100_000),
		optional("k_high", "Conductivity, high", "mm/h", 0, 100_000),
		text("layers", "Layers below"),
	}},
	{SoilTest, "soil_test", "Soil test", PointShape, false, []Field{
		choice("by", "By", "falling-head hole", "single ring", "double ring", "channel drawdown"),
		optional("radius", "Radius of hole or ring", "m", 0.01, 5), optional("depth", "Depth of hole or ring", "m", 0, 10),
		text("readings", "Readings"),
	}},
	{Tree, "tree", "Tree", PointShape, false, []Field{
		length("spread", "Spread", 4, 0.1, 60), length("height", "Height", 5, 0.1, 120), text("plant", "Plant"),
	}},
	{Channel, "channel", "Channel", LineShape, true, slices.Concat(
		under("Section",
			choice("shape", "Shape", "trapezoid", "rounded"),
			length("bed_width", "Bed width", 0.6, narrowest, 50),
			sideSlope("side_left", "Left side slope", 3), sideSlope("side_right", "Right side slope", 3)),
		under("Bed and water",
			length("depth", "Depth below ground", 0.4, narrowest, 10),
			choice("bed", "Course of the bed", "between its ends", "level", "at a grade"),
			level("bed_start", "Bed level at the start"),
			level("bed_end", "Bed level at the end").where("bed", "between its ends"),
			optional("grade", "Fall of the bed", "%", -20, 20).where("bed", "at a grade"),
			level("water_level", "Water level")),
		under("Banks and flow",
			level("bank_top", "Top of raised banks"),
			length("bank_width", "Crest of raised banks", 0.4, narrowest, 20).where("bank_top", ""),
			choice("lining", "Lining", linings...),
			optional("flow", "Flow let in", "L/s", 0, 100_000)),
	)},
	{Island, "island", "Island", AreaShape, true, []Field{
		length("arm_width", "Bed width of the arms", 0.6, narrowest, 50),
		sideSlope("side", "Side slope", 3), level("top", "Top level"),
	}},
	{Sill, "sill", "Sill", LineShape, true, []Field{level("crest", "Crest level")}},
	{Spillway, "spillway", "Spillway", PointShape, true, []Field{
		level("crest", "Crest level"), length("width", "Width", 1, narrowest, 50),
		optional("pipe", "Diameter of a pipe in its place", "m", 0.02, 3),
	}},
	{Section, "section", "Section", PointShape, true, []Field{
		optional("bed_width", "Bed width", "m", narrowest, 50),
		optional("side_left", "Left side slope", "H:V", 0, 20), optional("side_right", "Right side slope", "H:V", 0, 20),
		level("bed_level", "Bed level"), optional("drop", "Drop below it", "m", 0, 5),
		text("surveyed", "Surveyed section"),
	}},
	{Crossing, "crossing", "Crossing", PointShape, true, []Field{
		choice("by", "Way over", "bridge", "boards", "stepping stones", "ford"), length("width", "Width", 1, 0.2, 20),
	}},
	{Path, "path", "Path", LineShape, true, []Field{
		length("width", "Width", 1.2, 0.3, 20),
		choice("surface", "Surface", "mown grass", "woodchip", "gravel", "paved", "boards"),
	}},
	{Place, "place", "Place", PointShape, true, []Field{choice("use", "Use", "rest", "gather", "work", "play", "entrance", "view")}},
	{Planting, "planting", "Planting", AreaShape, true, []Field{
		text("plant", "Plant"), length("spacing", "Spacing", 1, narrowest, 50),
		choice("crop", "Watered as", slices.Concat([]string{notWatered}, crops)...),
		optional("starts", "Month in which growth starts", "", 1, 12),
	}},
}
