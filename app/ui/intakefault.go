package ui

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"github.com/paulmach/orb"

	"runnel/analysis/accuracy"
)

// A faultList is what is wrong with the measurements, and what of it is agreed to.
type faultList struct {
	// of is the survey that they were found in, by its number; asked counts them.
	of, asked int
	list      []accuracy.Fault
	// said holds what a person ticked or left, by fault.
	said map[faultKey]bool
	// chosen is the one that was looked at last, counted from 1.
	chosen int
	// all is set to show more than the first.
	all bool
}

// A faultKey tells faults apart from one finding to the next.
type faultKey struct {
	sort accuracy.Sort
	at   orb.Point
}

func keyOf(f accuracy.Fault) faultKey { return faultKey{f.Sort, f.At} }

// names reports whether leaving a fault out leaves anything out.
func names(f accuracy.Fault) bool { return len(f.Lines)+len(f.Spots)+len(f.Sources) > 0 }

// leaves reports whether what a fault names is to be left out: only where a person
// ticked it.
func (l *faultList) leaves(f accuracy.Fault) bool { return l.said[keyOf(f)] && names(f) }

// tick ticks a fault, or takes its tick away.
func (l *faultList) tick(f accuracy.Fault, on bool) {
	if l.said == nil {
		l.said = map[faultKey]bool{}
	}
	l.said[keyOf(f)] = on
}

// proposed are the faults that are proposed for leaving out and are not ticked yet.
func (l *faultList) proposed() (faults []accuracy.Fault) {
	for _, f := range l.list {
		if f.Leave && names(f) && !l.leaves(f) {
			faults = append(faults, f)
		}
	}
	return faults
}

// leaving counts the lines and points that are to be left out.
func (c *surveying) leaving() (n int) {
	lines, spots, sources := map[int]bool{}, map[int]bool{}, map[int]bool{}
	for _, f := range c.faults.list {
		if !c.faults.leaves(f) {
			continue
		}
		for of, places := range map[*map[int]bool][]int{&lines: f.Lines, &spots: f.Spots, &sources: f.Sources} {
			for _, i := range places {
				(*of)[i] = true
			}
		}
	}
	if len(sources) == 0 {
		return len(lines) + len(spots)
	}
	for i, l := range c.survey.Lines {
		if lines[i] || sources[l.Source] {
			n++
		}
	}
	for i, p := range c.survey.Spots {
		if spots[i] || sources[int(p.Source)] {
			n++
		}
	}
	return n
}

// foundFaults are the faults of a survey, by its number.
type foundFaults struct {
	of   int
	list []accuracy.Fault
}

// findFaults looks for what is wrong with the measurements as they are now.
func (c *surveying) findFaults() {
	c.faults.asked++
	of, s := c.faults.asked, c.survey
	c.faults.list, c.faults.chosen = nil, 0
	c.finder.Request(func(ctx context.Context) (foundFaults, error) {
		list, err := accuracy.Faults(ctx, s)
		return foundFaults{of, list}, err
	})
}

func (c *surveying) takeFaults(got foundFaults, err error) {
	switch {
	case !c.on || errors.Is(err, context.Canceled):
		return
	case err != nil:
		c.trouble = sentence(c.w.units.told(err.Error()))
	case got.of != c.faults.asked:
		return
	default:
		c.faults.of, c.faults.list = got.of, c.worthSaying(got.list)
		c.w.trace.say("faults", "count", len(got.list))
	}
	c.refresh()
	c.release()
}

// worthSaying leaves out what the form says elsewhere, or what says nothing yet, and puts
// last what does no harm.
func (c *surveying) worthSaying(list []accuracy.Fault) []accuracy.Fault {
	typing := c.missing() > 0
	list = slices.DeleteFunc(list, func(f accuracy.Fault) bool {
		return f.Sort == accuracy.NoHeight && len(f.Spots) == 0 || f.Sort == accuracy.AllAlike && typing
	})
	rank := func(f accuracy.Fault) int {
		if f.Sort == accuracy.Repeated && !f.Leave {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(list, func(a, b accuracy.Fault) int { return rank(a) - rank(b) })
	return list
}

// faultsShown is how many faults are listed at first.
const faultsShown = 8

// showFaults lists what is wrong, each with its number on the map and its tick.
func (c *surveying) showFaults() {
	l := &c.faults
	p := c.face.faults
	p.show(c, fmt.Sprint(l.of, len(l.list), l.all, l.chosen, len(l.proposed()), c.w.units, c.w.look.style), func() []fyne.CanvasObject {
		if len(l.list) == 0 {
			return nil
		}
		rows := parted(text(either(len(l.list), tr("1 thing to look at"), trf("%d things to look at", len(l.list))), strong))
		if open := l.proposed(); len(open) > 0 {
			rows = append(rows, paragraph(tr("Nothing is left out unless you tick it.")),
				c.button(p, trf("Tick what is proposed (%d)", len(open)), func() { c.tickAll(open) }))
		}
		listed := l.list
		if !l.all {
			listed = listed[:min(len(listed), faultsShown)]
		}
		for i, f := range listed {
			rows = append(rows, c.faultRow(p, i, f))
		}
		if more := len(l.list) - len(listed); more > 0 {
			rows = append(rows, c.button(p, trf("Show %d more", more), func() { l.all = true; c.refresh() }))
		}
		return rows
	})
}

// faultRow is a fault: its number, what it is, and the tick that leaves it out.
func (c *surveying) faultRow(p *formPart, i int, f accuracy.Fault) fyne.CanvasObject {
	said := flush(wrappedLabel(sentence(c.w.units.told(f.Says))))
	number := container.New(widthOf(28), rightText(fmt.Sprint(i+1), strong))
	row := newPressRow(container.NewBorder(nil, nil, container.NewVBox(space(gap), number), nil, said), func() { c.lookAt(i) })
	p.fields = append(p.fields, row)
	if !names(f) {
		return row
	}
	word := tr("leave out")
	if f.Leave {
		word = tr("leave out, as is proposed")
	}
	t := c.turned(p, word, c.faults.leaves(f), func(on bool) {
		c.faults.tick(f, on)
		c.made = nil
		c.refresh()
	})
	return container.NewVBox(row, container.NewHBox(container.New(widthOf(28), space(0)), t))
}

// tickAll ticks faults.
func (c *surveying) tickAll(faults []accuracy.Fault) {
	for _, f := range faults {
		c.faults.tick(f, true)
	}
	c.made = nil
	c.refresh()
}

// lookAt brings the place of a fault into the middle of the map.
func (c *surveying) lookAt(i int) {
	c.faults.chosen = i + 1
	c.face.view.approach(c.faults.list[i].At)
	c.refresh()
}

// marks are the places of the faults.
func (l *faultList) marks() (at []orb.Point) {
	for _, f := range l.list {
		at = append(at, f.At)
	}
	return at
}

// leave returns what agrees to leaving a fault out, as it is ticked now.
func (l *faultList) agreed() func(accuracy.Fault) bool {
	said := map[faultKey]bool{}
	for _, f := range l.list {
		said[keyOf(f)] = l.leaves(f)
	}
	return func(f accuracy.Fault) bool { return said[keyOf(f)] }
}
