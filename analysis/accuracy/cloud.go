package accuracy

import (
	"math"

	"github.com/paulmach/orb"
)

// A place is one measured height: where it is, from the cloud's own corner [m], its
// height [m], and what it belongs to.
type place struct {
	x, y, z float64
	of      int32
}

// A cloud finds the places nearest to another. It is a k-d tree [Bentley1975]: each
// part of the slice is split at its middle place, along the longer side of the part.
type cloud struct {
	at []place
	// upright is set for a middle whose part is split by x.
	upright []bool
}

// leaf is the most places of a part that is not split.
const leaf = 8

func newCloud(places []place) *cloud {
	c := &cloud{at: places, upright: make([]bool, len(places))}
	c.split(0, len(places), uint64(len(places)))
	return c
}

// split sorts a part about its middle.
func (c *cloud) split(low, high int, chance uint64) {
	if high-low <= leaf {
		return
	}
	part, middle := c.at[low:high], (low+high)/2
	b := orb.Bound{Min: orb.Point{part[0].x, part[0].y}, Max: orb.Point{part[0].x, part[0].y}}
	for _, p := range part {
		b.Min[0], b.Max[0] = min(b.Min[0], p.x), max(b.Max[0], p.x)
		b.Min[1], b.Max[1] = min(b.Min[1], p.y), max(b.Max[1], p.y)
	}
	c.upright[middle] = b.Max[0]-b.Min[0] >= b.Max[1]-b.Min[1]
	halve(part, middle-low, c.upright[middle], chance)
	if high-low < 1<<16 {
		c.split(low, middle, chance+1)
		c.split(middle+1, high, chance+2)
		return
	}
	done := make(chan struct{})
	go func() {
		c.split(low, middle, chance+1)
		close(done)
	}()
	c.split(middle+1, high, chance+2)
	<-done
}

func (p place) along(upright bool) float64 {
	if upright {
		return p.x
	}
	return p.y
}

// halve moves the places so that those before the middle lie no further along than
// it and those after no less: Hoare's selection, from a pivot by chance.
func halve(part []place, middle int, upright bool, chance uint64) {
	low, high := 0, len(part)-1
	for low < high {
		chance = chance*6364136223846793005 + 1442695040888963407
		pivot := part[low+int((chance>>33)%uint64(high-low+1))].along(upright)
		i, j := low, high
		for i <= j {
			for part[i].along(upright) < pivot {
				i++
			}
			for part[j].along(upright) > pivot {
				j--
			}
			if i <= j {
				part[i], part[j] = part[j], part[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case middle <= j:
			high = j
		case middle >= i:
			low = i
		default:
			return
		}
	}
}

// A hit is a place that was found, with its distance squared [m²].
type hit struct {
	place
	square float64
}

// A hunt looks for the places nearest to one; its memory is used again.
type hunt struct {
	cloud *cloud
	x, y  float64
	// not are those that do not count.
	not  int32
	hits []hit
	most int
}

// near returns the up to most places nearest to one, nearest first, without those of
// not; they last until the next call.
func (h *hunt) near(x, y float64, not int32, most int) []hit {
	h.x, h.y, h.not, h.most, h.hits = x, y, not, most, h.hits[:0]
	h.look(0, len(h.cloud.at))
	return h.hits
}

func (h *hunt) look(low, high int) {
	if high-low <= leaf {
		for i := low; i < high; i++ {
			h.try(&h.cloud.at[i])
		}
		return
	}
	middle := (low + high) / 2
	p := &h.cloud.at[middle]
	off := h.y - p.y
	if h.cloud.upright[middle] {
		off = h.x - p.x
	}
	if off < 0 {
		h.look(low, middle)
	} else {
		h.look(middle+1, high)
	}
	h.try(p)
	if off*off >= h.bar() {
		return
	}
	if off < 0 {
		h.look(middle+1, high)
	} else {
		h.look(low, middle)
	}
}

// bar is how near a place must lie to be among the nearest.
func (h *hunt) bar() float64 {
	if len(h.hits) < h.most {
		return math.Inf(1)
	}
	return h.hits[h.most-1].square
}

func (h *hunt) try(p *place) {
	dx, dy := p.x-h.x, p.y-h.y
	square := dx*dx + dy*dy
	if square >= h.bar() || p.of == h.not {
		return
	}
	if len(h.hits) < h.most {
		h.hits = append(h.hits, hit{})
	}
	i := len(h.hits) - 1
	for ; i > 0 && h.hits[i-1].square > square; i-- {
		h.hits[i] = h.hits[i-1]
	}
	h.hits[i] = hit{*p, square}
}
