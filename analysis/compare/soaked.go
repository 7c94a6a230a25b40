package compare

import (
	"runnel/analysis/channel"
	"runnel/analysis/soil"
	"runnel/geo"
)

// soaked returns what may soak in from some lines [m³ a year], each as long as the
// drain that feeds it runs.
func soaked(texture soil.Texture, n *channel.Network, lines []channel.Line, usual geo.Range) geo.Range {
	var days []geo.Range
	contact := map[geo.Range]float64{}
	for _, l := range lines {
		d := n.RunDaysOf(l.ID, usual)
		if _, known := contact[d]; !known {
			days = append(days, d)
		}
		contact[d] += l.Measure.Contact
	}
	var sum geo.Range
	for _, d := range days {
		r := texture.Soaked(contact[d], d)
		sum = geo.Range{Low: sum.Low + r.Low, Likely: sum.Likely + r.Likely, High: sum.High + r.High}
	}
	return sum
}
