package action

import (
	"fmt"
	"strings"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// mostTold is how many sentences of one sort are written one by one.
const mostTold = 20

// tellAll writes sentences, and only counts those beyond the first few.
func tellAll(s Streams, sentences []string) {
	for _, sentence := range sentences[:min(len(sentences), mostTold)] {
		s.say(sentence)
	}
	if more := len(sentences) - mostTold; more > 0 {
		s.say(fmt.Sprintf("%d more like these", more))
	}
}

// tellAdded says what was added to a site and where, what of it lies off the
// ground, and what cannot be laid out with it.
func tellAdded(s Streams, site *plan.Site, added []plan.Feature) {
	if len(added) == 0 {
		return
	}
	kind, scheme := added[0].Kind, added[0].Scheme
	where := "the site as it is"
	if scheme != plan.AsItIs {
		where = "the scheme " + site.Plan.SchemeName(scheme)
	}
	s.say(fmt.Sprintf("added %s to %s", counted(len(added), kind), where))
	if off := offGround(site, added); off != "" {
		s.say(off)
	}
	switch kind {
	case plan.Channel, plan.Island, plan.Sill, plan.Spillway, plan.Drain:
		var sentences []string
		_, problems := channel.NewNetwork(site, scheme)
		for _, p := range problems {
			sentences = append(sentences, where+": "+p.Error())
		}
		tellAll(s, sentences)
	}
}

// counted writes a number of features of a kind, as in 3 boundaries.
func counted(n int, kind plan.Kind) string {
	label := strings.ToLower(kind.String())
	switch stem, y := strings.CutSuffix(label, "y"); {
	case n == 1:
	case y:
		label = stem + "ies"
	default:
		label += "s"
	}
	return fmt.Sprintf("%d %s", n, label)
}

// offGround says how many features lie wholly outside the ground's rectangle, and
// how far; empty for none.
func offGround(site *plan.Site, added []plan.Feature) string {
	found := plan.OffGround(site.Ground.Bound(), added)
	off, nearest := found.Count, found.Nearest
	if off == 0 {
		return ""
	}
	all := counted(len(added), added[0].Kind)
	said := fmt.Sprintf("%d of the %s lie off the ground, the nearest %s from it", off, all, far(nearest))
	switch {
	case len(added) == 1:
		said = fmt.Sprintf("the %s lies off the ground, %s from it", strings.ToLower(added[0].Kind.String()), far(nearest))
	case off == len(added):
		said = fmt.Sprintf("all %s lie off the ground, the nearest %s from it", all, far(nearest))
	case off == 1:
		said = fmt.Sprintf("1 of the %s lies off the ground, %s from it", all, far(nearest))
	}
	if found.Degrees {
		return said + "; its coordinates look like longitude and latitude: take them out again and add it with --crs EPSG:4326"
	}
	return said + "; look at the drawing's place and reference system"
}

// far writes a distance in metres, and beyond a kilometre in kilometres.
func far(metres float64) string {
	if metres < 1000 {
		return fmt.Sprintf("%.0f m", metres)
	}
	return fmt.Sprintf("%.1f km", metres/1000)
}
