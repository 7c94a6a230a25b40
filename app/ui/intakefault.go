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

// leaves reports whether what a fault names is to be left out.
func (l *faultList) leaves(f accuracy.Fault) bool {
	if said, ok := l.said[keyOf(f)]; ok {
		return said
	}
	return f.Leave && names(f)
}

// leaving counts the lines and points that are to be left out.
func (l *faultList) leaving() int {
	lines, spots, sources := map[int]bool{}, map[int]bool{}, map[int]bool{}
	for _, f := range l.list {
		if !l.leaves(f) {
			continue
		}
		for _, i := range f.Lines {
			lines[i] = true
		}
		for _, i := range f.Spots {
			spots[i] = true
		}
		for _, i := range f.Sources {
			sources[i] = true
		}
	}
	return len(lines) + len(spots) + len(sources)
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
		// Lines without a height have a part of the form of their own.
		c.faults.of, c.faults.list = got.of, slices.DeleteFunc(got.list, func(f accuracy.Fault) bool {
			return f.Sort == accuracy.NoHeight && len(f.Spots) == 0
		})
		c.w.trace.say("faults", "count", len(got.list))
	}
	c.refresh()
}

// faultsShown is how many faults are listed at first.
const faultsShown = 8

// showFaults lists what is wrong, each with its number on the map and its tick.
func (c *surveying) showFaults() {
	l := &c.faults
	p := c.face.faults
	p.show(c, fmt.Sprint(l.of, len(l.list), l.all, l.chosen, c.w.units, c.w.look.style), func() []fyne.CanvasObject {
		if len(l.list) == 0 {
			return nil
		}
		rows := parted(text(trf("%d things to look at", len(l.list)), strong))
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
	t := c.turned(p, tr("leave out"), c.faults.leaves(f), func(on bool) {
		if c.faults.said == nil {
			c.faults.said = map[faultKey]bool{}
		}
		c.faults.said[keyOf(f)] = on
		c.made = nil
		c.refresh()
	})
	return container.NewVBox(row, container.NewHBox(container.New(widthOf(28), space(0)), t))
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
