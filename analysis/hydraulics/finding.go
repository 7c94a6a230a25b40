package hydraulics

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A What says what a finding is about.
type What uint8

// What is found.
const (
	TooFast What = iota
	TooMuchShear
	Supercritical
	OverBank
	LittleFreeboard
	TooLittleHead
	SpillwayTooSmall
	DrainRunsIn
	NotPublished
	SpreadsOut
)

// A Finding is something about the flow that a designer should know, at its worst
// place.
type Finding struct {
	What What
	// ID is of the channel or spillway, From and To the chainages between which it
	// is so [m], At its worst place.
	ID       plan.ID
	From, To float64
	At       orb.Point
	// Value is the figure there and Limit what it should not pass, in Unit.
	Value, Limit float64
	Unit         string
	// Text is a sentence for a person, Source where the limit stands.
	Text, Source string
}

// addReach adds a reach to the result, and what there is to say of it.
func (p *part) addReach(r Reach) {
	p.result.Reaches = append(p.result.Reaches, r)
	if len(r.Stations) == 0 {
		return
	}
	p.judgeBanks(&r)
	if r.Flow != 0 {
		p.judgeScour(&r)
		p.judgeSpeed(&r)
	}
}

// worst returns the station of a reach at which a figure is highest above its limit,
// and the chainages between which it is above it; ok is false where it nowhere is.
func worst(r *Reach, excess func(s *Station) float64) (at *Station, from, to float64, ok bool) {
	from, to = math.Inf(1), math.Inf(-1)
	for i := range r.Stations {
		s := &r.Stations[i]
		if e := excess(s); e > 0 {
			if !ok || e > excess(at) {
				at = s
			}
			ok = true
			from, to = min(from, s.Chainage), max(to, s.Chainage)
		}
	}
	return at, from, to, ok
}

// find adds a finding, or where there is one of its kind on the channel already lets
// that reach over both and tells of the worse place.
func (p *part) find(f Finding) {
	for i := range p.result.Findings {
		old := &p.result.Findings[i]
		if old.ID != f.ID || old.What != f.What {
			continue
		}
		from, to := min(old.From, f.From), max(old.To, f.To)
		if f.worse(old) {
			*old = f
		}
		old.From, old.To = from, to
		return
	}
	p.result.Findings = append(p.result.Findings, f)
}

// dropLesser takes out that a channel has little freeboard where it runs over besides.
func (r *Result) dropLesser() {
	over := map[plan.ID]bool{}
	for _, f := range r.Findings {
		over[f.ID] = over[f.ID] || f.What == OverBank
	}
	r.Findings = slices.DeleteFunc(r.Findings, func(f Finding) bool { return f.What == LittleFreeboard && over[f.ID] })
}

// worse reports whether a finding tells of something worse than one of its kind: less
// freeboard, else more above the limit.
func (f *Finding) worse(old *Finding) bool {
	if f.What == OverBank || f.What == LittleFreeboard {
		return f.Value < old.Value
	}
	return f.Value-f.Limit > old.Value-old.Limit
}

// film is how far above a bank water is not yet said to run over [m]: less than the
// two decimals of levels show.
const film = 0.005

// judgeBanks says where water stands over a bank, or too little below it.
func (p *part) judgeBanks(r *Reach) {
	at, from, to, ok := worst(r, func(s *Station) float64 { return p.options.Freeboard - s.Freeboard - film })
	switch {
	case !ok:
	case at.Freeboard < -film:
		p.find(Finding{What: OverBank, ID: r.ID, From: from, To: to, At: at.At, Value: at.Freeboard, Unit: "m",
			Text: fmt.Sprintf("the water of %s stands %.2f m above its bank %.1f m along it and runs over there; raise the bank, widen the spillway or lower its crest", r.Title, -at.Freeboard, at.Chainage)})
	default:
		text := fmt.Sprintf("%s has %.2f m of freeboard %.1f m along it, less than %.2f m", r.Title, at.Freeboard, at.Chainage, p.options.Freeboard)
		if at.Freeboard < film {
			text = fmt.Sprintf("%s has no freeboard %.1f m along it; keep %.2f m", r.Title, at.Chainage, p.options.Freeboard)
		}
		p.find(Finding{What: LittleFreeboard, ID: r.ID, From: from, To: to, At: at.At, Value: at.Freeboard, Limit: p.options.Freeboard, Unit: "m", Text: text})
	}
}

// judgeScour says where water is too fast for the lining and the soil, or pulls too
// hard at them.
func (p *part) judgeScour(r *Reach) {
	lining, soil := p.feature(r.ID).Text("lining"), p.site.Setting.Soil
	limit, err := LimitOf(lining, soil, bedSlope(r))
	if err != nil {
		middle := r.Stations[len(r.Stations)/2]
		p.find(Finding{What: NotPublished, ID: r.ID, From: r.Stations[0].Chainage, To: r.Stations[len(r.Stations)-1].Chainage, At: middle.At,
			Value: nan, Limit: nan, Text: fmt.Sprintf("whether %s stands its flow is not given: %v", r.Title, err)})
		return
	}
	if at, from, to, ok := worst(r, func(s *Station) float64 { return math.Abs(s.Velocity) - limit.Velocity }); ok {
		p.find(Finding{What: TooFast, ID: r.ID, From: from, To: to, At: at.At, Value: math.Abs(at.Velocity), Limit: limit.Velocity, Unit: "m/s", Source: limit.Source,
			Text: fmt.Sprintf("%s runs at %.2f m/s %.1f m along it; %s on %s stands %.2f m/s", r.Title, math.Abs(at.Velocity), at.Chainage, lining, soil, limit.Velocity)})
	}
	if at, from, to, ok := worst(r, func(s *Station) float64 { return s.Shear - limit.Shear }); ok {
		p.find(Finding{What: TooMuchShear, ID: r.ID, From: from, To: to, At: at.At, Value: at.Shear, Limit: limit.Shear, Unit: "Pa", Source: limit.Source,
			Text: fmt.Sprintf("%s pulls at its bed with %.1f Pa %.1f m along it; %s on %s stands %.1f Pa", r.Title, at.Shear, at.Chainage, lining, soil, limit.Shear)})
	}
}

// bedSlope returns the mean fall of a reach's bed, whichever way [m/m].
func bedSlope(r *Reach) float64 {
	first, last := r.Stations[0], r.Stations[len(r.Stations)-1]
	if last.Along == first.Along {
		return 0
	}
	return math.Abs(first.Bed-last.Bed) / (last.Along - first.Along)
}

// judgeSpeed says where flow is supercritical over more than one place: at one it
// only falls over an edge.
func (p *part) judgeSpeed(r *Reach) {
	const clearly = 1 + 1e-6
	at, from, to, ok := worst(r, func(s *Station) float64 { return s.Froude - clearly })
	if !ok || to == from {
		return
	}
	p.find(Finding{What: Supercritical, ID: r.ID, From: from, To: to, At: at.At, Value: at.Froude, Limit: 1, Source: "Chow 1959 section 3-2",
		Text: fmt.Sprintf("%s runs supercritical from %.1f to %.1f m along it, at a Froude number of up to %.2f; where it slows a jump stands, whose place is not worked out. Break the fall with drops and sills", r.Title, from, to, at.Froude)})
}

// addOutflow adds a way out to the result; of a spillway with what it can pass.
func (p *part) addOutflow(s *sink) {
	s.Capacity = nan
	if s.Kind == plan.Spillway {
		var bank float64
		s.Capacity, bank = p.capacity(s)
		if s.Flow > max(s.Capacity*1.005, s.Capacity+told) {
			p.find(Finding{What: SpillwayTooSmall, ID: s.ID, At: s.At, Value: s.Flow, Limit: s.Capacity, Unit: "m³/s", Text: s.tooSmall(bank)})
		}
	}
	p.judgeDrain(s)
	p.result.Outflows = append(p.result.Outflows, s.Outflow)
}

// told is the least flow that shows in litres to one decimal [m³/s].
const told = 1e-4

// tooSmall says that a spillway does not pass its flow before the water is over a bank
// [m], and what to do. The width is rounded up, so that it is more than it has.
func (s *sink) tooSmall(bank float64) string {
	const step = 0.1
	if !(s.Capacity >= told) {
		return fmt.Sprintf("%s has to pass %.1f L/s and passes none before the water is over the bank at %.2f m; lower its crest", s.Title, s.Flow*litres, bank)
	}
	wide := math.Ceil(s.width*s.Flow/s.Capacity/step-1e-9) * step
	return fmt.Sprintf("%s has to pass %.1f L/s and passes %.1f L/s before the water is over the bank at %.2f m; widen it to %.1f m, or lower its crest", s.Title, s.Flow*litres, s.Capacity*litres, bank, wide)
}

// judgeDrain says where a drain that should take water stands higher than it does.
func (p *part) judgeDrain(s *sink) {
	if level := s.out(0); s.Kind == plan.Drain && s.Flow == 0 && s.Level < level-apart {
		p.find(Finding{What: DrainRunsIn, ID: s.ID, At: s.At, Value: level, Limit: s.Level, Unit: "m",
			Text: fmt.Sprintf("%s stands at %.2f m where the channel's water would stand at %.2f m, and runs in there too; how much is not worked out, so the water stands higher than is given. Raise the channel's bed there, or hold the drain back with a sill", s.Title, level, s.Level)})
	}
}

// tellInflows says where less runs in than there is, or cannot run in as set.
func (p *part) tellInflows(share float64) {
	for i := range p.ins {
		in := &p.ins[i]
		in.Flow = in.Offered
		if !in.set {
			in.Flow *= share
		}
		head := p.net.at(in.place)
		switch {
		case !in.set && share < 1:
			p.find(Finding{What: TooLittleHead, ID: in.Channel, At: in.At, Value: in.Flow, Limit: in.Offered, Unit: "m³/s",
				Text: fmt.Sprintf("%s takes %.1f L/s of the %.1f L/s that there are: at more its water would stand above that of %s, at %.2f m", p.feature(in.Channel).Title(), in.Flow*litres, in.Offered*litres, p.feature(in.Drain).Title(), in.Head)})
		case in.set && head > in.Head+1e-9:
			p.find(Finding{What: TooLittleHead, ID: in.Channel, At: in.At, Value: head, Limit: in.Head, Unit: "m",
				Text: fmt.Sprintf("%s cannot take the %.1f L/s that is set: its water would need a head of %.2f m at its mouth, and that of %s stands at %.2f m", p.feature(in.Channel).Title(), in.Flow*litres, head, p.feature(in.Drain).Title(), in.Head)})
		}
	}
}
