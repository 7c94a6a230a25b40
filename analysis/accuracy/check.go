package accuracy

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"

	"github.com/paulmach/orb"
	"golang.org/x/sync/errgroup"

	"runnel/geo/survey"
)

// tolerance is how near two places are one [m], and alike how near their heights
// are [m]: good instruments repeat that well.
const (
	tolerance = 0.01
	alike     = 0.05
)

// listed is how many faults of a sort are told one by one.
const listed = 100

// A check gathers the faults of a survey.
type check struct {
	survey.Survey
	ctx    context.Context
	faults []Fault
	ranges []span
	// step is the interval of the contours [m], 0 where they have none, and gap how
	// far apart they lie on the mean.
	step, gap float64
	// blank are the lines that have no height.
	blank []int32
	// strung are places along all lines that tell the ground, a gap apart or less.
	strung *cloud
	// odd are the lines whose height is out of step, and off the sources whose
	// heights as a whole do not fit those of another.
	odd, off map[int]bool
}

// A span says where the heights of a source lie: the middle one, and what a
// twentieth are below and above [m].
type span struct {
	low, middle, high float64
}

// name returns the name of a source's file.
func (k *check) name(source int) string {
	if source >= 0 && source < len(k.Sources) && k.Sources[source].Name != "" {
		return k.Sources[source].Name
	}
	return "the survey"
}

func (k *check) add(f Fault) { k.faults = append(k.faults, f) }

// A finding is a point or a line that something is wrong with, before it is told:
// a survey may have millions.
type finding struct {
	of, beside int32
	off        float64
	leave      bool
}

// addAll adds findings of one sort, the gravest first, and those beyond what is
// listed as one fault; rest is the format of that one, with their number.
func (k *check) addAll(found []finding, tell func(finding) Fault, rest string) {
	slices.SortStableFunc(found, func(a, b finding) int { return cmp.Compare(math.Abs(b.off), math.Abs(a.off)) })
	for _, f := range found[:min(len(found), listed)] {
		k.add(tell(f))
	}
	if len(found) <= listed {
		return
	}
	last := tell(found[listed])
	spots := len(last.Spots) > 0
	last.Lines, last.Spots, last.Beside, last.Says = nil, nil, nil, fmt.Sprintf(rest, len(found)-listed)
	for _, f := range found[listed:] {
		last.Leave = last.Leave && f.leave
		if spots {
			last.Spots = append(last.Spots, int(f.of))
		} else {
			last.Lines = append(last.Lines, int(f.of))
		}
	}
	k.add(last)
}

// finite reports whether a figure is one that a place or a height [m] may have.
func finite(v float64) bool { return math.Abs(v) <= 1e9 }

func placed(p orb.Point) bool { return finite(p[0]) && finite(p[1]) }

// shared has processors work through n things in parts.
func shared(ctx context.Context, n int, work func(low, high int)) error {
	parts := 16 * runtime.GOMAXPROCS(0)
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i := range parts {
		g.Go(func() error {
			if ctx.Err() == nil {
				work(n*i/parts, n*(i+1)/parts)
			}
			return ctx.Err()
		})
	}
	return g.Wait()
}

// median returns the middle of values, which it sorts.
func median(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	slices.Sort(values)
	return values[len(values)/2]
}
