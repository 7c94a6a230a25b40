package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/sampling"
	"runnel/analysis/soakin"
)

// causeNexts say how each cause of a figure's spread is measured, by the names that
// package soakin gives. The weather of the year, which nobody can measure, is none.
func causeNexts() map[string]string {
	return map[string]string{
		toldLater("soil conductivity"):             tr("Measure that next: the conductivity of the soil. Dig four test holes or more where the water is to stand, and draw each as a soil test in the step Survey: one alone tells little more than the texture does."),
		toldLater("days that the drain runs"):      tr("Measure that next: the days on which the drain runs. Write down each through a year, or set the most and the least that you have seen."),
		toldLater("error of the survey"):           tr("Measure that next: the level of the ground against the water. A surveyor's level along the channel is better than a map."),
		toldLater("clogging"):                      tr("Measure that next: how the bed clogs. Watch how fast the water falls in a drain or pond nearby after it has stood for long."),
		toldLater("moisture of the soil at first"): tr("Measure that next: how moist the soil is when the water comes. Weigh a sample of it wet and dried."),
		toldLater("evaporation"):                   tr("Measure that next: evaporation. A record with wind, sun and humidity serves better than one of temperature alone."),
		toldLater("runoff of the ground"):          tr("Measure that next: what runs off the ground. Draw its covers and paving as they are."),
		toldLater("water that the planting needs"): tr("Measure that next: what the well gives. Read its meter at the end of each month."),
		toldLater("depth to groundwater"):          tr("Measure that next: the depth to groundwater. Read it in the well through a wet season."),
		toldLater("aquifer"):                       tr("Measure that next: the aquifer. Ask who drilled the well for its log and its pumping test."),
	}
}

// causeName is what a cause is called.
func causeName(name string) string {
	if name == soakin.WeatherCause {
		return tr("The weather of the year")
	}
	return strings.TrimSuffix(sentence(told(name)), ".")
}

// mostCauses is how many are told in the ledger.
const mostCauses = 3

// leastCause is the share of the spread below which a cause is not worth a word.
const leastCause = 0.005

// A causeList says what the spread of the recharge comes from, the greatest first, and
// what to measure next.
type causeList struct {
	w      *Window
	object *fyne.Container
	rows   [mostCauses]*fyne.Container
	cells  [mostCauses][2]*canvas.Text
	next   *widget.RichText
	year   *widget.RichText
}

func newCauseList(w *Window) *causeList {
	c := &causeList{w: w, next: quiet(""), year: quiet("")}
	c.next.Segments[0].(*widget.TextSegment).Style = widget.RichTextStyle{}
	c.object = container.NewVBox(w.labelled(tr("What the spread comes from"), strong, "causes"))
	for i := range c.rows {
		c.cells[i] = [2]*canvas.Text{text("", body), rightText("", body)}
		c.rows[i] = container.New(columns{16, 4}, c.cells[i][0], c.cells[i][1])
		c.object.Add(c.rows[i])
	}
	c.object.Add(flush(c.year))
	c.object.Add(flush(c.next))
	return c
}

func (c *causeList) update() {
	s := c.w.soaking.spread
	var ranking sampling.Ranking
	if s.last() {
		ranking = s.value.scheme.RechargeCauses
	}
	measured, weather := splitCauses(ranking)
	next := ""
	for i, row := range c.rows {
		shown(row, i < len(measured))
		if i < len(measured) {
			say(c.cells[i][0], causeName(measured[i].Name))
			say(c.cells[i][1], share(measured[i].Share))
			if i == 0 {
				next = causeNexts()[measured[i].Name]
			}
		}
	}
	setQuiet(c.next, next)
	shown(c.next, next != "")
	year := ""
	if weather > 0 {
		year = trf("The weather of the year makes %s of it, and nobody can measure that.", share(weather))
	}
	setQuiet(c.year, year)
	shown(c.year, year != "")
	shown(c.object, len(measured) > 0)
}

// splitCauses returns the causes that can be measured and are worth a word, and the share of the
// year's weather.
func splitCauses(r sampling.Ranking) (measured []sampling.Cause, weather float64) {
	for _, c := range r.Causes {
		switch {
		case c.Name == soakin.WeatherCause:
			weather = c.Share
		case c.Share >= leastCause:
			measured = append(measured, c)
		}
	}
	return measured, weather
}
