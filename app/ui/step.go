package ui

import (
	"slices"

	"runnel/app/view"
	"runnel/geo/plan"
)

// A step is one part of the job, with what belongs to it: what may be drawn,
// what the map shows, and what the ledger puts first.
type step struct {
	icon string
	// word is what the step is called, and purpose says in a sentence what it is for:
	// said when they are shown, in the language that is set then.
	word, purpose func() string
	// asks are the instruments that ask something of the map; kinds are drawn.
	asks   []instrument
	kinds  []plan.Kind
	show   view.Layers
	ledger []section
	// sections is set where the long section and the cross-section are shown unless
	// they are folded.
	sections bool
}

// everyday is what every step's map shows.
const everyday = view.Shade | view.Contours | view.Drawn | view.Labels

// steps are the parts of the job in the order in which it is done.
var steps = []step{
	{
		icon: "survey", word: func() string { return tr("Survey") },
		asks:    []instrument{taping},
		purpose: func() string { return tr("Bring in the ground and draw what stands on it.") },
		kinds: []plan.Kind{
			plan.Boundary, plan.Roof, plan.Downpipe, plan.Paving, plan.Cover, plan.Drain, plan.Inlet,
			plan.Kerb, plan.Wall, plan.Culvert, plan.Well, plan.SepticField, plan.ServiceLine, plan.Tree,
			plan.SoilZone, plan.SoilTest,
		},
		show:   everyday,
		ledger: []section{selection, rests, underlays, siteFacts, cautions},
	},
	{
		icon: "water", word: func() string { return tr("Water") },
		asks:    []instrument{gathering, taping},
		purpose: func() string { return tr("See where water runs and ponds. Move the pointer to follow a drop.") },
		show:    everyday | view.Water | view.Hollows | view.Stormwater | view.Fates | view.Certainty,
		ledger:  []section{rain, fates, hollows, sureness, selection},
	},
	{
		icon: "shape", word: func() string { return tr("Shape") },
		asks:     []instrument{taping},
		purpose:  func() string { return tr("Lead the water through the plot: channels, and islands inside them.") },
		kinds:    []plan.Kind{plan.Channel, plan.Island, plan.Sill, plan.Spillway, plan.Section, plan.Crossing},
		show:     everyday | view.Water | view.Standing | view.Cautions,
		ledger:   []section{selection, figuresPart, outcomePart, cautions},
		sections: true,
	},
	{
		icon: "soak", word: func() string { return tr("Soak") },
		asks:     []instrument{taping},
		purpose:  func() string { return tr("Measure what the water touches and what may soak in.") },
		show:     everyday | view.Days | view.Cautions,
		ledger:   []section{soakPart, season, figuresPart, selection, cautions},
		sections: true,
	},
	{
		icon: "plant", word: func() string { return tr("Plant") },
		asks:    []instrument{taping},
		purpose: func() string { return tr("Outline the beds and say what grows in them.") },
		kinds:   []plan.Kind{plan.Planting},
		show:    everyday | view.Standing,
		ledger:  []section{selection, siteFacts, cautions},
	},
	{
		icon: "walk", word: func() string { return tr("Walk") },
		asks:    []instrument{taping},
		purpose: func() string { return tr("Lay the paths, and the places that they lead to.") },
		kinds:   []plan.Kind{plan.Path, plan.Place, plan.Crossing},
		show:    everyday | view.Standing | view.Cautions,
		ledger:  []section{selection, siteFacts, cautions},
	},
	{
		icon: "handover", word: func() string { return tr("Hand over") },
		asks:    []instrument{taping},
		purpose: func() string { return tr("Give map, drawing, figures and new ground to those who build it.") },
		show:    everyday | view.Water | view.Standing | view.Cautions,
		ledger:  []section{soakPart, season, figuresPart, cautions},
	},
}

// stepShape is the step that offers to find lines, stepSoak that which is about what
// soaks in, stepHandOver that which offers the exports.
const (
	stepShape    = 2
	stepSoak     = 3
	stepHandOver = 6
)

// showsPart reports whether the step that is shown has a part in its ledger.
func (w *Window) showsPart(s section) bool { return slices.Contains(steps[w.step].ledger, s) }
