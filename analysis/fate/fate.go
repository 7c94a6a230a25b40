package fate

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/runoff"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Kind says what water ends in.
type Kind uint8

// The kinds of ends.
const (
	// Edge is the edge of the ground, or a cell of no data.
	Edge Kind = iota
	Channel
	Drain
	// Inlet is a drain inlet, which takes the water off the site.
	Inlet
	// Hollow is a hollow that keeps the water until it soaks in or dries up.
	Hollow
	// SmallHollows are those on the way that are too small to be told one by one.
	SmallHollows
)

func (k Kind) String() string {
	return [...]string{"edge", "channel", "drain", "inlet", "hollow", "small hollows"}[k]
}

// An End is where water ends.
type End struct {
	Kind Kind
	// Feature is the channel, drain or inlet; 0 for the others.
	Feature plan.ID
	// Pit is the lowest cell of the hollow; -1 for the others.
	Pit int32
	// Side is the side of the ground that water leaves over: 0 north, 2 east, 4 south
	// and 6 west; 0 for the others.
	Side grid.Dir
}

// SideName names the side of the ground that water leaves over, such as "north".
func (e End) SideName() string { return [...]string{"north", "east", "south", "west"}[e.Side/2] }

// A Part is the part of a source's water that ends in one place.
type Part struct {
	End
	// Share is how much of the source's water that is, 0 to 1.
	Share float64
	// Storm and Year are the water in the storm and in a mean year [m³].
	Storm, Year float64
	// Path is the way of the largest share of it, from where it comes up on the
	// ground; Through lists the culverts that it passes through.
	Path    orb.LineString
	Through []plan.ID
}

// A Fate is where the water of one roof or piece of paving ends.
type Fate struct {
	runoff.Source
	// Storm and Year are all of its water [m³].
	Storm, Year float64
	// Parts are the largest first; their shares are 1 together.
	Parts []Part
}

// Input is what the fates of a scheme's water hang on.
type Input struct {
	Site   *plan.Site
	Scheme plan.SchemeID
	// Surface is that of the ground as the scheme proposes it.
	Surface *runoff.Surface
	// Wet is the depth of the water that stands in channels and drains, NaN where it
	// is dry. Without it they are as wide as a cell.
	Wet grid.Ground
	// Least is the depth of the hollows that are told one by one [m].
	Least float64
}

func (in Input) check() error {
	if in.Wet.Len() > 0 && in.Wet.Frame != in.Surface.Ground.Frame {
		return errors.New("the standing water lies on other cells than the ground; work it out from this ground")
	}
	return nil
}

// Of returns the fate of every source of the surface, in drawing order.
func Of(ctx context.Context, in Input) ([]Fate, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	n, err := newNetwork(ctx, in, in.courses())
	if err != nil {
		return nil, fmt.Errorf("follow the water of roofs and paving: %w", err)
	}
	var fates []Fate
	for _, s := range in.Surface.Sources {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		fates = append(fates, n.fate(s, in))
	}
	return fates, nil
}

// millimetre is one in metres: settings give rain in it.
const millimetre = 0.001

func (n *network) fate(s runoff.Source, in Input) Fate {
	sheds := s.Area * s.Coefficient * millimetre
	f := Fate{Source: s, Storm: sheds * in.Site.Setting.Storm, Year: sheds * in.Site.Setting.YearRain}
	for end, t := range n.tally(s) {
		p := Part{End: end, Share: t.share, Storm: t.share * f.Storm, Year: t.share * f.Year}
		p.Path, p.Through = n.path(t.start, t.station)
		f.Parts = append(f.Parts, p)
	}
	slices.SortFunc(f.Parts, func(a, b Part) int {
		return cmp.Or(cmp.Compare(b.Share, a.Share), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Feature, b.Feature), cmp.Compare(a.Pit, b.Pit), cmp.Compare(a.Side, b.Side))
	})
	return f
}

// A tally gathers what ends in one place, and where the largest share of it comes
// from: the cell where it comes up and the station where it ends.
type tally struct {
	share, most float64
	start       int32
	station     int32
}

// tally parts the water of a source among its ends.
func (n *network) tally(s runoff.Source) map[End]*tally {
	starts := make(map[int32]*tally) // by the station that they come to first
	s.Starts(func(c int32, share float64) {
		station := n.entry[c]
		t := starts[station]
		if t == nil {
			t = &tally{start: c}
			starts[station] = t
		}
		t.share += share
		if share > t.most || share == t.most && n.off(c, station) > n.off(t.start, station) {
			t.start, t.most = c, share
		}
	})
	ends := make(map[End]*tally)
	for _, first := range sortedKeys(starts) {
		t := starts[first]
		n.pass(first, t.share, func(station int32, share float64) {
			end := n.all[station].end
			e := ends[end]
			if e == nil {
				e = &tally{}
				ends[end] = e
			}
			e.share += share
			if share > e.most {
				e.most, e.start, e.station = share, t.start, station
			}
		})
	}
	return ends
}

func sortedKeys(m map[int32]*tally) []int32 {
	keys := make([]int32, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
