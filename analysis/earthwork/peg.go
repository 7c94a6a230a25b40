package earthwork

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// A Peg is a place that is marked on the ground before a channel is dug: on a
// channel's line, or on the middle line of a moat's bed. Levels and lengths are
// metres, NaN where they are not known.
type Peg struct {
	// Number counts all pegs of a scheme from 1.
	Number int
	// ID, Kind and Title are those of the channel, or of the island that the moat
	// goes round.
	ID    plan.ID
	Kind  plan.Kind
	Title string
	// Chainage is how far along the line it stands, round an island along the outline.
	Chainage float64
	// What lists what it marks, at least one, and why a bank is not given.
	What []Reason
	At   orb.Point
	// Across is the direction to the right, of length 1.
	Across orb.Point
	// Ground is the ground as it is, Bed the level to dig to, Cut how deep that is
	// (ground − bed, less than nought where the bed lies above the ground). On the crest
	// of an island that is raised in a ring Bed is the crest, to be filled to.
	Ground, Bed, Cut float64
	// Drop is how much higher the bed lies just before the peg; nought where it does
	// not step down there.
	Drop float64
	// Water is the water's level, NaN where the bed is dry, BedWidth the width of the bed
	// there.
	Water, BedWidth float64
	// Left and Right are the banks, seen down the line; round an island, whose outline
	// goes round with the island on its left, Left is the island's crest; of a crest
	// that is filled to, Right is the toe of its bank.
	Left, Right PegSide
}

// Marks reports whether a peg marks something for a reason.
func (p *Peg) Marks(why Why) bool {
	return slices.ContainsFunc(p.What, func(r Reason) bool { return r.Why == why })
}

// A PegSide is the bank on one side of a peg; nothing of it is known where there is no
// bank, as where another channel opens: the peg's What says why.
type PegSide struct {
	// Top is where the bank's top is, on the proposed ground; Level its level and Off
	// how far it is from the peg.
	Top        orb.Point
	Level, Off float64
	// Stake is where an offset stake stands on ground that is not dug or filled,
	// StakeOff how far outside the top; further than asked for where the ground there
	// is worked.
	Stake    orb.Point
	StakeOff float64
	// StakeGround is the ground at the stake, StakeCut how far the bed at the peg lies
	// below it.
	StakeGround, StakeCut float64
}

// A Reason is what a peg marks, and the title of the other thing that it has to do
// with, if any.
type Reason struct {
	Why Why
	Of  string
}

// Why is a reason for a peg.
type Why string

// The reasons.
const (
	PegStation    Why = "station"
	PegStart      Why = "start"
	PegEnd        Why = "end"
	PegCorner     Why = "corner"
	PegBendBegins Why = "bend begins"
	PegBendMiddle Why = "middle of the bend"
	PegBendEnds   Why = "bend ends"
	PegSill       Why = "sill"
	PegDrop       Why = "drop"
	PegSection    Why = "section"
	PegSpillway   Why = "spillway"
	PegJunction   Why = "junction"
	PegTie        Why = "tie-in"
	PegMoatBegins Why = "moat begins"
	PegMoatEnds   Why = "moat ends"
	PegCrossing   Why = "crossing"
	PegCrest      Why = "crest to fill to"
	// Of a bank that is not given: other water opens there, which Of names, or the
	// ground is not known.
	PegLeftOpen     Why = "left bank open to"
	PegRightOpen    Why = "right bank open to"
	PegLeftUnknown  Why = "left bank where the ground is not known"
	PegRightUnknown Why = "right bank where the ground is not known"
)

// String is the reason in words.
func (r Reason) String() string {
	if r.Of == "" {
		return string(r.Why)
	}
	return fmt.Sprintf("%s: %s", r.Why, r.Of)
}
