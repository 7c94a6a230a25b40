package compare

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A Gain is what the winding of a scheme buys: its channels beside straight ones
// that lead the same water between the same ends.
//
// The straight drain that a channel replaces goes from its start to its end over the
// same ground, whatever stands there, with the section and the bed that the channel
// has at its ends, with its sills at the same share of the way, with its water at the
// same level or at the brim where that is lower, and with no island. Channels that
// are joined stay joined. To dig as much, all beds of one water are made wider or
// narrower by one width. A ring, and a channel that ends where it starts, have no
// straight: they and what is joined to them are left out of both sides.
type Gain struct {
	Winding Led
	// Straight has the channels led straight as they are drawn at their ends; Equal
	// has their beds widened or narrowed until as much is dug.
	Straight, Equal Led
	// Contact is what the winding buys at equal dig [m²], Share that over the equal
	// straight's contact.
	Contact, Share float64
	// Ratio is the contact of the winding over that of the straight as drawn; NaN
	// where that touches nothing, or nothing can be compared.
	Ratio float64
	// Islands is set where the winding has islands, which count to what it buys.
	Islands bool
	// Why says why nothing can be compared; empty where it can.
	Why string
	// Notes say what was left out, and what did not come out equal.
	Notes []string
}

// Led is what channels come to that are led one way.
type Led struct {
	// Contact [m²], WetEdge [m], Storage [m³] and Length [m] are of the channels
	// alone, with their islands; Dug is the earth dug out [m³].
	Contact, WetEdge, Storage, Length, Dug float64
	// BedWidth is the mean width of the beds at the channels' ends [m].
	BedWidth float64
}

func (l Led) plus(m Led) Led {
	if m.Length == 0 {
		return l
	}
	width := (l.BedWidth*l.Length + m.BedWidth*m.Length) / (l.Length + m.Length)
	return Led{l.Contact + m.Contact, l.WetEdge + m.WetEdge, l.Storage + m.Storage, l.Length + m.Length, l.Dug + m.Dug, width}
}

// led sums up the channels of a trial.
func (t *trial) led() Led {
	sum := Led{}
	for _, l := range t.channels() {
		m := l.Measure
		width := (sectionAt(t.network, l.ID, 0).Bed + sectionAt(t.network, l.ID, m.Length).Bed) / 2
		sum = sum.plus(Led{m.Contact, m.WetBank, m.Volume, m.Length, 0, width})
	}
	sum.Dug = t.dug
	return sum
}

func featureOf(n *channel.Network, id plan.ID) plan.Feature {
	all := n.Features()
	return all[slices.IndexFunc(all, func(f plan.Feature) bool { return f.ID == id })]
}

// GainOf works out what the winding of a scheme buys that Measure accounted for on
// the same site.
func GainOf(ctx context.Context, s *plan.Site, a *Account) (Gain, error) {
	g := Gain{Contact: math.NaN(), Share: math.NaN(), Ratio: math.NaN()}
	var left []string
	for _, ids := range a.Network.Systems() {
		y, why := straightened(s, a, ids)
		if why == "" {
			why = a.overlapping(ids)
		}
		if why != "" {
			left = append(left, why)
			continue
		}
		if why, err := g.add(ctx, y); err != nil {
			return Gain{}, err
		} else if why != "" {
			left = append(left, why)
		}
	}
	switch {
	case g.Winding.Length > 0:
		g.Contact = g.Winding.Contact - g.Equal.Contact
		g.Share, g.Ratio = ratio(g.Contact, g.Equal.Contact), ratio(g.Winding.Contact, g.Straight.Contact)
		for _, why := range left {
			g.Notes = append(g.Notes, fmt.Sprintf("Left out on both sides: %s.", why))
		}
	case len(left) > 0:
		g.Why = left[0]
	default:
		g.Why = "the scheme has no channel"
	}
	return g, nil
}

// overlapping says which of some channels has a cut that overlaps another's or its own;
// empty where none has. Soil that two cuts share is no channel's to buy.
func (a *Account) overlapping(ids []plan.ID) string {
	for _, p := range a.Problems {
		var lap channel.Overlapping
		if errors.As(p.Err, &lap) && slices.ContainsFunc(ids, func(id plan.ID) bool { return id == p.ID || id == lap.Other }) {
			return fmt.Sprintf("the cut of %s overlaps another", featureOf(a.Network, p.ID).Title())
		}
	}
	return ""
}

// straightened leads the channels of one water straight; why says why it cannot be.
func straightened(s *plan.Site, a *Account, ids []plan.ID) (y system, why string) {
	y = system{site: s, account: a}
	for _, l := range a.Channels {
		if l.Kind != plan.Channel || !slices.Contains(ids, l.ID) {
			continue
		}
		switch {
		case l.Measure.Length == 0:
			return y, fmt.Sprintf("%s lies on the line of another channel", l.Title)
		case l.Measure.Wet == 0:
			return y, fmt.Sprintf("%s holds no water", l.Title)
		}
		one, why := straightOf(a.Network, featureOf(a.Network, l.ID), a.Network.Standing().StandsAt(l.ID))
		if why != "" {
			return y, why
		}
		y.straights = append(y.straights, one)
	}
	y.join(a.Network.Junctions())
	for i := range y.straights {
		if one := &y.straights[i]; one.offGround(s.Ground) {
			return y, fmt.Sprintf("the straight way between the ends of %s leaves the ground that is known", one.feature.Title())
		}
	}
	return y, ""
}

// add compares one water led in its two ways; why says why it cannot be.
func (g *Gain) add(ctx context.Context, y system) (why string, err error) {
	winding, err := y.account.try(ctx, y.winding())
	if err != nil {
		return "", err
	}
	asDrawn, err := y.account.try(ctx, y.drawn(0))
	if err != nil {
		return "", err
	}
	if len(asDrawn.channels()) < len(y.straights) {
		return fmt.Sprintf("%s cannot be laid out straight", y.straights[0].feature.Title()), nil
	}
	equal, err := y.dugAlike(ctx, winding.dug, asDrawn)
	if err != nil {
		return "", err
	}
	g.Winding, g.Straight, g.Equal = g.Winding.plus(winding.led()), g.Straight.plus(asDrawn.led()), g.Equal.plus(equal.led())
	g.Islands = g.Islands || slices.ContainsFunc(winding.network.Features(), isIsland)
	g.tell(y, winding, equal)
	return "", nil
}

// winding returns the site with only this water in it, as it is drawn.
func (y *system) winding() *plan.Site {
	return redrawn(y.site, y.account.Scheme, func(f plan.Feature) []plan.Feature {
		if f.Kind == plan.Channel && !slices.ContainsFunc(y.straights, func(s straight) bool { return s.feature.ID == f.ID }) {
			return nil
		}
		return []plan.Feature{f}
	})
}

// alike is how near two dug volumes are to count as the same, as a share.
const alike = 1e-3

// tell notes what did not come out equal.
func (g *Gain) tell(y system, winding, equal trial) {
	if off := equal.dug - winding.dug; math.Abs(off) > alike*winding.dug {
		g.Notes = append(g.Notes, fmt.Sprintf("The straight of equal dig digs %.1f m³ where the winding digs %.1f m³: no bed between %.2f m and %.0f m wide comes nearer.",
			equal.dug, winding.dug, leastBed, mostBed))
	}
	for _, l := range equal.channels() {
		for i := range y.straights {
			if s := &y.straights[i]; s.feature.ID == l.ID && l.Measure.Level < s.level-0.005 {
				g.Notes = append(g.Notes, fmt.Sprintf("Led straight, the water of %s stands at %.2f m and not at %.2f m, for the ground is lower there.", l.Title, l.Measure.Level, s.level))
			}
		}
	}
}

// even is the share of the contact below which the winding buys nothing to speak of.
const even = 0.005

// Sentence says what the winding buys.
func (g Gain) Sentence() string {
	e, more := g.Equal, math.Abs(g.Contact)
	switch {
	case g.Why != "":
		return fmt.Sprintf("What the winding buys is not told: %s.", g.Why)
	case math.Abs(g.Share) < even:
		return fmt.Sprintf("The winding itself buys nothing: a straight channel for which the same %.1f m³ are dug touches %.1f m² as well.", e.Dug, e.Contact)
	case g.Contact < 0 && g.Islands:
		return fmt.Sprintf("The winding and its islands buy no contact: a straight channel for which the same %.1f m³ are dug touches %.1f m² (%.0f %%) more.", e.Dug, more, 100*more/g.Winding.Contact)
	case g.Contact < 0:
		return fmt.Sprintf("The winding itself buys no contact: a straight channel for which the same %.1f m³ are dug touches %.1f m² (%.0f %%) more.", e.Dug, more, 100*more/g.Winding.Contact)
	case g.Islands:
		return fmt.Sprintf("The winding and its islands buy %.1f m² (%.0f %%) of contact over a straight channel for which the same %.1f m³ are dug.", more, 100*g.Share, e.Dug)
	}
	return fmt.Sprintf("The winding itself buys %.1f m² (%.0f %%) of contact over a straight channel for which the same %.1f m³ are dug.", more, 100*g.Share, e.Dug)
}

// EdgeSentence says how the winding changes the wet bank; empty where that is nothing
// to speak of, or nothing is compared.
func (g Gain) EdgeSentence() string {
	switch edge := g.Winding.WetEdge - g.Equal.WetEdge; {
	case g.Why != "" || math.Abs(edge) < even*g.Equal.WetEdge:
		return ""
	case edge < 0:
		return fmt.Sprintf("Its wet bank is %.1f m shorter than that straight channel's.", -edge)
	default:
		return fmt.Sprintf("Its wet bank is %.1f m longer than that straight channel's.", edge)
	}
}

// StorageSentence says the same of the storage.
func (g Gain) StorageSentence() string {
	switch storage := g.Winding.Storage - g.Equal.Storage; {
	case g.Why != "" || math.Abs(storage) < even*g.Equal.Storage:
		return ""
	case storage < 0:
		return fmt.Sprintf("It stores %.1f m³ less than that straight channel.", -storage)
	default:
		return fmt.Sprintf("It stores %.1f m³ more than that straight channel.", storage)
	}
}
