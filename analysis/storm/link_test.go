package storm_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"runnel/analysis/flow"
	"runnel/analysis/storm"
	"runnel/geo/grid"
)

// A plane that falls to the east, split by a wall at column 4. Behind it 1 m³
// stands below 5 m, 3 m³ below 6 m, and 3 m³ more for each metre up to the wall's
// top at 9 m, which takes 12 m³. All water comes to column 2.
var split = grid.Parse(
	"20 20 20 20 20 20 20 20",
	"10  6  5  4  9  2  1  0",
	"20 20 20 20 20 20 20 20")

const (
	upper, poured, foot, beyond, lower, end = 9, 10, 11, 13, 14, 15
)

func TestAPlaneSplitByAWallByHand(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, test := range []struct {
		name         string
		links        []storm.Link
		volume, deep float64
		linked, left float64
	}{
		{"no link", nil, 9, 4, 0, 0},
		{"no link and over the top", nil, 15, 5, 0, 3},
		{"a culvert from the foot takes all", []storm.Link{{foot, beyond, inf, nan}}, 15, 0, 15, 15},
		{"a culvert takes what it can", []storm.Link{{foot, beyond, 3, nan}}, 9, 3, 3, 3},
		{"a culvert below the ground is at the ground", []storm.Link{{foot, beyond, 3, -7}}, 9, 3, 3, 3},
		{"one cannot take what does not come", []storm.Link{{foot, beyond, 3, nan}}, 2, 0, 2, 2},
		{"one that is blocked takes nothing", []storm.Link{{foot, beyond, 0, nan}}, 9, 4, 0, 0},
		{"one on the way takes what runs over it", []storm.Link{{poured, beyond, 4, nan}}, 5, 1, 4, 4},
		{"one on the way takes what stands, too", []storm.Link{{upper, beyond, 4, nan}}, 5, 2, 2, 2},
		{"one at the wall's top takes before it spills", []storm.Link{{foot, beyond, 2, 9}}, 15, 5, 2, 3},
		{"one higher than the wall takes nothing", []storm.Link{{upper, beyond, 2, 9.5}}, 15, 5, 0, 3},
		{"one off the site", []storm.Link{{foot, -1, 3, nan}}, 9, 3, 3, 3},
		{"two at one inlet, one after the other", []storm.Link{{foot, beyond, 1, nan}, {foot, -1, 2, nan}}, 9, 3, 1, 3},
		{"one that runs out into its own pond", []storm.Link{{foot, upper, inf, 5}}, 9, 4, 8, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			f := route(t, split)
			m := prepare(t, f, storm.Surface{Links: test.links})
			r := pourAt(t, m, split.Len(), poured, test.volume)
			check(t, f, m, r)
			deep := float64(r.Depth.V[foot])
			if math.IsNaN(deep) {
				deep = 0
			}
			linked := 0.0
			if len(r.Linked) > 0 {
				linked = r.Linked[0]
			}
			if !near(deep, test.deep) || !near(r.Balance.Left, test.left) || !near(linked, test.linked) {
				t.Errorf("%g m deep, %g m³ through, %g m³ left; want %g, %g and %g", deep, linked, r.Balance.Left, test.deep, test.linked, test.left)
			}
		})
	}
}

// What a culvert lets out runs on from there: of 3 m³, a drain further down takes
// 2 m³ and 1 m³ leaves over the edge.
func TestAChainOfLinksPassesItsWaterOn(t *testing.T) {
	links := []storm.Link{{foot, beyond, 3, math.NaN()}, {lower, -1, 2, math.NaN()}}
	r := pourAt(t, prepare(t, route(t, split), storm.Surface{Links: links}), split.Len(), poured, 9)
	if r.Linked[0] != 3 || r.Linked[1] != 2 || len(r.Left) != 1 || r.Left[0] != (storm.Exit{Cell: end, Volume: 1}) {
		t.Errorf("%v went through, %v left; want 3 and 2, and 1 from cell %d", r.Linked, r.Left, end)
	}
}

// A culvert whose inlet is raised 1.5 m over the floor lets the water stand so high,
// 2 m³, before it takes any.
func TestARaisedInletTakesOnlyWhatStands(t *testing.T) {
	m := prepare(t, route(t, split), storm.Surface{Links: []storm.Link{{foot, beyond, 3, 5.5}}})
	for _, test := range []struct{ volume, deep, linked float64 }{{2, 1.5, 0}, {4, 1.5, 2}, {5, 1.5, 3}, {6, 2, 3}} {
		r := pourAt(t, m, split.Len(), poured, test.volume)
		if !near(float64(r.Depth.V[foot]), test.deep) || r.Linked[0] != test.linked {
			t.Errorf("%g m³: %g m deep, %g m³ through; want %g and %g", test.volume, r.Depth.V[foot], r.Linked[0], test.deep, test.linked)
		}
	}
}

// Three ponds of 3 m³ step down to the east. A link lifts what comes to the lowest
// up to the highest, from where it runs back over all three: each fills, and the
// rest leaves, as none comes back to the link that lifted it.
func TestWaterThatALinkLiftsFillsWhatItRunsBackOver(t *testing.T) {
	ground := grid.Parse(
		"20 20 20 20 20 20 20 20",
		"20  5  8  3  6  1  4  0",
		"20 20 20 20 20 20 20 20")
	f := route(t, ground)
	m := prepare(t, f, storm.Surface{Links: []storm.Link{{13, 9, math.Inf(1), math.NaN()}}})
	r := pourAt(t, m, ground.Len(), 13, 10)
	check(t, f, m, r)
	for _, c := range []int{9, 11, 13} {
		if r.Depth.V[c] != 3 {
			t.Errorf("cell %d stands %g m deep, want 3", c, r.Depth.V[c])
		}
	}
	if r.Linked[0] != 10 || r.Balance.Left != 1 {
		t.Errorf("%g m³ lifted and %g left, want 10 and 1", r.Linked[0], r.Balance.Left)
	}
}

// A flow that was routed with an inlet of its own loses there all that comes.
func TestAnInletOfTheFlowSwallowsAll(t *testing.T) {
	f, err := flow.Route(context.Background(), split, flow.Options{Inlets: []int32{foot}})
	if err != nil {
		t.Fatal(err)
	}
	r := pourAt(t, prepare(t, f, storm.Surface{}), split.Len(), poured, 9)
	if len(r.Left) != 1 || r.Left[0] != (storm.Exit{Cell: foot, Volume: 9}) || r.Balance.Stored != 0 {
		t.Errorf("%v left and %g m³ stand, want 9 from cell %d", r.Left, r.Balance.Stored, foot)
	}
}

func TestLinksInALoopAreOneSentence(t *testing.T) {
	f := route(t, split)
	for name, links := range map[string][]storm.Link{
		"to and fro":                   {{foot, beyond, 1, 4}, {beyond, foot, 1, 2}},
		"uphill of itself":             {{lower, beyond, 1, 1}},
		"over two others":              {{poured, beyond, 1, 5}, {lower, upper, 1, 1}},
		"two at one inlet, one uphill": {{foot, beyond, 1, 4}, {foot, poured, 1, 4}},
	} {
		_, err := tryPrepare(f, storm.Surface{Links: links})
		if err == nil || !strings.Contains(err.Error(), "links run in a loop") || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
