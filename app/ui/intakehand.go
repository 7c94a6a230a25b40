package ui

import (
	"fmt"
	"maps"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// A handTool is what the pointer does on the page's map.
type handTool uint8

// The tools: move the map; press a line and type its height; drag a stroke across lines
// and count.
const (
	lookingOver handTool = iota
	typingHeights
	counting
)

// A measuredKey names a line whatever else is on the page: by its file, nil for the site's
// own survey, its source there, and its number in that.
type measuredKey struct {
	file           *measuredFile
	source, number int
}

// heights are those that were typed [m].
type heights map[measuredKey]float64

// byHand is what a person does with the heights.
type byHand struct {
	tool         handTool
	z            heights
	before, next []heights
	// line is the place of the line whose height is asked for; -1 for none.
	line   int
	stroke countStroke
}

// set puts other heights in the place of those there are, in one step.
func (h *byHand) set(z heights) {
	h.before, h.next = append(h.before, h.z), nil
	h.z = z
}

// with returns the heights with some others over them.
func (h *byHand) with(others heights) heights {
	z := maps.Clone(h.z)
	if z == nil {
		z = heights{}
	}
	maps.Copy(z, others)
	return z
}

// turn takes the last step back, or does it again.
func (h *byHand) turn(from, to *[]heights) {
	n := len(*from)
	if n == 0 {
		return
	}
	*to = append(*to, h.z)
	h.z, *from = (*from)[n-1], (*from)[:n-1]
}

// forget drops the heights of a file.
func (h *byHand) forget(f *measuredFile) {
	maps.DeleteFunc(h.z, func(k measuredKey, _ float64) bool { return k.file == f })
	h.before, h.next, h.line, h.stroke = nil, nil, -1, countStroke{}
}

// applied returns a survey with the heights that were typed.
func (h *byHand) applied(s survey.Survey, lines []measuredKey) survey.Survey {
	if len(h.z) == 0 {
		return s
	}
	s.Lines = append([]survey.Line(nil), s.Lines...)
	for i, k := range lines {
		if z, ok := h.z[k]; ok {
			s.Lines[i].Z = []float64{z}
		}
	}
	return s
}

// undo takes the last typed heights back.
func (c *surveying) undo() { c.turnHeights(&c.hand.before, &c.hand.next) }

// redo types again what was taken back.
func (c *surveying) redo() { c.turnHeights(&c.hand.next, &c.hand.before) }

// turn takes back or does again as a shortcut says.
func (c *surveying) turn(s fyne.Shortcut) {
	if _, ok := s.(*fyne.ShortcutRedo); ok {
		c.redo()
		return
	}
	c.undo()
}

func (c *surveying) turnHeights(from, to *[]heights) {
	c.hand.turn(from, to)
	c.gather()
}

// nothingToUndo says why there is nothing to take back on the page; empty where there is.
func (c *surveying) nothingToUndo() string {
	if len(c.hand.before) == 0 {
		return tr("No height has been typed yet that could be taken back.")
	}
	return ""
}

func (c *surveying) nothingToRedo() string {
	if len(c.hand.next) == 0 {
		return tr("Nothing has been taken back that could be done again.")
	}
	return ""
}

// take takes up a tool.
func (c *surveying) take(t handTool) {
	c.hand.tool = t
	c.hand.line, c.hand.stroke = -1, countStroke{step: c.hand.stroke.step, down: c.hand.stroke.down}
	if t == typingHeights {
		c.offer(c.nextMissing(-1))
		return
	}
	c.refresh()
}

// offer asks for the height of a line, and shows it on the map.
func (c *surveying) offer(line int) {
	c.hand.line = line
	if line >= 0 {
		c.face.view.reveal(c.survey.Lines[line].At.Bound())
	}
	c.refresh()
	if line >= 0 && len(c.face.hand.fields) > 0 {
		c.w.win.Canvas().Focus(c.face.hand.fields[0])
	}
}

// missing counts the contours that have no height.
func (c *surveying) missing() (n int) {
	for _, l := range c.survey.Lines {
		if lacksHeight(l) {
			n++
		}
	}
	return n
}

func lacksHeight(l survey.Line) bool { return l.Use == survey.Contour && !l.Out && !l.Known() }

// nextMissing returns the line without a height that lies nearest to a line; that which
// is first in its file where there is none to be near to.
func (c *surveying) nextMissing(from int) int {
	found, nearest := -1, math.Inf(1)
	for i, l := range c.survey.Lines {
		if i == from || len(l.At) == 0 || !lacksHeight(l) {
			continue
		}
		away := 0.0
		if from >= 0 {
			away = between(c.survey.Lines[from].At, l.At)
		}
		if away < nearest {
			found, nearest = i, away
		}
	}
	return found
}

// fewPoints is how many points of each line are looked at to find the nearest line.
const fewPoints = 24

// between is about how far two lines lie apart [m].
func between(a, b orb.LineString) float64 {
	nearest := math.Inf(1)
	for i := 0; i < len(a); i += max(1, len(a)/fewPoints) {
		for k := 0; k < len(b); k += max(1, len(b)/fewPoints) {
			nearest = min(nearest, math.Hypot(a[i][0]-b[k][0], a[i][1]-b[k][1]))
		}
	}
	return nearest
}

// unitOf is the unit in which the heights of a line are typed, and its length [m].
func (c *surveying) unitOf(line int) (word string, metres float64) {
	unit := ""
	switch k := c.lines[line]; {
	case k.file != nil && k.file.how.Unit != "":
		unit = k.file.how.Unit
	case c.survey.Lines[line].Source < len(c.survey.Sources):
		unit = c.survey.Sources[c.survey.Lines[line].Source].Unit
	}
	return unitLength(unit)
}

// unitLength is the sign of a unit of heights and its length [m].
func unitLength(unit string) (sign string, metres float64) {
	switch unit {
	case "ft":
		return "ft", 0.3048
	case "us-ft":
		return "ft", 1200.0 / 3937
	}
	return "m", 1
}

// giveHeight takes the height that was typed for the line that is asked for, and for the
// pieces that it is cut into, and asks for the next.
func (c *surveying) giveHeight(typed string) error {
	line := c.hand.line
	if line < 0 || line >= len(c.lines) {
		return nil
	}
	if strings.TrimSpace(typed) == "" {
		z := maps.Clone(c.hand.z)
		delete(z, c.lines[line])
		c.hand.set(z)
		c.gather()
		return nil
	}
	z, err := heightTyped(typed)
	if err != nil {
		return err
	}
	_, metres := c.unitOf(line)
	set := heights{}
	for _, piece := range c.survey.Continued(line) {
		set[c.lines[piece]] = z * metres
	}
	c.hand.set(c.hand.with(set))
	c.gather()
	c.offer(c.nextMissing(line))
	return nil
}

// heightTyped reads a height.
func heightTyped(typed string) (float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(strings.Replace(strings.TrimSpace(typed), ",", ".", 1), "−", "-", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("the height is %q; give a number", typed)
	}
	return v, nil
}
