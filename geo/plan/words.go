package plan

import "slices"

// asTested is the texture of a soil zone whose figures are those of the tests in it.
const asTested = "as tested"

// textures are the classes of soil that a zone can be of; the table of analysis/soil
// knows what each takes in.
var textures = []string{
	"sand", "loamy sand", "sandy loam", "loam", "silt loam", "sandy clay loam", "clay loam", "silty clay loam",
	"sandy clay", "silty clay", "clay",
}

// Textures lists the classes of soil, from the fastest to the slowest by and large.
func Textures() []string { return slices.Clone(textures) }

// notWatered is the crop of a planting that nothing is drawn for.
const notWatered = "not watered"

// crops are what a planting may be watered as; the table of analysis/demand knows the
// crop coefficients of each.
var crops = []string{
	"berries, bushes", "strawberry", "grapes, table", "kiwi", "hops",
	"apple, cherry, pear", "apple, cherry, pear, with ground cover", "stone fruit", "stone fruit, with ground cover",
	"walnut", "almond", "small vegetables", "lettuce, spinach", "onion", "garlic", "tomato", "pepper, eggplant",
	"cucumber", "squash", "melon", "potato", "parsnip", "radish", "green bean", "dry bean", "dry pea",
	"asparagus", "artichoke", "mint", "turf, cool season", "turf, warm season", "cattail, bulrush", "reed swamp",
}

// Crops lists what a planting may be watered as.
func Crops() []string { return slices.Clone(crops) }

// irrigations are the ways of watering; the table of analysis/demand knows how much of
// the water of each the plants get.
var irrigations = []string{"drip", "sprinkler", "surface"}

// Irrigations lists the ways of watering, the usual one first.
func Irrigations() []string { return slices.Clone(irrigations) }

// OwnStorm is the name of the distribution that a person types in.
const OwnStorm = "own"

// distributions are how the rain of a storm falls in time; the tables of
// analysis/hydrograph know the shape of each.
var distributions = []string{
	"triangular", "even", "Huff first quartile", "Huff second quartile", "Huff third quartile", "Huff fourth quartile",
	"NRCS Type I", "NRCS Type IA", "NRCS Type II", "NRCS Type III", OwnStorm,
}

// Distributions lists how a storm's rain may fall in time, the usual one first.
func Distributions() []string { return slices.Clone(distributions) }
