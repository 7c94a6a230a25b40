package tool

import (
	"testing"

	"github.com/paulmach/orb"
)

func TestMeasure(t *testing.T) {
	tests := []struct {
		name         string
		do           func(*bench)
		length, area float64
		closed       bool
	}{
		{"along two clicks and to the pointer", func(b *bench) {
			b.clicks(orb.Point{-30, 0}, orb.Point{-30, 4})
			b.tool.Move(free(-27, 4))
		}, 7, 0, false},
		{"a double click ends it", func(b *bench) {
			b.clicks(orb.Point{-30, 0}, orb.Point{-30, 4})
			b.click(Pointer{At: orb.Point{-30, 4}, Reach: reach, Double: true})
			b.tool.Move(free(90, 90))
		}, 4, 0, false},
		{"Enter ends it", func(b *bench) {
			b.clicks(orb.Point{-30, 0}, orb.Point{-30, 4})
			b.tool.Key(Enter)
			b.tool.Move(free(90, 90))
		}, 4, 0, false},
		{"round the sides of a 3-4-5 triangle", func(b *bench) {
			b.clicks(orb.Point{-30, 0}, orb.Point{-30, 4}, orb.Point{-27, 4}, orb.Point{-30, 0.1})
			b.tool.Move(free(90, 90))
		}, 12, 6, true},
		{"a click after the end begins anew", func(b *bench) {
			b.clicks(orb.Point{-30, 0}, orb.Point{-30, 4})
			b.tool.Key(Enter)
			b.clicks(orb.Point{-60, 0}, orb.Point{-60, 9})
		}, 9, 0, false},
		{"Backspace takes a point back and goes on", func(b *bench) {
			b.clicks(orb.Point{-30, 0}, orb.Point{-30, 4}, orb.Point{-27, 4}, orb.Point{-30, 0})
			b.tool.Key(Backspace)
			b.tool.Move(free(-30, 10))
		}, 10, 0, false},
		{"from corner to corner of a roof, by snapping", func(b *bench) {
			b.clicks(orb.Point{0.3, 0.2}, orb.Point{19.8, 0.3})
		}, 20, 0, false},
		{"Escape drops it", func(b *bench) {
			b.clicks(orb.Point{-30, 0}, orb.Point{-30, 4})
			b.tool.Key(Escape)
		}, 0, 0, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			b := newBench(roof(1))
			b.tool = NewMeasure(b.doc, b.board)
			test.do(b)
			s := b.tool.Sketch()
			if s.Length != test.length || s.Area != test.area || s.Closed != test.closed || s.Hint == "" {
				t.Errorf("%g m, %g m², closed %v, hint %q; want %g, %g, %v", s.Length, s.Area, s.Closed, s.Hint, test.length, test.area, test.closed)
			}
			b.undone(t, 0, roof(1))
		})
	}
}
