package surface

import (
	"cmp"
	"math"
	"slices"
)

// A pin is a measured height: z at (x, y) in cells from the centre of the first
// cell, held with weight w. off is its standard deviation [m], 0 for none; level is
// the place of its contour's level from 1, 0 for a spot, ofLine for another line.
type pin struct {
	x, y, z, w, off float64
	// many is how many measurements were made one in it.
	many  float64
	level int32
}

const ofLine = -1

// ties are what pins add to the matrix: the squares of bilinear rows, summed
// for each of the cells that they touch. Row y's cells are col[start[y]:start[y+1]].
type ties struct {
	start []int32
	col   []int32
	coef  [][9]float64
}

// tie returns the pins' part of the matrix, and adds their right side to b.
func tie(pins []pin, w, h int, b []float64) ties {
	number := make([]int32, w*h)
	for _, p := range pins {
		x, y, _, _ := p.dual(w, h)
		at := y*w + x
		number[at], number[at+1], number[at+w], number[at+w+1] = 1, 1, 1, 1
	}
	t := ties{start: make([]int32, h+1)}
	for y := range h {
		for x := range w {
			if number[y*w+x] != 0 {
				number[y*w+x] = int32(len(t.col))
				t.col = append(t.col, int32(x))
			}
		}
		t.start[y+1] = int32(len(t.col))
	}
	t.coef = make([][9]float64, len(t.col))
	for _, p := range pins {
		t.pin(p, w, number, b)
	}
	return t
}

// dual returns the first of the four cells that a pin is held by, and its place
// between them. Beyond the outermost centres the bilinear row goes on straight.
func (p pin) dual(w, h int) (x, y int, tx, ty float64) {
	x = min(max(int(math.Floor(p.x)), 0), w-2)
	y = min(max(int(math.Floor(p.y)), 0), h-2)
	return x, y, p.x - float64(x), p.y - float64(y)
}

func (p pin) row(w, h int) (at int, row [4]float64) {
	x, y, tx, ty := p.dual(w, h)
	return y*w + x, [4]float64{(1 - tx) * (1 - ty), tx * (1 - ty), (1 - tx) * ty, tx * ty}
}

// in returns the height that u has at the pin.
func (p pin) in(u []float64, w, h int) float64 {
	at, r := p.row(w, h)
	return r[0]*u[at] + r[1]*u[at+1] + r[2]*u[at+w] + r[3]*u[at+w+1]
}

func (t *ties) pin(p pin, w int, number []int32, b []float64) {
	first, row := p.row(w, len(number)/w)
	for i, cell := range [4]int{first, first + 1, first + w, first + w + 1} {
		c := &t.coef[number[cell]]
		for j := range 4 {
			// From cell i to cell j, as a place in the three by three round i.
			to := (j/2-i/2+1)*3 + j%2 - i%2 + 1
			c[to] += p.w * row[i] * row[j]
		}
		b[cell] += p.w * row[i] * p.z
	}
}

// at returns what tie i, of cell at, makes of u. The first and last rows have no
// coefficients beyond the grid.
func (t *ties) at(u []float64, w, at, i int) float64 {
	c := &t.coef[i]
	v := c[4] * u[at]
	if at > w && at+w+1 < len(u) {
		n, m, s := u[at-w-1:at-w+2:at-w+2], u[at-1:at+2:at+2], u[at+w-1:at+w+2:at+w+2]
		return v + c[0]*n[0] + c[1]*n[1] + c[2]*n[2] + c[3]*m[0] + c[5]*m[2] + c[6]*s[0] + c[7]*s[1] + c[8]*s[2]
	}
	for k, by := range [9]int{-w - 1, -w, -w + 1, -1, 0, 1, w - 1, w, w + 1} {
		if k != 4 && c[k] != 0 {
			v += c[k] * u[at+by]
		}
	}
	return v
}

// add adds to out what the ties of row y make of u.
func (t *ties) add(u []float64, w, y int, out []float64) {
	for i := t.start[y]; i < t.start[y+1]; i++ {
		x := int(t.col[i])
		out[x] += t.at(u, w, y*w+x, int(i))
	}
}

// merged returns pins with those in the same part of a cell made one, parts to
// a cell each way, by rows. Parts lie round the links between centres, where the
// contours of a raster have their points.
func merged(pins []pin, parts float64) []pin {
	out := make([]pin, 0, len(pins)/2)
	for _, row := range byRow(pins, parts) {
		slices.SortFunc(row, func(a, b keyed) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.i, b.i)) })
		for i := 0; i < len(row); {
			j := i + 1
			for j < len(row) && row[j].x == row[i].x {
				j++
			}
			out = append(out, mean(pins, row[i:j]))
			i = j
		}
	}
	return out
}

// A keyed is the part of a row that pin i is in.
type keyed struct{ x, i int32 }

// byRow sorts the places of pins into the rows of parts.
func byRow(pins []pin, parts float64) [][]keyed {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range pins {
		low, high = min(low, p.y), max(high, p.y)
	}
	part := func(v float64) int { return int(math.Floor(v*parts + 0.5)) }
	if len(pins) == 0 {
		return nil
	}
	count := make([]int, part(high)-part(low)+1)
	for _, p := range pins {
		count[part(p.y)-part(low)]++
	}
	rows, room := make([][]keyed, len(count)), make([]keyed, len(pins))
	for y, n := range count {
		rows[y], room = room[:0:n], room[n:]
	}
	for i, p := range pins {
		y := part(p.y) - part(low)
		rows[y] = append(rows[y], keyed{int32(part(p.x)), int32(i)})
	}
	return rows
}

// mean returns one pin for those of row.
func mean(pins []pin, row []keyed) pin {
	m := pin{level: pins[row[0].i].level}
	for _, k := range row {
		p := pins[k.i]
		m.x, m.y, m.z, m.w = m.x+p.w*p.x, m.y+p.w*p.y, m.z+p.w*p.z, m.w+p.w
		m.off += p.w * p.off * p.off
		m.many += max(p.many, 1)
		m.level = min(m.level, p.level)
	}
	m.x, m.y, m.z, m.off = m.x/m.w, m.y/m.w, m.z/m.w, math.Sqrt(m.off/m.w)
	return m
}
