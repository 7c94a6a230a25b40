//go:build unix

package ui

import (
	"fmt"
	"math"
	"slices"
	"syscall"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/paulmach/orb"

	"runnel/analysis/synthetic"
	"runnel/app/site"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

// BenchmarkUpdatesWhileDragging drags things in a whole window in the step Shape,
// 60 moves a second, and tells how many updates a second reach it, each of figures
// and map, and how long one takes from the edit until both are those of the site as
// it was then. Frames are composed 60 times a second, as on a screen.
//
// The time of the processors that an update takes tells on a busy machine too: two
// of them give 30 updates a second where it is below 67 ms.
//
// It is paced by the clock, so one run of it is one of b.N: use -benchtime 1x.
func BenchmarkUpdatesWhileDragging(b *testing.B) {
	large := demo.Site()
	large.Ground = synthetic.Site(1000, 1000, 1)
	large.Plan.Features = []plan.Feature{{
		ID: 1, Kind: plan.Channel, Scheme: large.Plan.Schemes[0].ID,
		Geometry: orb.LineString{{500, 300}, {640, 230}, {700, 200}, {800, 100}},
	}}
	for _, of := range []struct {
		name  string
		site  plan.Site
		begin func(*dragBench) (move, end func(phase float64))
	}{
		{"a vertex on the demo site", demo.Site(), (*dragBench).vertex},
		{"the water level on the demo site", demo.Site(), (*dragBench).waterLevel},
		{"a vertex on 1 Mcell", large, (*dragBench).vertex},
	} {
		b.Run(of.name, func(b *testing.B) {
			for b.Loop() {
				newDragBench(b, of.site).drag(b, of.begin)
			}
			b.ReportMetric(0, "ns/op")
		})
	}
}

const (
	dragFor   = 4 * time.Second
	dragEvery = time.Second / 60
)

// A dragBench is a window whose interface's goroutine is the benchmark's.
type dragBench struct {
	*Window
	queue chan func()
	// edited is when each site came to be, in order; figured and mapped are how many
	// of them the figures and the map have caught up with.
	edited          map[*plan.Site]int
	at              []time.Time
	figured, mapped int
	took            []float64 // [ms]
	handled         []float64 // what a move keeps the interface's goroutine for [ms]
}

func newDragBench(b *testing.B, s plan.Site) *dragBench {
	d := &dragBench{queue: make(chan func(), 1<<16), edited: map[*plan.Site]int{}}
	d.Window = NewWindow(test.NewTempApp(b), Options{DemoSite: func() plan.Site { return s }, Folder: b.TempDir()})
	d.post = func(f func()) { d.queue <- f }
	d.win.Resize(fyne.NewSize(1440, 900))
	d.win.Show()
	b.Cleanup(func() {
		d.keeper.Close()
		d.win.Close()
	})
	d.openDemo()
	d.goTo(2)
	d.win.Canvas().Capture()
	for d.scene == nil || d.scene.Site != d.doc.Site() || d.scene.Drainage == nil {
		(<-d.queue)()
	}
	return d
}

// drag moves what begin took hold of to and fro, once a second.
func (d *dragBench) drag(b *testing.B, begin func(*dragBench) (move, end func(phase float64))) {
	move, end := begin(d)
	start, busy := time.Now(), processors()
	for next := start; next.Sub(start) < dragFor; next = lastOf(next.Add(dragEvery), time.Now()) {
		d.serve(next)
		before := time.Now()
		move(next.Sub(start).Seconds())
		d.noteEdit(before)
		d.pane.compose(d.pane.width, d.pane.height)
		d.handled = append(d.handled, time.Since(before).Seconds()*1000)
	}
	busy = processors() - busy
	end(0)
	if len(d.took) == 0 {
		b.Fatal("nothing followed the drag")
	}
	slices.Sort(d.took)
	slices.Sort(d.handled)
	b.ReportMetric(float64(len(d.took))/dragFor.Seconds(), "updates/s")
	b.ReportMetric(busy/float64(len(d.took)), "cpu-ms/update")
	b.ReportMetric(mean(d.took), "mean-ms")
	b.ReportMetric(d.took[len(d.took)*19/20], "p95-ms")
	b.ReportMetric(mean(d.handled), "move-mean-ms")
	b.ReportMetric(d.handled[len(d.handled)*19/20], "move-p95-ms")
}

// processors is the time that the process has had of all processors [ms].
func processors() float64 {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		return math.NaN()
	}
	return float64(used.Utime.Nano()+used.Stime.Nano()) / 1e6
}

func lastOf(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func mean(of []float64) (sum float64) {
	for _, v := range of {
		sum += v / float64(len(of))
	}
	return sum
}

// serve runs what workers send in, until a moment, and all that is there by then.
func (d *dragBench) serve(until time.Time) {
	late := time.After(time.Until(until))
	for waiting := true; ; {
		select {
		case f := <-d.queue:
			f()
			d.noteUpdate()
			continue
		default:
		}
		if !waiting {
			return
		}
		select {
		case f := <-d.queue:
			f()
			d.noteUpdate()
		case <-late:
			waiting = false
		}
	}
}

func (d *dragBench) noteEdit(at time.Time) {
	s := d.doc.Site()
	if _, known := d.edited[s]; !known {
		d.at = append(d.at, at)
		d.edited[s] = len(d.at)
	}
}

// noteUpdate notes when figures and map are both newer than before.
func (d *dragBench) noteUpdate() {
	was := min(d.figured, d.mapped)
	d.figured, d.mapped = d.edited[d.figures.site], d.edited[d.scene.Site]
	if now := min(d.figured, d.mapped); now > was {
		d.took = append(d.took, time.Since(d.at[now-1]).Seconds()*1000)
	}
}

// channel is the channel of the scheme that is shown.
func (d *dragBench) channel() plan.Feature {
	return d.doc.Site().Plan.Of(plan.Channel, d.board.Scheme)[0]
}

// vertex takes hold of the middle vertex of the channel with the pointer.
func (d *dragBench) vertex() (move, end func(phase float64)) {
	f := d.channel()
	d.board.Select(f.ID)
	line := f.Line()
	x, y := d.pane.camera.ToScreen(line[len(line)/2])
	from := fyne.NewPos(float32(x/d.pane.scale), float32(y/d.pane.scale))
	d.pane.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}})
	d.pane.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary})
	last := from
	move = func(phase float64) {
		sin, cos := math.Sincos(2 * math.Pi * phase)
		now := from.AddXY(float32(30*sin), float32(20-20*cos))
		d.pane.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: now}, Dragged: fyne.NewDelta(now.X-last.X, now.Y-last.Y)})
		last = now
	}
	return move, func(float64) { d.pane.DragEnd() }
}

// waterLevel moves the channel's water by the edits that the long section makes.
func (d *dragBench) waterLevel() (move, end func(phase float64)) {
	f, gesture := d.channel(), d.doc.Gesture()
	d.board.Select(f.ID)
	level := f.Num("water_level")
	move = func(phase float64) {
		to := level - 0.05 + 0.05*math.Cos(2*math.Pi*phase)
		err := d.doc.Do(&site.Replace{After: f.With("water_level", plan.Value{Number: to}), What: "move water level", Gesture: gesture})
		if err != nil {
			panic(fmt.Sprint("the water level cannot be dragged: ", err))
		}
	}
	return move, func(float64) {}
}
