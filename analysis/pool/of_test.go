package pool

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/channel"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

// measured adds up what channel.Measure says of the channels of a network.
func measured(t *testing.T, n *channel.Network) (sum channel.Measure) {
	t.Helper()
	lines, err := n.Measure(t.Context(), channel.Step{})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		if l.Kind == plan.Channel {
			sum.Contact, sum.Surface, sum.Volume = sum.Contact+l.Measure.Contact, sum.Surface+l.Measure.Surface, sum.Volume+l.Measure.Volume
		}
	}
	return sum
}

// held adds up the pools of channels at a level for each.
func held(all []Pool, level func(*Pool) float64) (sum Stage) {
	for i := range all {
		if p := &all[i]; !p.Drain {
			s := p.StageAt(level(p))
			sum.Contact, sum.Surface, sum.Volume = sum.Contact+s.Contact, sum.Surface+s.Surface, sum.Volume+s.Volume
		}
	}
	return sum
}

// apart says by what two figures differ, as a share of the second.
func apart(a, b float64) float64 { return math.Abs(a-b) / math.Max(math.Abs(b), 1e-9) }

// Measure casts its own transects for each level; a curve reads those of the brim. Levels
// are the one in use, and some shares of the depth.
func TestCurvesAreWhatMeasureSays(t *testing.T) {
	worst, looked := map[string]float64{}, 0
	for number := range uint64(110) {
		s := drawn(number)
		n, got := set(t, s)
		if !whole(n, got) {
			t.Logf("network %d is left out: %v", number, got.Withheld)
			continue
		}
		looked++
		bodies, _ := n.Bodies()
		for _, share := range []float64{0.3, 0.6, 0.9, 1} {
			levels := make([]float64, len(bodies))
			at := func(p *Pool) float64 { return p.Floor + share*(p.Top().Level-p.Floor) }
			for i := range bodies {
				levels[i] = at(&got.Pools[holding(got.Pools, i)])
			}
			m, h := measured(t, n.Filled(levels)), held(got.Pools, at)
			compared(t, number, share, m, h, worst)
		}
		use := func(p *Pool) float64 { return bodies[p.bodies[0]].Level }
		if !slices.ContainsFunc(got.Pools, func(p Pool) bool { return len(p.bodies) > 1 }) {
			compared(t, number, -1, measured(t, n), held(got.Pools, use), worst)
		}
	}
	t.Logf("%d networks are off by at most %v", looked, worst)
	if looked < 95 {
		t.Errorf("only %d networks are looked at", looked)
	}
}

// whole reports whether no water of a network is withheld.
func whole(n *channel.Network, got Set) bool {
	bodies, _ := n.Bodies()
	count := 0
	for _, p := range got.Pools {
		count += len(p.bodies)
	}
	return count > 0 && count == len(bodies)
}

func compared(t *testing.T, number uint64, share float64, m channel.Measure, h Stage, worst map[string]float64) {
	t.Helper()
	most := map[string]float64{"contact": 0.02, "surface": 0.02, "volume": 0.02}
	off := map[string]float64{"contact": apart(h.Contact, m.Contact), "surface": apart(h.Surface, m.Surface), "volume": apart(h.Volume, m.Volume)}
	for what, by := range off {
		if share < 0 {
			worst["in use: "+what] = max(worst["in use: "+what], by)
		}
		worst[what] = max(worst[what], by)
		if by > most[what] {
			t.Errorf("network %d of kind %d, at %.1f of the depth: %s is off by %.2f %%: %+v %+v", number, number%11, share, what, 100*by, h, m)
		}
	}
}

func TestTheDemosPoolsAreWhatMeasureSays(t *testing.T) {
	s := demo.Site()
	for _, scheme := range s.Plan.Schemes {
		n, _ := channel.NewNetwork(&s, scheme.ID)
		got, err := Of(t.Context(), &s, n, loam{})
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Pools) != 2 || len(got.Withheld)+len(got.Problems) > 0 {
			t.Fatalf("%s has %d pools: %v", scheme.Name, len(got.Pools), got.Withheld)
		}
		lines, err := n.Measure(t.Context(), channel.Step{})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range got.Pools {
			i := slices.IndexFunc(lines, func(l channel.Line) bool { return l.ID == p.Lines[0] })
			m, h := lines[i].Measure, p.StageAt(p.Running)
			if apart(h.Contact, m.Contact) > 0.01 || apart(h.Surface, m.Surface) > 0.01 || apart(h.Volume, m.Volume) > 0.01 {
				t.Errorf("%s comes to %+v, and measures %+v", p.Title, h, m)
			}
			area := 0.0
			for _, x := range p.Pieces {
				area += 4 * x.Half * x.Width
			}
			if apart(area, m.Surface) > 0.01 {
				t.Errorf("%s has pieces of %.1f m² and a surface of %.1f m²", p.Title, area, m.Surface)
			}
		}
	}
}

// What a curve must be whatever is drawn.
func TestCurvesRise(t *testing.T) {
	for number := range uint64(110) {
		_, got := set(t, drawn(number))
		for _, p := range got.Pools {
			lawful(t, number, &p, len(got.Pools))
		}
	}
}

func lawful(t *testing.T, number uint64, p *Pool, pools int) {
	t.Helper()
	if p.Stages[0].Volume != 0 || len(p.Stages) > mostStages || p.Supply < 0 || !(p.Stages[0].Contact >= 0) {
		t.Errorf("network %d: %s starts at %+v and has %d stages", number, p.Title, p.Stages[0], len(p.Stages))
	}
	for i := 1; i < len(p.Stages); i++ {
		a, b := p.Stages[i-1], p.Stages[i]
		if !(b.Level > a.Level && b.Volume > a.Volume && b.Contact >= a.Contact && b.Surface >= a.Surface && b.Contact >= b.Surface*0.999) {
			t.Errorf("network %d: %s goes from %+v to %+v", number, p.Title, a, b)
		}
	}
	for i, o := range p.Outlets {
		if i > 0 && o.Crest < p.Outlets[i-1].Crest || o.To >= pools || !(o.Width > 0) || !p.Drain && !(o.Crest >= p.Floor && o.Crest <= p.Top().Level+1e-9) {
			t.Errorf("network %d: outlet %d of %s is %+v", number, i, p.Title, o)
		}
	}
	if !p.Drain && p.Outlets[len(p.Outlets)-1].Kind != Brim {
		t.Errorf("network %d: the last outlet of %s is %+v", number, p.Title, p.Outlets[len(p.Outlets)-1])
	}
	if !math.IsNaN(p.Running) && (p.Running < p.Stages[0].Level || p.Running > p.Top().Level) {
		t.Errorf("network %d: %s runs at %.3f", number, p.Title, p.Running)
	}
	for share := 0.05; share < 1; share += 0.1 {
		level := p.Stages[0].Level + share*(p.Top().Level-p.Stages[0].Level)
		there := p.StageAt(level)
		if back := p.StageHolding(there.Volume); math.Abs(back.Level-level) > 1e-9 || apart(back.Contact, there.Contact) > 1e-6 {
			t.Errorf("network %d: %s holds %+v at %.4f m and is back at %+v", number, p.Title, there, level, back)
		}
	}
}
