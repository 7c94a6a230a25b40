package ui

import (
	"bytes"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/paulmach/orb"

	"runnel/app/tool"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A bench is a window under test. What workers send to the interface's
// goroutine waits in a queue until the test lets it run.
type bench struct {
	*Window
	t     *testing.T
	mu    sync.Mutex
	queue []func()
	trace bytes.Buffer
}

// newBench opens a window on the start screen, 1280 by 800.
func newBench(t *testing.T) *bench {
	t.Helper()
	a := test.NewTempApp(t)
	b := &bench{t: t}
	b.Window = NewWindow(a, Options{DemoSite: valley, Folder: t.TempDir(), Trace: &b.trace})
	b.post = func(f func()) {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.queue = append(b.queue, f)
	}
	b.soon = func(f func()) { f() }
	b.win.Resize(fyne.NewSize(1280, 800))
	b.win.Show()
	t.Cleanup(func() {
		setLanguage("en") // whatever the window was made to speak
		if b.keeper != nil {
			b.keeper.Close()
		}
		b.win.Close()
		// The toolkit's store holds on to the window for a minute, and so to its pictures.
		b.pane.tiles.Clear()
	})
	return b
}

// pump runs what has come in, and reports whether there was anything.
func (b *bench) pump() bool {
	b.mu.Lock()
	queue := b.queue
	b.queue = nil
	b.mu.Unlock()
	for _, f := range queue {
		f()
	}
	return len(queue) > 0
}

// until lets the workers' results in until done, or fails.
func (b *bench) until(what string, done func() bool) {
	b.t.Helper()
	for range 2000 {
		b.pump()
		if done() {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	b.t.Fatalf("%s did not come about; the trace:\n%s", what, b.trace.String())
}

// open shows the valley and waits for its figures and its map.
func (b *bench) open() {
	b.t.Helper()
	b.openDemo()
	b.settle()
}

// settle waits for the figures and the map of the site as it is now.
func (b *bench) settle() {
	b.t.Helper()
	b.until("the map", func() bool {
		return b.scene != nil && b.scene.Site == b.doc.Site() && b.scene.Drainage != nil && !b.scene.Lacks(b.show)
	})
	b.win.Canvas().Capture()
}

// rained reports whether the storm on the ground as it is now is known.
func (b *bench) rained() bool { return b.scene != nil && b.waters.storm.of == b.scene.Drainage }

// valley is a site that falls 2 m from north to south over 80 m, with a drain
// down the middle and one empty scheme.
func valley() plan.Site {
	ground := grid.New[float32](grid.Square(120, 160, 500_000, 4_800_080, 0.5))
	for y := range ground.H {
		for x := range ground.W {
			p := ground.Centre(x, y)
			ground.Set(x, y, float32(100+(p[1]-4_800_000)/40+math.Abs(p[0]-500_030)/60))
		}
	}
	s := plan.Site{Name: "Valley", Ground: ground, Setting: plan.UsualSetting()}
	s.CRS.Code, s.CRS.Metre, s.CRS.Name = 32632, 1, "WGS 84 / UTM zone 32N"
	s.Plan.Features = []plan.Feature{{
		ID: plan.ID(s.Plan.NextID()), Kind: plan.Drain, Name: "Old drain",
		Geometry: orb.LineString{{500_030, 4_800_078}, {500_030, 4_800_002}},
	}}
	s.Plan.Schemes = []plan.Scheme{{ID: plan.SchemeID(s.Plan.NextID()), Name: "Meander"}}
	return s
}

// at returns where a place of the site is seen in the map.
func (b *bench) at(east, north float64) fyne.Position {
	x, y := b.pane.camera.ToScreen(orb.Point{500_000 + east, 4_800_000 + north})
	return fyne.NewPos(float32(x/b.pane.scale), float32(y/b.pane.scale))
}

func (b *bench) press(at fyne.Position) {
	b.pane.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary}
	b.pane.MouseDown(e)
	b.pane.MouseUp(e)
}

// drag presses at one place and lets go at another, as the toolkit reports it.
func (b *bench) drag(from, to fyne.Position) {
	b.pane.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary})
	last := from
	for i := 1; i <= 8; i++ {
		share := float32(i) / 8
		now := fyne.NewPos(from.X+(to.X-from.X)*share, from.Y+(to.Y-from.Y)*share)
		b.pane.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: now}, Dragged: fyne.NewDelta(now.X-last.X, now.Y-last.Y)})
		last = now
	}
	b.pane.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: to}, Button: desktop.MouseButtonPrimary})
	b.pane.DragEnd()
}

func (b *bench) key(name fyne.KeyName) { b.pane.TypedKey(&fyne.KeyEvent{Name: name}) }

// drawChannel draws a channel of three points and straight sides in the step Shape.
func (b *bench) drawChannel() plan.Feature {
	b.t.Helper()
	b.goTo(2)
	b.choose(drawer(plan.Channel))
	b.board.SetManner(plan.Channel, tool.Straight)
	b.press(b.at(30, 70))
	b.press(b.at(45, 45))
	b.press(b.at(30, 20))
	b.key(fyne.KeyReturn)
	f, ok := b.selected()
	if !ok || f.Kind != plan.Channel {
		b.t.Fatalf("no channel is drawn; selected is %v; the trace:\n%s", f, b.trace.String())
	}
	return f
}

// texts gathers every word that is shown in an object.
func texts(o fyne.CanvasObject) string {
	if o == nil || !o.Visible() {
		return ""
	}
	var parts []fyne.CanvasObject
	switch o := o.(type) {
	case *canvas.Text:
		return o.Text + "\n"
	case *fyne.Container:
		parts = o.Objects
	case fyne.Widget:
		parts = test.WidgetRenderer(o).Objects()
	}
	var b strings.Builder
	for _, part := range parts {
		b.WriteString(texts(part))
	}
	return b.String()
}

// dialogText returns what the uppermost dialog says.
func (b *bench) dialogText() string {
	overlay := b.win.Canvas().Overlays().Top()
	if overlay == nil {
		return ""
	}
	return texts(overlay)
}

// answer presses the button of the uppermost dialog that says words.
func (b *bench) answer(words string) {
	b.t.Helper()
	for _, o := range test.LaidOutObjects(b.win.Canvas().Overlays().Top()) {
		if button, ok := o.(*button); ok && button.Text == words {
			test.Tap(button)
			return
		}
	}
	b.t.Fatalf("the dialog has no button %q:\n%s", words, b.dialogText())
}
