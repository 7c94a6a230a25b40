package action

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"

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
	ground := site.Ground.Bound()
	off, nearest, degrees := 0, math.Inf(1), true
	for _, f := range added {
		if clip.Geometry(ground, orb.Clone(f.Geometry)) != nil {
			continue
		}
		b := f.Geometry.Bound()
		off++
		nearest = min(nearest, apart(ground, b))
		degrees = degrees && math.Abs(b.Min[0]) <= 360 && math.Abs(b.Max[0]) <= 360 && math.Abs(b.Min[1]) <= 90 && math.Abs(b.Max[1]) <= 90
	}
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
	if degrees {
		return said + "; its coordinates look like longitude and latitude: save the drawing with its reference system and add it again"
	}
	return said + "; look at the drawing's place and reference system"
}

// apart returns the distance between two rectangles [m].
func apart(a, b orb.Bound) float64 {
	dx := max(0, b.Min[0]-a.Max[0], a.Min[0]-b.Max[0])
	dy := max(0, b.Min[1]-a.Max[1], a.Min[1]-b.Max[1])
	return math.Hypot(dx, dy)
}

// far writes a distance in metres, and beyond a kilometre in kilometres.
func far(metres float64) string {
	if metres < 1000 {
		return fmt.Sprintf("%.0f m", metres)
	}
	return fmt.Sprintf("%.1f km", metres/1000)
}
