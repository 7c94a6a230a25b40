package channel

import (
	"errors"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A Brim is where the water of a channel gets out first.
type Brim struct {
	// Level is its height [m], +Inf where it is not known; ID is the channel at whose
	// bank it lies.
	Level float64
	ID    plan.ID
	At    orb.Point
	// Place says where it lies; Drain is the title of the drain that it opens on, if so.
	Place, Drain string
}

// BrimOf returns the brim of a channel.
func (n *Network) BrimOf(id plan.ID) Brim {
	for _, f := range n.lines {
		if f.ID == id && f.Kind == plan.Channel && !math.IsInf(f.lip.level, 1) {
			return Brim{f.lip.level, f.lip.of, f.lip.at, f.lip.placeOn(), f.lip.drain}
		}
	}
	return Brim{Level: math.Inf(1)}
}

// holdsNone is that a channel holds no water.
type holdsNone struct{ error }

// HoldsNone reports whether the problem is that a channel holds no water at rest.
func (p Problem) HoldsNone() bool {
	var none holdsNone
	return errors.As(p.Err, &none)
}
