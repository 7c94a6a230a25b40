package hydraulics

import (
	"math"
	"testing"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// Where the ends' levels differ alike, arms of one section and different lengths
// carry in the ratio of √(1/length).
func TestParallelArms(t *testing.T) {
	arm := func(length float64) branch {
		w := way{n: .03}
		for x := 0.0; x <= length; x++ {
			w.stations = append(w.stations, channel.LinkStation{Along: x, Bed: 10, Section: trapezoid(.8, 2)})
		}
		return branch{from: 0, to: 1, way: w}
	}
	for _, lengths := range [][]float64{{20, 20}, {20, 45}, {10, 30, 60}} {
		w := network{inflow: []float64{.05, 0, 0}}
		for _, length := range lengths {
			w.branches = append(w.branches, arm(length))
		}
		// Deep, slow water: its conveyance is the same all along.
		w.branches = append(w.branches, branch{from: 1, to: 2, out: func(float64) float64 { return 11.5 }})
		w.start(3)
		if ok, err := w.solve(t.Context()); !ok || err != nil {
			t.Fatal("it did not settle: ", err)
		}
		sum := 0.0
		for i, length := range lengths {
			within(t, "share", w.flow[i]/w.flow[0], math.Sqrt(lengths[0]/length), 1e-4)
			sum += w.flow[i]
		}
		within(t, "sum", sum, .05, 1e-12)
		if len(lengths) == 2 && lengths[0] == lengths[1] {
			within(t, "half", w.flow[0], .025, 1e-12)
		}
	}
}

func TestRoundASymmetricIslandGoesHalf(t *testing.T) {
	const slope = .002
	s := falling(120, 40, slope)
	canal(s, 10, 110, slope, "flow", 60.0)
	add(s, plan.Island, oval(60, 20, 12, 5), "arm_width", .8, "side", 1.5)
	r := given(t, s)
	var arms []Reach
	for _, a := range r.Reaches {
		if a.Kind == channel.ArmLink {
			arms = append(arms, a)
		}
	}
	if len(arms) != 2 || arms[0].Left == arms[1].Left {
		t.Fatalf("the arms are %+v", arms)
	}
	// The points of the outline lie to a nanometre in metres of a zone's size.
	within(t, "left arm", arms[0].Flow, .03, 1e-10)
	within(t, "right arm", arms[1].Flow, .03, 1e-10)
	within(t, "levels at the split", arms[0].Stations[0].Level, arms[1].Stations[0].Level, 1e-12)
}

// Nothing is lost at nodes: of each reach that leaves one, the flow is that of those
// that come to it.
func TestRunsThatForkAndMeetAgain(t *testing.T) {
	s := site(80, 60)
	level := []any{"bed_start", 9.3, "bed_end", 9.3, "bed_width", .8, "water_level", 9.7}
	add(s, plan.Channel, line(5, 30, 75, 30), append(level, "flow", 25.0)...)
	add(s, plan.Channel, line(20, 30, 25, 45, 55, 45, 60, 30), level...)
	add(s, plan.Spillway, at(75, 30), "crest", 9.7, "width", 1.5)
	r := given(t, s)
	if len(r.Reaches) != 4 {
		t.Fatalf("there are %d reaches", len(r.Reaches))
	}
	var through, round float64
	for _, a := range r.Reaches {
		switch first := a.Stations[0].Chainage; {
		case a.ID == 2:
			round = a.Flow
		case first > 10 && first < 30:
			through = a.Flow
		default:
			within(t, "trunk", a.Flow, .025, 1e-9)
		}
	}
	within(t, "both ways", through+round, .025, 1e-9)
	if !(round > .2*through && round < .9*through) {
		t.Errorf("the longer way takes %v, the shorter %v", round, through)
	}
}

func TestADeadEndStands(t *testing.T) {
	s := site(80, 60)
	level := []any{"bed_start", 9.3, "bed_end", 9.3, "water_level", 9.7}
	add(s, plan.Channel, line(5, 30, 75, 30), append(level, "flow", 25.0)...)
	add(s, plan.Channel, line(40, 30, 40, 50), level...)
	add(s, plan.Spillway, at(75, 30), "crest", 9.6, "width", 1.5)
	r := given(t, s)
	for _, a := range r.Reaches {
		if a.ID == 2 && (a.Flow != 0 || a.Still == "" || a.Stations[0].Velocity != 0 || !(a.Stations[0].Depth > .3)) {
			t.Errorf("the dead end is %+v", a)
		}
	}
}

// A ladder of loops with a sill, islands and two spillways: what comes in leaves, and
// wherever water is shared out the heads at the rejoining agree, or it would withhold.
func TestALadderOfLoopsSettles(t *testing.T) {
	s := site(120, 80)
	level := func(more ...any) []any {
		return append([]any{"bed_width", .7, "side_left", 2.0, "side_right", 2.0, "bed_start", 9.3, "bed_end", 9.25, "water_level", 9.7}, more...)
	}
	add(s, plan.Channel, line(5, 30, 110, 30), level("flow", 40.0)...)
	add(s, plan.Channel, line(15, 50, 110, 50), level()...)
	for _, x := range []float64{20, 45, 70, 95} {
		add(s, plan.Channel, line(x, 30, x, 50), level()...)
	}
	add(s, plan.Island, oval(57, 30, 8, 3), "arm_width", .6, "side", 1.5)
	add(s, plan.Island, oval(82, 50, 8, 3), "arm_width", .6, "side", 1.5)
	add(s, plan.Spillway, at(110, 30), "crest", 9.62, "width", 1.0)
	add(s, plan.Spillway, at(110, 50), "crest", 9.60, "width", .5)
	r := given(t, s)
	out := 0.0
	for _, o := range r.Outflows {
		out += o.Flow
		within(t, "what a spillway passes", WeirFlow(map[string]float64{"Spillway 9": 1, "Spillway 10": .5}[o.Title], o.Head), o.Flow, 1e-12)
	}
	within(t, "what leaves", out, .04, 1e-12)
	moving := 0
	for _, a := range r.Reaches {
		if a.Flow != 0 {
			moving++
		}
	}
	if moving < 14 {
		t.Errorf("only %d reaches flow", moving)
	}
}
