// Package dxf writes drawings as a text DXF of release 12, the oldest and plainest form,
// which every program that reads DXF reads: layers with a colour, points, lines through
// points with heights, and texts. Coordinates are x east, y north and z up, in the unit
// of the drawing, which such a file cannot state.
package dxf

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// A Drawing is what is written.
type Drawing struct {
	Layers []Layer
	// About is written as comments at the start.
	About []string
}

// A Layer has a name of capital letters, digits, - and _, and a colour by its index.
type Layer struct {
	Name   string
	Colour int
	Points []Point
	Lines  []Line
	Texts  []Text
}

// A Point is a place.
type Point struct{ X, Y, Z float64 }

// A Line goes through its points.
type Line []Point

// A Text stands at a place, Height tall.
type Text struct {
	At     Point
	Height float64
	Text   string
}

// Write writes a drawing. It panics on a layer's name that a DXF cannot hold. What is
// not at a finite place is left out; a height that is not known is nought.
func Write(w io.Writer, d Drawing) error {
	b := pen{w: bufio.NewWriter(w)}
	for _, line := range d.About {
		b.text(999, line)
	}
	b.header(d)
	b.tables(d)
	b.text(0, "SECTION")
	b.text(2, "ENTITIES")
	for _, l := range d.Layers {
		b.layer(l)
	}
	b.text(0, "ENDSEC")
	b.text(0, "EOF")
	return b.w.Flush()
}

// A pen writes pairs of a code and a value. Errors stay with the buffer until its end.
type pen struct{ w *bufio.Writer }

func (b pen) text(code int, v string)  { fmt.Fprintf(b.w, "%3d\r\n%s\r\n", code, plain(v)) }
func (b pen) whole(code int, v int)    { b.text(code, strconv.Itoa(v)) }
func (b pen) real(code int, v float64) { b.text(code, strconv.FormatFloat(v, 'f', 4, 64)) }
func (b pen) place(code int, p Point) {
	b.real(code, p.X)
	b.real(code+10, p.Y)
	b.real(code+20, p.height())
}
func (b pen) entity(kind, layer string) { b.text(0, kind); b.text(8, layer) }

func (b pen) header(d Drawing) {
	low, high := extent(d)
	b.text(0, "SECTION")
	b.text(2, "HEADER")
	b.text(9, "$ACADVER")
	b.text(1, "AC1009")
	b.text(9, "$EXTMIN")
	b.place(10, low)
	b.text(9, "$EXTMAX")
	b.place(10, high)
	b.text(0, "ENDSEC")
}

func (b pen) tables(d Drawing) {
	b.text(0, "SECTION")
	b.text(2, "TABLES")
	b.text(0, "TABLE")
	b.text(2, "LAYER")
	b.whole(70, len(d.Layers))
	for _, l := range d.Layers {
		if !named(l.Name) {
			panic("dxf: a layer cannot be named " + l.Name)
		}
		b.text(0, "LAYER")
		b.text(2, l.Name)
		b.whole(70, 0)
		b.whole(62, l.Colour)
		b.text(6, "CONTINUOUS")
	}
	b.text(0, "ENDTAB")
	b.text(0, "ENDSEC")
}

func named(layer string) bool {
	return layer != "" && len(layer) <= 31 && strings.Trim(layer, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") == ""
}

// Polylines of release 12: the entity says that vertices follow, and that they have
// heights of their own.
const (
	follow = 1
	is3D   = 8
	vertex = 32
)

func (b pen) layer(l Layer) {
	for _, p := range l.Points {
		if p.finite() {
			b.entity("POINT", l.Name)
			b.place(10, p)
		}
	}
	for _, line := range l.Lines {
		b.line(l.Name, line)
	}
	for _, t := range l.Texts {
		if t.At.finite() {
			b.entity("TEXT", l.Name)
			b.place(10, t.At)
			b.real(40, t.Height)
			b.text(1, t.Text)
		}
	}
}

func (b pen) line(layer string, line Line) {
	var kept Line
	for _, p := range line {
		if p.finite() {
			kept = append(kept, p)
		}
	}
	if len(kept) < 2 {
		return
	}
	b.entity("POLYLINE", layer)
	b.whole(66, follow)
	b.place(10, Point{})
	b.whole(70, is3D)
	for _, p := range kept {
		b.entity("VERTEX", layer)
		b.place(10, p)
		b.whole(70, vertex)
	}
	b.entity("SEQEND", layer)
}

func (p Point) finite() bool { return !math.IsNaN(p.X-p.X) && !math.IsNaN(p.Y-p.Y) }

func (p Point) height() float64 {
	if math.IsNaN(p.Z - p.Z) {
		return 0
	}
	return p.Z
}

// extent returns the least and the greatest coordinates; noughts of nothing.
func extent(d Drawing) (low, high Point) {
	first := true
	add := func(p Point) {
		if !p.finite() {
			return
		}
		p.Z = p.height()
		if first {
			low, high, first = p, p, false
		}
		low = Point{min(low.X, p.X), min(low.Y, p.Y), min(low.Z, p.Z)}
		high = Point{max(high.X, p.X), max(high.Y, p.Y), max(high.Z, p.Z)}
	}
	for _, l := range d.Layers {
		for _, p := range l.Points {
			add(p)
		}
		for _, line := range l.Lines {
			for _, p := range line {
				add(p)
			}
		}
		for _, t := range l.Texts {
			add(t.At)
		}
	}
	return low, high
}

// longest is how long a value may be.
const longest = 255

// plain makes one line of a value in ASCII: other letters by their number in Unicode.
func plain(v string) string {
	var b strings.Builder
	for _, r := range strings.ToValidUTF8(v, "?") {
		part := string(r)
		switch {
		case r < ' ' || r == 127:
			part = " "
		case r > 0xFFFF:
			part = "?"
		case r > 126:
			part = fmt.Sprintf(`\U+%04X`, r)
		}
		if b.Len()+len(part) > longest {
			break
		}
		b.WriteString(part)
	}
	return b.String()
}
