package geo

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// An Affine brings places in an image, in pixels to the right of and below its upper
// left corner, to the ground: east is A[0] + A[1]·right + A[2]·below and north
// A[3] + A[4]·right + A[5]·below [m].
type Affine [6]float64

// To returns the place on the ground of a place in the image.
func (a Affine) To(p orb.Point) orb.Point {
	return orb.Point{a[0] + a[1]*p[0] + a[2]*p[1], a[3] + a[4]*p[0] + a[5]*p[1]}
}

// turn is the determinant: how much ground a pixel covers [m²], below 0 where the
// image lies face up, as below is against north.
func (a Affine) turn() float64 { return a[1]*a[5] - a[2]*a[4] }

// Sound reports whether every place on the ground is one in the image.
func (a Affine) Sound() bool {
	for _, v := range a {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	sides := math.Hypot(a[1], a[4]) * math.Hypot(a[2], a[5])
	return math.Abs(a.turn()) > 1e-9*sides
}

// A Pair is one place in an image and on the ground.
type Pair struct{ Pixel, Ground orb.Point }

// A Fit is how an image lies by some pairs.
type Fit struct {
	Affine
	// Off is how far from its place on the ground each pair's pixel comes to lie [m].
	Off []float64
	// RMS is the root of the mean of their squares [m], and Worst the place of the
	// largest in the list.
	RMS   float64
	Worst int
	// Spare counts the pairs beyond those that any fit meets: with none the figures
	// above are nought and prove nothing.
	Spare int
	// Mirrored is set where the image comes to lie face down.
	Mirrored bool
}

// Pixel returns the side of a square that covers as much ground as a pixel [m].
func (f Fit) Pixel() float64 { return math.Sqrt(math.Abs(f.turn())) }

// FitAffine lays an image by three pairs or more: turned, scaled and skewed so that
// the sum of the squares of what is off is least.
func FitAffine(pairs []Pair) (Fit, error) {
	c, err := centred(pairs, 3)
	if err != nil {
		return Fit{}, err
	}
	det := c.xx*c.yy - c.xy*c.xy
	place := Affine{
		1: (c.xe*c.yy - c.ye*c.xy) / det, 2: (c.ye*c.xx - c.xe*c.xy) / det,
		4: (c.xn*c.yy - c.yn*c.xy) / det, 5: (c.yn*c.xx - c.xn*c.xy) / det,
	}
	f := c.fit(place, pairs)
	f.Spare, f.Mirrored = len(pairs)-3, place.turn() > 0
	return f, nil
}

// FitSimilarity lays an image by two pairs or more: turned and scaled alike on both
// axes, as a scan from a good machine needs no more (Helmert's transformation, of four
// figures).
func FitSimilarity(pairs []Pair) (Fit, error) {
	c, err := centred(pairs, 2)
	if err != nil {
		return Fit{}, err
	}
	// Below is against north, so that the image turns with its own north, -y.
	all := c.xx + c.yy
	a, b := (c.xe-c.yn)/all, (c.xn+c.ye)/all
	if !(math.Hypot(a, b) > 0) {
		return Fit{}, errMirror
	}
	f := c.fit(Affine{1: a, 2: b, 4: b, 5: -a}, pairs)
	f.Spare = len(pairs) - 2
	// Face down, its north is y; that is so where it lies better thus.
	p, q := (c.xe+c.yn)/all, (c.xn-c.ye)/all
	f.Mirrored = len(pairs) > 2 && math.Hypot(p, q) > math.Hypot(a, b)
	return f, nil
}

var errMirror = fmt.Errorf("the points of the image do not lie to each other as those of the ground do; look at which belongs to which")

// sums are over pairs of the products of what is right x, below y, east e and north n
// of their middle.
type sums struct {
	pixel, ground                  orb.Point // the middles
	xx, xy, yy, xe, ye, xn, yn, ee float64
	en, nn                         float64
}

// slimmest is how far points must lie off one line at least, as a share of how far they
// lie along it: by less, what a hand is off by at a point turns the image about the line.
const slimmest = 0.01

// centred works out the sums of at least so many pairs: two need not lie on one spot,
// three not on one line.
func centred(pairs []Pair, least int) (sums, error) {
	var c sums
	if len(pairs) < least {
		return c, fmt.Errorf("%d points are known both on the image and on the ground; pick at least %d", len(pairs), least)
	}
	n := float64(len(pairs))
	for _, p := range pairs {
		for i := range 2 {
			c.pixel[i] += p.Pixel[i] / n
			c.ground[i] += p.Ground[i] / n
		}
	}
	for _, p := range pairs {
		x, y := p.Pixel[0]-c.pixel[0], p.Pixel[1]-c.pixel[1]
		e, n := p.Ground[0]-c.ground[0], p.Ground[1]-c.ground[1]
		c.xx, c.xy, c.yy = c.xx+x*x, c.xy+x*y, c.yy+y*y
		c.xe, c.ye, c.xn, c.yn = c.xe+x*e, c.ye+y*e, c.xn+x*n, c.yn+y*n
		c.ee, c.en, c.nn = c.ee+e*e, c.en+e*n, c.nn+n*n
	}
	if !(c.xx+c.yy+c.ee+c.nn < math.Inf(1)) {
		return c, fmt.Errorf("a coordinate of a point is not a number that can be reckoned with; give it again")
	}
	return c, c.check(least)
}

// check refuses points that say too little of how the image lies.
func (c sums) check(least int) error {
	along, off := spreads(c.xx, c.xy, c.yy)
	switch {
	case !(along > 0):
		return fmt.Errorf("the points lie all on one spot of the image; pick points that are far apart")
	case least > 2 && off < slimmest*along:
		return fmt.Errorf("the points lie on one line of the image, so how it lies beside that line is not known; pick one off the line")
	}
	along, off = spreads(c.ee, c.en, c.nn)
	switch {
	case !(along > 0):
		return fmt.Errorf("the points lie all on one spot of the ground; pick points that are far apart")
	case least > 2 && off < slimmest*along:
		return fmt.Errorf("the points lie on one line of the ground, so how the image lies beside that line is not known; pick one off the line")
	}
	return nil
}

// spreads returns how far points lie along the line that fits them best and off it,
// from their sums of squares.
func spreads(xx, xy, yy float64) (along, off float64) {
	half, turn := (xx+yy)/2, math.Hypot((xx-yy)/2, xy)
	along = half + turn
	if along > 0 {
		off = max(0, xx*yy-xy*xy) / along
	}
	return math.Sqrt(along), math.Sqrt(off)
}

// fit moves the middle to the middle, and measures what is off.
func (c sums) fit(place Affine, pairs []Pair) Fit {
	place[0], place[3] = 0, 0
	at := place.To(c.pixel)
	place[0], place[3] = c.ground[0]-at[0], c.ground[1]-at[1]
	f := Fit{Affine: place, Off: make([]float64, len(pairs))}
	var square float64
	for i, p := range pairs {
		// About the middle, as eastings have too many digits before the point.
		x, y := p.Pixel[0]-c.pixel[0], p.Pixel[1]-c.pixel[1]
		e := place[1]*x + place[2]*y - (p.Ground[0] - c.ground[0])
		n := place[4]*x + place[5]*y - (p.Ground[1] - c.ground[1])
		f.Off[i] = math.Hypot(e, n)
		square += f.Off[i] * f.Off[i]
		if f.Off[i] > f.Off[f.Worst] {
			f.Worst = i
		}
	}
	f.RMS = math.Sqrt(square / float64(len(pairs)))
	return f
}
