package hydraulics

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// Options tunes Flow. The zero Options is the usual one.
type Options struct {
	// Step is how far apart stations lie at most [m]; nought is half a metre.
	Step float64
	// Freeboard is how far below the lower bank water should stay [m]; nought is
	// channel.Freeboard.
	Freeboard float64
}

// usualStep is how far apart stations lie at most where nothing else is said [m].
const usualStep = 0.5

// A Result is the steady flow through a scheme's channels.
type Result struct {
	Inflows  []Inflow
	Outflows []Outflow
	Reaches  []Reach
	Findings []Finding
	// Withheld lists what could not be given, and why.
	Withheld []Withheld
	// Full is the same where the drains run to their banks; nil in itself.
	Full *Result
}

// A Reach is the flow along one link of the network, down the chainage.
type Reach struct {
	Kind channel.LinkKind
	// ID is the channel's and Title its name; Island is that of an arm, which passes
	// on the left of it where Left is set, seen down the chainage.
	ID     plan.ID
	Title  string
	Island plan.ID
	Left   bool
	// Sill is that of a link without stations, Head the water above its crest [m].
	Sill plan.ID
	Head float64
	// Flow is positive down the chainage [m³/s].
	Flow float64
	// Still is a sentence that says why nothing flows; empty where something does.
	Still string
	// Normal is the depth of even flow at the mean fall of the bed [m], NaN where the
	// bed does not fall with the flow.
	Normal float64
	// Critical is the critical depth half way along it [m], NaN where nothing flows.
	Critical float64
	Stations []Station
}

// A Station is the water at one place. What is not known is NaN.
type Station struct {
	Along, Chainage float64
	At              orb.Point
	// Bed is the bed's height on the line and Level the water's, Depth the greatest
	// depth [m], nought where it is dry.
	Bed, Level, Depth float64
	// Velocity is the mean [m/s], below nought up the chainage. Shear is the greatest
	// on the bed, MeanShear that over bed and banks [Pa].
	Velocity, Froude, Shear, MeanShear float64
	// Freeboard is how far the lower of the banks lies above the water [m].
	Freeboard float64
	// Supercritical is set where the flow is faster than a wave, or just so at a drop.
	Supercritical bool
	// bank is the level of the lower bank [m], +Inf where none is known.
	bank float64
}

// An Outflow is what leaves at a spillway, by a drain or over an open end.
type Outflow struct {
	// Kind is Spillway, Drain or Channel, and ID is of such a feature.
	Kind  plan.Kind
	ID    plan.ID
	Title string
	At    orb.Point
	// Flow leaves there [m³/s] at a level [m].
	Flow, Level float64
	// Crest is a spillway's, Head the water above it [m], Capacity what it passes
	// with the water at the lowest bank of its pool [m³/s]; NaN for other ways out.
	Crest, Head, Capacity float64
}

// A Withheld is a feature whose flow is not given, and why.
type Withheld struct {
	ID  plan.ID
	At  orb.Point
	Err error
}

func (w Withheld) Error() string { return w.Err.Error() }

var nan = math.NaN()

// Flow works out the steady flow through the channels of a network, as it is when
// the drains run and when they are full.
func Flow(ctx context.Context, s *plan.Site, n *channel.Network, o Options) (Result, error) {
	if !(o.Step > 0) {
		o.Step = usualStep
	}
	if !(o.Freeboard > 0) {
		o.Freeboard = channel.Freeboard
	}
	st := study{ctx: ctx, site: s, options: o, features: map[plan.ID]plan.Feature{}, network: n, graph: n.Graph(o.Step)}
	for _, f := range n.Features() {
		st.features[f.ID] = f
	}
	if _, err := st.run(); err != nil {
		return Result{}, err
	}
	running := st.result
	st.full = true
	if _, err := st.run(); err != nil {
		return Result{}, err
	}
	full := st.result
	running.Full = &full
	return running, nil
}

// A study is one question of a network.
type study struct {
	ctx      context.Context
	site     *plan.Site
	options  Options
	features map[plan.ID]plan.Feature
	network  *channel.Network
	graph    channel.Graph
	full     bool
	result   Result
}

func (st *study) feature(id plan.ID) plan.Feature { return st.features[id] }

// run answers for every part of the network by itself, and returns them.
func (st *study) run() ([]*part, error) {
	st.result = Result{}
	st.unlinked()
	parts := st.parts()
	for _, p := range parts {
		p.failed = p.takeIn()
	}
	shareDrains(parts)
	for _, p := range parts {
		if err := p.solve(); err != nil {
			return nil, err
		}
	}
	st.result.dropLesser()
	return parts, nil
}

// unlinked withholds the flow of channels that have no link: those that lie wholly
// inside an island.
func (st *study) unlinked() {
	linked := map[plan.ID]bool{}
	for _, l := range st.graph.Links {
		linked[l.ID] = linked[l.ID] || len(l.Stations) > 0
	}
	for _, n := range st.graph.Nodes {
		if f := st.feature(n.ID); !linked[n.ID] {
			linked[n.ID] = true
			st.withhold(n.ID, n.At, fmt.Errorf("%s lies wholly inside an island, so how water flows in it is not given; move the island", f.Title()))
		}
	}
}

func (st *study) withhold(id plan.ID, at orb.Point, err error) {
	st.result.Withheld = append(st.result.Withheld, Withheld{id, at, err})
}

// A part is links that hang together, by their numbers, with their nodes and
// channels.
type part struct {
	*study
	nodes, links []int
	channels     []plan.ID
	ins          []Inflow
	outs         []opened
	sinks        []sink
	net          network
	// failed is why nothing can be said.
	failed error
}

type opened struct {
	channel.Opening
	node int
}

// parts lists the parts of the graph.
func (st *study) parts() []*part {
	of := make([]int, len(st.graph.Nodes))
	for i := range of {
		of[i] = i
	}
	find := func(k int) int {
		for of[k] != k {
			k = of[k]
		}
		return k
	}
	for _, l := range st.graph.Links {
		a, b := find(l.From), find(l.To)
		of[max(a, b)] = min(a, b)
	}
	var parts []*part
	number := map[int]*part{}
	for k := range st.graph.Nodes {
		root := find(k)
		p, ok := number[root]
		if !ok {
			p = &part{study: st}
			number[root], parts = p, append(parts, p)
		}
		p.nodes = append(p.nodes, k)
	}
	for i, l := range st.graph.Links {
		p := number[find(l.From)]
		p.links = append(p.links, i)
		if !slices.Contains(p.channels, l.ID) {
			p.channels = append(p.channels, l.ID)
		}
	}
	return slices.DeleteFunc(parts, func(p *part) bool { return len(p.links) == 0 })
}

// solve works out one part and adds it to the result.
func (p *part) solve() error {
	if err := p.ctx.Err(); err != nil {
		return err
	}
	first := p.feature(p.channels[0])
	at := p.graph.Nodes[p.nodes[0]].At
	if p.failed != nil {
		p.withhold(first.ID, at, fmt.Errorf("the flow of %s is not given: %w", first.Title(), p.failed))
		return nil
	}
	if at, err := p.unheld(); err != nil {
		p.withhold(first.ID, at, fmt.Errorf("the flow of %s is not given: %w", first.Title(), err))
		return nil
	}
	p.findSinks()
	if len(p.sinks) == 0 {
		p.fill()
		return nil
	}
	settled, err := p.flow()
	switch {
	case err != nil:
		return err
	case !settled:
		p.withhold(first.ID, at, fmt.Errorf("the flow of %s is not given: its split among %d ways did not settle; take out islands or spillways one by one to see which", first.Title(), len(p.net.free)+1))
		return nil
	}
	return nil
}
