package view

// Layers is the set of what a map shows.
type Layers uint32

// What can be shown. The zero set shows bare paper.
const (
	Shade      Layers = 1 << iota // the ground in relief
	Contours                      // lines of equal height
	Water                         // the paths that water takes
	Hollows                       // places that pond before they spill
	Standing                      // water that stands in the scheme
	Drawn                         // the features of the plan
	Cautions                      // marks where something is to be checked
	Labels                        // names, levels and depths
	Stormwater                    // water that stands after a storm
	Fates                         // where the water of roofs and paving ends
	Certainty                     // how sure the paths are
	Heights                       // the ground coloured by height
	Slopes                        // the ground coloured by how steep it is
	Grid                          // lines of round coordinates
	Doubts                        // how well the height of the ground is known
	Days                          // how many days a year the ground is under water

	// Tints colour the whole ground; one at a time is shown, heights before slopes and
	// slopes before doubts.
	Tints = Heights | Slopes | Doubts
	// AllLayers is what a finished map shows; tints, the grid and days are asked for.
	AllLayers = Shade | Contours | Water | Hollows | Standing | Drawn | Cautions | Labels | Stormwater | Fates | Certainty
)

// Has reports whether all of some layers are shown.
func (l Layers) Has(some Layers) bool { return l&some == some }

// HasAny reports whether any of some layers is shown.
func (l Layers) HasAny(some Layers) bool { return l&some != 0 }

// With returns the set with some layers added.
func (l Layers) With(some Layers) Layers { return l | some }

// Without returns the set with some layers taken out.
func (l Layers) Without(some Layers) Layers { return l &^ some }
