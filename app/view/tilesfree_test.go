package view

import (
	"runtime"
	"testing"
	"weak"
)

// Each scene of a large ground takes much memory, and a drag makes dozens a second.
func TestTilesLetGoOfTheScenesOfThePast(t *testing.T) {
	tiles := NewTiles(func() {})
	defer tiles.Stop()
	var past []weak.Pointer[Scene]
	for range 4 {
		s := *everythingScene(t)
		past = append(past, weak.Make(&s))
		tiles.Show(&s, Light())
		laid(t, tiles, Fit(s.Bound(), 300, 200).Settled(), 300, 200)
		s.Interval++ // so that the next is another
	}
	runtime.GC()
	runtime.GC()
	kept := 0
	for _, p := range past[:len(past)-1] {
		if p.Value() != nil {
			kept++
		}
	}
	if kept > 0 {
		t.Errorf("%d of %d scenes that were shown before are still held", kept, len(past)-1)
	}
}
