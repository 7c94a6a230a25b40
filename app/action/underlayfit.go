package action

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo"
)

// fit lays the image by the points that are given; nil where none are.
func (a *Underlay) fit() (*geo.Fit, error) {
	if len(a.At) == 0 {
		return nil, nil
	}
	if a.CRS != "" {
		return nil, mistyped("points lay the image in the site's own system; leave out --crs")
	}
	var pairs []geo.Pair
	for _, typed := range a.At {
		pixel, ground, ok := strings.Cut(typed, "=")
		p, err := twoNumbers(pixel)
		g, err2 := twoNumbers(ground)
		if !ok || err != nil || err2 != nil {
			return nil, mistyped("--at is %q; give two numbers of pixels, = and two of metres, as in 120,340=523440.1,4811200.5", typed)
		}
		pairs = append(pairs, geo.Pair{Pixel: p, Ground: g})
	}
	by := geo.FitAffine
	if a.Fit == "similarity" {
		by = geo.FitSimilarity
	}
	fit, err := by(pairs)
	if err != nil {
		return nil, mistyped("%v", err)
	}
	return &fit, nil
}

func twoNumbers(typed string) (p orb.Point, err error) {
	first, second, _ := strings.Cut(typed, ",")
	if p[0], err = strconv.ParseFloat(strings.TrimSpace(first), 64); err != nil {
		return p, err
	}
	p[1], err = strconv.ParseFloat(strings.TrimSpace(second), 64)
	return p, err
}

// tellFit says how well points agree on where an image lies.
func tellFit(s Streams, fit geo.Fit, at []string) {
	for i, off := range fit.Off {
		worst := ""
		if i == fit.Worst && fit.Spare > 0 {
			worst = ", the worst"
		}
		s.say(fmt.Sprintf("point %d, %s: %.3f m off%s", i+1, at[i], off, worst))
	}
	if fit.Spare == 0 {
		s.say(fmt.Sprintf("%d points can always be met, so that nothing is off proves nothing; give more to see how good the place is", len(at)))
	} else {
		s.say(fmt.Sprintf("all points together: %.3f m off (RMS); a pixel is %.3f m", fit.RMS, fit.Pixel()))
	}
	if fit.Mirrored {
		s.say("the image comes to lie face down, as in a mirror; look whether two points are exchanged")
	}
}
