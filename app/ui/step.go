package ui

import (
	"runnel/app/view"
	"runnel/geo/plan"
)

// A step is one part of the job, with what belongs to it: what may be drawn,
// what the map shows, and what the ledger puts first.
type step struct {
	icon, word string
	// purpose says in a sentence what the step is for.
	purpose string
	// asks are the instruments that ask something of the map; kinds are drawn.
	asks   []instrument
	kinds  []plan.Kind
	show   view.Layers
	ledger []section
	// sections is set where the long section and the cross-section are of use.
	sections bool
}

// everyday is what every step's map shows.
const everyday = view.Shade | view.Contours | view.Drawn | view.Labels

// steps are the parts of the job in the order in which it is done.
var steps = []step{
	{
		icon: "survey", word: "Survey",
		asks:    []instrument{taping},
		purpose: "Bring in the ground and draw what stands on it.",
		kinds: []plan.Kind{
			plan.Boundary, plan.Roof, plan.Downpipe, plan.Paving, plan.Cover, plan.Drain, plan.Inlet,
			plan.Kerb, plan.Wall, plan.Culvert, plan.Well, plan.SepticField, plan.ServiceLine, plan.Tree,
		},
		show:     everyday,
		ledger:   []section{selection, underlays, survey, cautions},
		sections: true,
	},
	{
		icon: "water", word: "Water",
		asks:     []instrument{gathering, taping},
		purpose:  "See where water runs and ponds. Move the pointer to follow a drop.",
		show:     everyday | view.Water | view.Hollows | view.Stormwater | view.Fates | view.Certainty,
		ledger:   []section{rain, fates, hollows, sureness, selection},
		sections: true,
	},
	{
		icon: "shape", word: "Shape",
		asks:     []instrument{taping},
		purpose:  "Lead the water through the plot: channels, and islands inside them.",
		kinds:    []plan.Kind{plan.Channel, plan.Island, plan.Sill, plan.Spillway},
		show:     everyday | view.Water | view.Standing | view.Cautions,
		ledger:   []section{selection, figuresPart, cautions},
		sections: true,
	},
	{
		icon: "soak", word: "Soak",
		asks:     []instrument{taping},
		purpose:  "Measure what the water touches and what may soak in.",
		show:     everyday | view.Standing | view.Cautions,
		ledger:   []section{figuresPart, season, selection, cautions},
		sections: true,
	},
	{
		icon: "plant", word: "Plant",
		asks:    []instrument{taping},
		purpose: "Outline the beds and say what grows in them.",
		kinds:   []plan.Kind{plan.Planting},
		show:    everyday | view.Standing,
		ledger:  []section{selection, survey, cautions},
	},
	{
		icon: "walk", word: "Walk",
		asks:     []instrument{taping},
		purpose:  "Lay the paths, and the places that they lead to.",
		kinds:    []plan.Kind{plan.Path, plan.Place},
		show:     everyday | view.Standing | view.Cautions,
		ledger:   []section{selection, survey, cautions},
		sections: true,
	},
	{
		icon: "handover", word: "Hand over",
		asks:    []instrument{taping},
		purpose: "Give map, drawing, figures and new ground to those who build it.",
		show:    everyday | view.Water | view.Standing | view.Cautions,
		ledger:  []section{figuresPart, season, cautions},
	},
}

// stepHandOver is the step that offers the exports.
const stepHandOver = 6
