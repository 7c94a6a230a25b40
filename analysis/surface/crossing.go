package surface

import "math"

// crossings calls f for every link between two neighbouring centres that the
// segment from a to b crosses: cell at and the one east of it, or south where down
// is set, and how far along the link.
func crossings(a, b spot, w, h int, f func(at int, down bool, t float64)) {
	ruled(a, b, 1, h, func(y int, x float64) {
		if i := int(math.Floor(x)); x >= 0 && i < w-1 {
			f(y*w+i, false, x-float64(i))
		}
	})
	ruled(a, b, 0, w, func(x int, y float64) {
		if i := int(math.Floor(y)); y >= 0 && i < h-1 {
			f(i*w+x, true, y-float64(i))
		}
	})
}

// ruled calls f for every whole value, in [0, n), of one coordinate that the
// segment reaches, with the other's value there. A segment reaches its lower end
// and not its upper, so that a line through a row's centres crosses it once.
func ruled(a, b spot, axis, n int, f func(i int, other float64)) {
	if a[axis] > b[axis] {
		a, b = b, a
	}
	lo, hi := a[axis], b[axis]
	for i := int(math.Ceil(min(max(lo, 0), float64(n)))); i < n && float64(i) < hi; i++ {
		t := (float64(i) - lo) / (hi - lo)
		f(i, a[1-axis]+t*(b[1-axis]-a[1-axis]))
	}
}
