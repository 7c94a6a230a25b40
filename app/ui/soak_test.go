package ui

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"runnel/app/site"
	"runnel/assets/demo"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

const (
	// soakEvents is how many events a soak has, unless RUNNEL_SOAK says; soakSeed is
	// what they follow from, unless RUNNEL_SEED does.
	soakEvents = 2000
	soakSeed   = 1
	// soakGrowth is how much larger the heap may be at the end than after the first
	// quarter. By then every page has been shown once. What grows on is the history,
	// some kilobytes an edit, and the toolkit's store of what widgets look like, which
	// keeps each for a minute: as long as all of a soak. With FYNE_CACHE=2s in the
	// environment it keeps them for two seconds, and the heap stays as it is.
	soakGrowth = 2.5
	// soakRoutines is how many goroutines more there may be: workers that a busy
	// machine has not let end yet.
	soakRoutines = 8
)

// A soak is a window that is used at random, with no sense and no rest.
type soak struct {
	*bench
	*rand.Rand
	// lately are the last events, for those who look for what went wrong.
	lately []string
}

// number is what a variable of the environment says, else the usual.
func number(name string, usual int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil {
		return n
	}
	return usual
}

func newSoak(t *testing.T, seed int) *soak {
	s := &soak{bench: newBench(t), Rand: rand.New(rand.NewPCG(uint64(seed), 0))}
	t.Cleanup(func() { setLanguage("en") })
	s.put(site.New(demo.Site(), filepath.Join(t.TempDir(), "soak.gpkg")))
	s.settle()
	return s
}

func TestASoakLeavesTheWindowSound(t *testing.T) {
	events, seed := number("RUNNEL_SOAK", soakEvents), number("RUNNEL_SEED", soakSeed)
	t.Logf("%d events of seed %d", events, seed)
	s := newSoak(t, seed)
	began := *s.doc.Site()
	var marks []mark
	for i := range events {
		s.event(i)
		if (i+1)%(events/4) == 0 {
			marks = append(marks, s.rest(t, i+1))
		}
	}
	s.checkGrowth(t, marks)
	s.checkFile(t)
	s.checkHistory(t, &began)
}

// event has one thing happen, and lets in what has come of those before.
func (s *soak) event(i int) {
	name := ""
	defer func() {
		if fault := recover(); fault != nil {
			stack := make([]byte, 1<<16)
			s.t.Fatalf("event %d, %s: %v\nbefore it: %s\n%s", i, name, fault, strings.Join(s.lately, ", "), stack[:runtime.Stack(stack, false)])
		}
	}()
	e := s.pick()
	name = e.name
	s.lately = append(s.lately[max(0, len(s.lately)-12):], name)
	e.do(s)
	s.pump()
	if i%50 == 0 {
		s.win.Canvas().Capture()
	}
	if strings.Contains(s.trace.String(), "mistake in the program") {
		s.t.Fatalf("event %d, %s, runs into a mistake; before it: %s\n%s", i, name, strings.Join(s.lately, ", "), s.trace.String())
	}
	if s.trace.Len() > 1<<20 {
		s.trace.Reset()
	}
}

// A mark is what the program takes at a moment of rest.
type mark struct {
	heap     uint64 // [bytes]
	routines int
}

// rest lets all work end, clears up and takes the mark.
func (s *soak) rest(t *testing.T, events int) mark {
	for s.covered() {
		s.win.Canvas().Overlays().Top().Hide()
	}
	s.pane.tool.Cancel()
	s.quiet()
	s.trace.Reset()
	s.pane.tiles.Clear() // a store with a limit of its own, which fills up
	var m runtime.MemStats
	for range 3 { // what has a finalizer goes in the second round
		runtime.GC()
	}
	runtime.ReadMemStats(&m)
	now := mark{m.HeapAlloc, runtime.NumGoroutine()}
	t.Logf("after %5d events: %.1f MB in use, %d goroutines, %d things in %d schemes", events, float64(now.heap)/1e6, now.routines,
		len(s.doc.Site().Plan.Features), len(s.doc.Site().Plan.Schemes))
	s.reshow()
	return now
}

// quiet waits until nothing has come in for a while: no worker has anything to do.
func (s *soak) quiet() {
	for since := time.Now(); time.Since(since) < 400*time.Millisecond; time.Sleep(5 * time.Millisecond) {
		if s.pump() {
			since = time.Now()
		}
	}
	s.win.Canvas().Capture()
	s.pump()
}

func (s *soak) checkGrowth(t *testing.T, marks []mark) {
	first, last := marks[0], marks[len(marks)-1]
	if float64(last.heap) > soakGrowth*float64(first.heap) {
		t.Errorf("the heap has grown from %.1f to %.1f MB, more than %.1f times", float64(first.heap)/1e6, float64(last.heap)/1e6, soakGrowth)
	}
	if last.routines > first.routines+soakRoutines {
		stacks := make([]byte, 1<<18)
		t.Errorf("goroutines have grown from %d to %d:\n%s", first.routines, last.routines, stacks[:runtime.Stack(stacks, true)])
	}
}

// checkFile holds the document to itself, saved and opened again.
func (s *soak) checkFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "after.gpkg")
	if err := gdal.SaveSite(path, s.doc.Site()); err != nil {
		t.Fatal(err)
	}
	got, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	sameSite(t, "saved and opened again", got, s.doc.Site())
}

// checkHistory undoes all, which leads back to where the soak began, and does it
// all again.
func (s *soak) checkHistory(t *testing.T, began *plan.Site) {
	ended, steps := *s.doc.Site(), 0
	for ; ; steps++ {
		if _, ok := s.doc.UndoText(); !ok {
			break
		}
		s.doc.Undo()
	}
	t.Logf("%d edits undone and done again", steps)
	sameSite(t, "with all undone", s.doc.Site(), began)
	for range steps {
		s.doc.Redo()
	}
	sameSite(t, "with all done again", s.doc.Site(), &ended)
}

// sameSite fails where two sites hold different things. The count of numbers given
// is not taken back by an undo.
func sameSite(t *testing.T, when string, got, want *plan.Site) {
	t.Helper()
	if got.Ground.Frame != want.Ground.Frame || !sameHeights(got.Ground.V, want.Ground.V) {
		t.Errorf("%s the ground is another", when)
	}
	for i, f := range want.Plan.Features {
		if i >= len(got.Plan.Features) {
			t.Errorf("%s %s is gone", when, f.Title())
		} else if g := got.Plan.Features[i]; !reflect.DeepEqual(g, f) {
			t.Errorf("%s there is\n%+v\nand not\n%+v", when, g, f)
		}
	}
	if !got.Weather.Same(want.Weather) {
		t.Errorf("%s the daily record is another", when)
	}
	a, b := content(*got), content(*want)
	if a != b && !t.Failed() {
		t.Errorf("%s the site is\n%+v\nand not\n%+v", when, a, b)
	}
}

func sameHeights(a, b []float32) bool {
	for i := range a {
		if i >= len(b) || math.Float32bits(a[i]) != math.Float32bits(b[i]) {
			return false
		}
	}
	return len(a) == len(b)
}

// content is a site without its ground and weather, the count of numbers given and
// whether an empty list has memory.
func content(s plan.Site) string {
	s.Ground, s.Weather, s.Plan.Last = grid.Ground{}, weather.Record{}, 0
	return fmt.Sprintf("%+v", s)
}
