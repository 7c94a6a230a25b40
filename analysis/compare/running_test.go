package compare

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// graded has a channel that falls with the ground to an end at which it runs out, with
// a flow let in [L/s]: at rest it holds no water. Its cells are as large as is asked [m].
func graded(cell, flow float64) *plan.Site {
	g := grid.New[float32](grid.Square(int(70/cell), int(24/cell), 500_000, 4_000_024, cell))
	for i := range g.V {
		x := g.Centre(i%g.W, i/g.W)[0] - 500_000
		g.V[i] = float32(10 - .02*x)
	}
	s := &plan.Site{Ground: g, Setting: plan.UsualSetting()}
	s.Plan.Schemes = []plan.Scheme{{ID: 101, Name: "Graded"}}
	add(s, 101, plan.Channel, line(4, 8, 20, 15, 35, 8, 50, 15, 62, 12), "bed_width", 1.0, "side_left", 2.0, "side_right", 2.0,
		"bed_start", 9.4, "bed_end", 8.76, "flow", flow)
	return s
}

func TestAGradedChannelIsMeasuredAsItFlows(t *testing.T) {
	a, err := Measure(t.Context(), graded(.1, 60), 101, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Notes) != 1 || !strings.HasPrefix(a.Notes[0], "Channel 1: measured with the water as it flows") {
		t.Errorf("it says %q", a.Notes)
	}
	for _, p := range a.Problems {
		t.Error(p)
	}
	// Manning's formula gives a depth of 0.082 m at 60 L/s, n = 0.027 and a fall of 0.64 m
	// in 62.9 m, so a wetted perimeter of 1 + 2 × 0.082 × √5 = 1.365 m.
	if off := math.Abs(a.Contact/(62.9*1.365) - 1); off > .02 {
		t.Errorf("contact is %v m²", a.Contact)
	}
	if off := math.Abs(a.ContactOnGround/a.Contact - 1); off > .01 {
		t.Errorf("the two ways to the contact area differ by %.2f %%: %v and %v m²", off*100, a.Contact, a.ContactOnGround)
	}
	gain, err := GainOf(t.Context(), graded(.1, 60), &a)
	if err != nil || gain.Why != "" || !(gain.Straight.Contact > 0) {
		t.Errorf("what the winding buys: %q, %+v, %v", gain.Why, gain.Straight, err)
	}
}

func TestWithoutAFlowOrWithOneThatIsNotSettledWaterStands(t *testing.T) {
	still, err := Measure(t.Context(), graded(.25, math.NaN()), 101, Options{})
	if err != nil || still.Contact != 0 || len(still.Notes) != 0 || len(still.Problems) == 0 {
		t.Errorf("without a flow contact is %v m², %q, %v", still.Contact, still.Notes, err)
	}
	// A pond without a way out runs over: it is measured as it stands, and says why.
	g := grid.New[float32](grid.Square(100, 60, 500_000, 4_000_015, .25))
	for i := range g.V {
		g.V[i] = 10
	}
	s := &plan.Site{Ground: g, Setting: plan.UsualSetting()}
	s.Plan.Schemes = []plan.Scheme{{ID: 101, Name: "Pond"}}
	add(s, 101, plan.Channel, line(5, 7, 20, 7), "bed_width", 1.0, "bed_start", 9.6, "bed_end", 9.6, "flow", 20.0)
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil || !(a.Contact > 0) || len(a.Notes) != 1 || !strings.Contains(a.Notes[0], "as it stands, not as it flows: Channel 1 has no way out") {
		t.Errorf("contact is %v m², %q, %v", a.Contact, a.Notes, err)
	}
}

// Where a moat parts the running water both ways agree as well.
func TestRunningWaterRoundAnIslandAgreesBothWays(t *testing.T) {
	s := graded(.1, 60)
	ring := orb.Ring(line(26, 10, 29, 10, 29, 13, 26, 13, 26, 10))
	add(s, 101, plan.Island, orb.Polygon{ring}, "arm_width", .8, "side", 1.5)
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil || len(a.Notes) != 1 || !strings.Contains(a.Notes[0], "as it flows,") {
		t.Fatalf("%q, %v", a.Notes, err)
	}
	if off := math.Abs(a.ContactOnGround/a.Contact - 1); off > .01 {
		t.Errorf("the two ways to the contact area differ by %.2f %%: %v and %v m²", off*100, a.Contact, a.ContactOnGround)
	}
}
