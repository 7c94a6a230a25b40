package ui

import (
	"math"

	"runnel/analysis/channel"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/geo"
	"runnel/geo/plan"
)

// A sectionGrip is a level of a long section that can be dragged: a field of a
// feature, and how low and how high it goes [m].
type sectionGrip struct {
	view.Grip
	id        plan.ID
	field     string
	low, high float64
	// lowest and highest say in a few words what stops it there.
	lowest, highest string
	// brim is where its highest is reached first [m along the line]; NaN where that is
	// everywhere alike, or not known.
	brim float64
	// what names the change in the menu.
	what string
}

func (g sectionGrip) same(other sectionGrip) bool { return g.id == other.id && g.field == other.field }

// deepest is how far below the ground a bed can be dragged [m].
const deepest = 5.0

// grips lists what can be dragged in the section that is shown.
func (p *sectionPanel) grips() []sectionGrip {
	l := p.drawn.long
	if len(l.Places) == 0 {
		return nil
	}
	var grips []sectionGrip
	if l.Kind == plan.Channel {
		first, last := l.Places[0], l.Places[len(l.Places)-1]
		grips = append(grips, bedGrip(l, first, "bed_start"), bedGrip(l, last, "bed_end"))
	}
	for _, m := range l.Marks {
		if m.Kind == plan.Sill {
			grips = append(grips, sillGrip(l, m))
		}
	}
	for _, pool := range l.Pools {
		if pool.Lowest {
			grips = append(grips, p.waterGrip(pool))
		}
	}
	return grips
}

func bedGrip(l view.LongSection, at channel.Place, field string) sectionGrip {
	return sectionGrip{
		Grip: view.Grip{Chainage: at.Chainage, Level: at.Bed}, id: l.ID, field: field,
		low: at.Ground - deepest, high: at.Ground, brim: math.NaN(), lowest: tr("no deeper than this"), highest: tr("level with the ground"),
		what: toldLater("move bed level of %s", l.Title),
	}
}

func sillGrip(l view.LongSection, m channel.Mark) sectionGrip {
	at := l.At(m.Chainage)
	high := at.Bank()
	if math.IsNaN(high) {
		high = at.Brim
	}
	return sectionGrip{
		Grip: view.Grip{Chainage: m.Chainage, Level: m.Level}, id: m.ID, field: "crest",
		low: at.Bed, high: high, brim: math.NaN(), lowest: tr("down to the bed"), highest: tr("as high as the lower bank"),
		what: toldLater("move crest of %s", m.Title),
	}
}

// alike is how near to the brim a bank lies that is its lowest [m].
const alike = 0.03

func (p *sectionPanel) waterGrip(pool channel.Pool) sectionGrip {
	l := p.drawn.long
	low, brim, least := math.Inf(1), math.NaN(), alike
	for _, at := range l.Places {
		if at.Chainage >= pool.From && at.Chainage <= pool.To {
			low = math.Min(low, at.Bed)
			if off := math.Abs(at.Bank() - pool.Brim); off < least {
				brim, least = at.Chainage, off
			}
		}
	}
	highest := tr("full to the brim")
	if !math.IsNaN(brim) {
		highest = trf("full to the brim at %s", p.w.units.length(brim))
	}
	level := pool.Level
	if set, dry := p.drawn.feature.Num("water_level"), level <= low; dry && !math.IsNaN(set) {
		level = set
	}
	return sectionGrip{
		Grip: view.Grip{Chainage: l.GripPlace(pool), Level: level, Words: l.Level(level)}, id: l.ID, field: "water_level",
		low: low, high: pool.Brim, brim: brim, lowest: tr("dry"), highest: highest,
		what: toldLater("move water level of %s", l.Title),
	}
}

// A hold is a grip that is being moved.
type hold struct {
	on   bool
	grip sectionGrip
	// gesture joins the steps to one undo; keys does so for presses of keys one
	// after another.
	gesture, keys site.Gesture
	// off is how far above the grip the pointer took hold of it, value what the
	// level is now [m]; stop says why it goes no further, if it does not.
	off, value float64
	stop       string
	view       view.SideView
}

// shown is the grip as it is seen while it is held.
func (h hold) shown(l view.LongSection) view.Grip {
	g := h.grip.Grip
	g.Level, g.Over = h.value, h.stop
	switch {
	case g.Words != "":
		g.Words = l.Level(h.value)
	case h.stop == "":
		g.Over = l.Level(h.value)
	default:
		g.Over = l.Level(h.value) + ", " + h.stop
	}
	return g
}

// A modifier says whether a level moves freely or by whole steps.
type modifier uint8

const (
	freely modifier = iota
	stepped
)

// levelStep is the step of a level [m]: a centimetre, or a twentieth of a foot.
func (u units) levelStep() float64 {
	if u == usFeet {
		return geo.Foot / 20
	}
	return 0.01
}

// grab takes hold of a grip with the pointer at a level [m].
func (p *sectionPanel) grab(g sectionGrip, level float64) {
	p.hold = hold{on: true, grip: g, gesture: p.w.doc.Gesture(), off: level - g.Level, value: g.Level, view: p.drawn.long.View}
}

// drag moves what is held to the pointer's level [m].
func (p *sectionPanel) drag(level float64, how modifier) {
	h := &p.hold
	step := 0.001 // a millimetre is finer than can be dug
	if how == stepped {
		step = p.w.units.levelStep()
	}
	h.value = math.Round((level-h.off)/step) * step
	p.clamp(&h.value)
	p.set(h.grip, h.value, h.gesture)
	if h.value == h.grip.high && !math.IsNaN(h.grip.brim) {
		p.moveTo(h.grip.brim) // where there is no freeboard left
	}
}

// clamp keeps a level within what its grip allows, and says what stops it.
func (p *sectionPanel) clamp(v *float64) {
	h := &p.hold
	h.stop = ""
	switch {
	case *v >= h.grip.high:
		*v, h.stop = h.grip.high, h.grip.highest
	case *v <= h.grip.low:
		*v, h.stop = h.grip.low, h.grip.lowest
	}
}

// set writes a level into its field.
func (p *sectionPanel) set(g sectionGrip, v float64, gesture site.Gesture) {
	f, ok := p.w.doc.Site().Plan.Find(g.id)
	if !ok || math.IsNaN(v) || math.IsInf(v, 0) || f.Num(g.field) == v {
		return
	}
	edit := &site.Replace{After: f.With(g.field, plan.Value{Number: v}), What: g.what, Gesture: gesture}
	if err := p.w.doc.Do(edit); err != nil {
		p.w.tellBelow(sentence(p.w.units.told(err.Error())))
		return
	}
	p.w.trace.say("level", "id", g.id, "field", g.field, "value", v)
	p.long.raster.Refresh()
}

// stopped reports whether a grip is held, or was until now and has been stopped.
func (h hold) stopped(g sectionGrip) bool {
	const same = 0.002 // [m]; a level that was changed since stands elsewhere
	return h.grip.same(g) && (h.on || h.stop != "" && math.Abs(g.Level-h.value) < same)
}

// drop lets go.
func (p *sectionPanel) drop() {
	if !p.hold.on {
		return
	}
	// What stopped it stays to be read until the pointer moves on.
	p.hold = hold{grip: p.hold.grip, value: p.hold.value, stop: p.hold.stop}
	p.refresh()
	p.long.raster.Refresh()
}

// abandon takes a drag back, and reports whether there was one.
func (p *sectionPanel) abandon() bool {
	if !p.hold.on {
		return false
	}
	p.w.doc.Abandon(p.hold.gesture)
	p.hold.stop = ""
	p.drop()
	return true
}

// nudge moves the water by some steps. Presses one after another are one undo.
func (p *sectionPanel) nudge(steps float64) {
	for _, g := range p.grips() {
		if g.field != "water_level" {
			continue
		}
		if p.hold.keys == 0 {
			p.hold.keys = p.w.doc.Gesture()
		}
		from := g.Level
		// The newest section may be behind the document.
		if f, ok := p.w.doc.Site().Plan.Find(g.id); ok {
			if set := f.Num("water_level"); !math.IsNaN(set) && set <= g.high && set >= g.low {
				from = set
			}
		}
		step := p.w.units.levelStep()
		p.hold.grip = g
		v := math.Round((from+steps*step)/step) * step
		p.clamp(&v)
		if p.hold.stop != "" {
			p.w.tellBelow(trf("The water stands at %[1]s: %[2]s.", p.drawn.long.Level(v), p.hold.stop))
		}
		p.set(g, v, p.hold.keys)
	}
}
