package earthwork

import (
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"golang.org/x/sync/errgroup"
	"runnel/analysis/channel"
)

// A reckoning is what one network comes to in the two ways.
type reckoning struct {
	// undug are the problems for which it cannot be dug as it is drawn.
	undug    []channel.Problem
	sections channel.Measure
	wet      Wet
	earth    Earth
}

func reckon(t *testing.T, d *draught) (r reckoning, err error) {
	n, problems := channel.NewNetwork(d.site, 1)
	r.undug = slices.DeleteFunc(problems, func(p channel.Problem) bool { return strings.Contains(p.Error(), "rises by") })
	if len(r.undug) > 0 {
		return r, nil
	}
	lines, err := n.Measure(t.Context(), channel.Step{})
	if err != nil {
		return r, err
	}
	for _, l := range lines {
		r.sections.Contact += l.Measure.Contact
		r.sections.Volume += l.Measure.Volume
	}
	if r.earth, err = EndAreas(t.Context(), d.site.Ground, n, 0); err != nil {
		return r, err
	}
	_, r.wet, err = Stand(t.Context(), d.site.Ground, n)
	return r, err
}

// networks is how many networks are drawn at random, of how many kinds.
const (
	networks = 200
	kinds    = 11
)

// The two ways share the design alone. Networks of which a Problem says that they
// cannot be dug as they are drawn are left out; a bed that rises from its drain can be.
func TestTheTwoWaysAgreeOnRandomNetworks(t *testing.T) {
	all := make([]reckoning, networks)
	var group errgroup.Group
	group.SetLimit(runtime.NumCPU())
	for i := range all {
		group.Go(func() (err error) {
			all[i], err = reckon(t, drawn(uint64(i)))
			return err
		})
	}
	if err := group.Wait(); err != nil {
		t.Fatal(err)
	}
	off := map[string][]float64{}
	left := map[int]int{}
	for i := range all {
		if len(all[i].undug) > 0 {
			left[i%kinds]++
			t.Logf("network %d of kind %d is left out: %v", i, i%kinds, all[i].undug[0])
			continue
		}
		all[i].check(t, i, off)
	}
	t.Logf("left out for their problems, by kind: %v", left)
	for what, off := range off {
		slices.Sort(off)
		t.Logf("%s of %d networks differs by %.3f %% in the middle, %.3f %% at the ninth tenth, %.3f %% at most", what, len(off),
			100*off[len(off)/2], 100*off[len(off)*9/10], 100*off[len(off)-1])
	}
	if n := len(off["contact"]); n < networks*19/20 {
		t.Errorf("only %d networks are looked at", n)
	}
}

// check holds the two ways together on a network, and adds by which share they differ.
func (r *reckoning) check(t *testing.T, number int, off map[string][]float64) {
	apart := func(what string, a, b, most float64) {
		share := math.Abs(a/b - 1)
		off[what] = append(off[what], share)
		if !(share < most) {
			t.Errorf("network %d of kind %d: %s is %.4f on the ground and %.4f along the sections (%.2f %%)", number, number%kinds, what, a, b, 100*share)
		}
	}
	e := &r.earth
	apart("contact", r.wet.Contact, r.sections.Contact, 0.01)
	apart("cut by average end areas", e.Grid.Cut, e.AverageEnd.Cut, 0.02)
	apart("cut by prismoids", e.Grid.Cut, e.Prismoidal.Cut, 0.02)
	if e.Grid.Fill > 0.5 {
		apart("fill", e.Grid.Fill, e.AverageEnd.Fill, 0.02)
	}
}
