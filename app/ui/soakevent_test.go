package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"
)

// A soakEvent is something that a person may do; it comes about as often as its
// weight is large.
type soakEvent struct {
	weight int
	name   string
	do     func(*soak)
}

var soakEventList = []soakEvent{
	{14, "press", func(s *soak) { s.press(s.anywhere()) }},
	{10, "drag", func(s *soak) { s.haul(s.anywhere(), s.anywhere()) }},
	{8, "drag a point", (*soak).haulPoint},
	{8, "move", func(s *soak) {
		s.pane.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: s.anywhere()}})
	}},
	{4, "scroll", func(s *soak) {
		s.pane.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: s.anywhere()}, Scrolled: fyne.NewDelta(0, wheelClick*float32(s.IntN(9)-4))})
	}},
	{2, "the map's menu", (*soak).mapMenu},
	{8, "key", func(s *soak) { s.typeKey(soakKeys[s.IntN(len(soakKeys))]) }},
	{6, "letter", (*soak).letter},
	{16, "command", (*soak).command},
	{4, "step", func(s *soak) { s.goTo(s.IntN(len(steps))) }},
	{8, "section", (*soak).inSectionPane},
	{8, "field", (*soak).fillField},
	{6, "button", func(s *soak) { s.tapOneOf(s.shownObjects()) }},
	{5, "undo", func(s *soak) { s.menu.undo.Action() }},
	{3, "redo", func(s *soak) { s.menu.redo.Action() }},
	{1, "resize", func(s *soak) { s.win.Resize(fyne.NewSize(float32(1000+s.IntN(500)), float32(620+s.IntN(300)))) }},
	{1, "divider", func(s *soak) {
		s.panes.moveLedger(float32(s.IntN(81) - 40))
		s.panes.moveSection(float32(s.IntN(81) - 40))
	}},
	{2, "focus", func(s *soak) { test.FocusNext(s.win.Canvas()) }},
	{1, "save", func(s *soak) { s.save(nil) }},
}

var soakKeys = []fyne.KeyName{
	fyne.KeyReturn, fyne.KeyReturn, fyne.KeyEscape, fyne.KeyEscape, fyne.KeyDelete, fyne.KeyBackspace, fyne.KeyTab, fyne.KeySpace,
	fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight, fyne.KeyF2, fyne.KeyHome, fyne.KeyPageDown,
}

// pick chooses what happens next. While a dialog lies over the window that is all
// that can be got at.
func (s *soak) pick() soakEvent {
	if s.covered() {
		return soakEvent{name: "answer", do: (*soak).answerDialog}
	}
	all := 0
	for _, e := range soakEventList {
		all += e.weight
	}
	at := s.IntN(all)
	for _, e := range soakEventList {
		if at -= e.weight; at < 0 {
			return e
		}
	}
	panic("ui: the weights do not add up")
}

func (s *soak) note(format string, of ...any) {
	s.lately[len(s.lately)-1] += " " + fmt.Sprintf(format, of...)
}

func (s *soak) anywhere() fyne.Position {
	size := s.pane.Size()
	return fyne.NewPos(s.Float32()*size.Width, s.Float32()*size.Height)
}

// haul drags as bench.drag does, and lets in on the way what comes of it.
func (s *soak) haul(from, to fyne.Position) {
	s.pane.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary})
	last := from
	for i := 1; i <= 5; i++ {
		share := float32(i) / 5
		now := fyne.NewPos(from.X+(to.X-from.X)*share, from.Y+(to.Y-from.Y)*share)
		s.pane.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: now}, Dragged: fyne.NewDelta(now.X-last.X, now.Y-last.Y)})
		last = now
		s.pump()
	}
	s.pane.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: to}, Button: desktop.MouseButtonPrimary})
	s.pane.DragEnd()
}

// haulPoint selects something and drags one of its points a little.
func (s *soak) haulPoint() {
	drawn := s.doc.Site().Plan.In(s.board.Scheme)
	if len(drawn) == 0 {
		return
	}
	s.choose(selecting)
	f := drawn[s.IntN(len(drawn))]
	s.board.Select(f.ID)
	s.note("of %s", f.Title())
	lines := f.Points()
	line := lines[s.IntN(len(lines))]
	at := s.seen(line[s.IntN(len(line))])
	s.haul(at, at.AddXY(float32(s.IntN(61)-30), float32(s.IntN(61)-30)))
}

func (s *soak) seen(p orb.Point) fyne.Position {
	x, y := s.pane.camera.ToScreen(p)
	return fyne.NewPos(float32(x/s.pane.scale), float32(y/s.pane.scale))
}

func (s *soak) mapMenu() {
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: s.anywhere()}, Button: desktop.MouseButtonSecondary}
	e.AbsolutePosition = e.Position
	s.pane.MouseDown(e)
	s.pane.MouseUp(e)
}

func (s *soak) letter() {
	const typed = "abcdefghijklmnopqrstuvwxyz0123456789.,+-"
	r := rune(typed[s.IntN(len(typed))])
	s.note("%c", r)
	if at := s.win.Canvas().Focused(); at != nil {
		at.TypedRune(r)
		return
	}
	s.win.Canvas().OnTypedRune()(r)
}

// command runs a command that neither ends the work on this site nor asks for a
// file.
func (s *soak) command() {
	c := s.menu.commands[s.IntN(len(s.menu.commands))]
	const looks = 3 // from this part of the menu on, all of the window is made anew, which takes long
	if c.menu == fileMenu || c.menu == windowMenu && c.part >= looks && s.IntN(4) > 0 {
		return
	}
	s.note("%q", c.name)
	s.run(c)
}

// inSectionPane uses the long section: the pointer, a grip, a key.
func (s *soak) inSectionPane() {
	if !s.panes.shown(sectionPane) {
		return
	}
	long := s.section.long
	size := long.Size()
	at := fyne.NewPos(s.Float32()*size.Width, s.Float32()*size.Height)
	if grips := s.section.grips(); len(grips) > 0 && s.IntN(2) == 0 {
		g := grips[s.IntN(len(grips))]
		x, y := s.section.drawn.long.View.ToScreen(g.Chainage, g.Level)
		at = fyne.NewPos(float32(x/long.pixels.scale), float32(y/long.pixels.scale))
	}
	long.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	switch s.IntN(3) {
	case 0:
		long.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary})
		for range 4 {
			at = at.AddXY(0, float32(s.IntN(21)-10))
			long.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at}})
			s.pump()
		}
		long.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
		long.DragEnd()
	case 1:
		long.TypedKey(&fyne.KeyEvent{Name: soakKeys[s.IntN(len(soakKeys))]})
	}
	long.MouseOut()
}

// shownObjects are those that a person may get at: of the dialog on top, else of
// the window.
func (s *soak) shownObjects() []fyne.CanvasObject {
	if over := s.win.Canvas().Overlays().Top(); over != nil {
		return test.LaidOutObjects(over)
	}
	return test.LaidOutObjects(s.win.Content())
}

var soakWords = []string{"", "0", "1", "2.5", "0,75", "-3", "84.2", "1e9", "North arm", "ein Bach", "  ", "<b>", "𝛼 ✓ e\u0301"}

// fillField types in one of the fields that are shown, or chooses in a list.
func (s *soak) fillField() {
	var fields []fyne.CanvasObject
	for _, o := range s.shownObjects() {
		switch o.(type) {
		case *answer, *line, *plotEntry, *widget.Select, *picker, *widget.Slider, *widget.Check:
			fields = append(fields, o)
		}
	}
	if len(fields) == 0 {
		return
	}
	word := soakWords[s.IntN(len(soakWords))]
	switch o := fields[s.IntN(len(fields))].(type) {
	case *widget.Select:
		s.chooseIn(o)
	case *picker:
		s.chooseIn(&o.Select)
	case *widget.Slider:
		o.SetValue(o.Min + s.Float64()*(o.Max-o.Min))
	case *widget.Check:
		o.SetChecked(!o.Checked)
	case interface {
		fyne.Focusable
		SetText(string)
	}:
		s.note("%q", word)
		s.win.Canvas().Focus(o)
		o.SetText(word)
		o.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	}
}

func (s *soak) chooseIn(o *widget.Select) {
	if len(o.Options) > 0 {
		o.SetSelectedIndex(s.IntN(len(o.Options)))
	}
}

// tapOneOf presses one of the buttons among objects; not those whose dots promise
// a question, which would be for a file.
func (s *soak) tapOneOf(objects []fyne.CanvasObject) {
	var taps []func()
	for _, o := range objects {
		switch o := o.(type) {
		case *button:
			if !strings.HasSuffix(o.Text, "…") && !o.Disabled() {
				taps = append(taps, func() { s.note("%q", o.Text); test.Tap(o) })
			}
		case *pressable:
			taps = append(taps, func() { s.note("%q", o.word); test.Tap(o) })
		case *pressRow:
			taps = append(taps, func() { test.Tap(o) })
		case fyne.Tappable:
			if strings.Contains(fmt.Sprintf("%T", o), "menuItem") {
				taps = append(taps, func() { test.Tap(o) })
			}
		}
	}
	if len(taps) > 0 {
		taps[s.IntN(len(taps))]()
	}
}

// answerDialog fills in what lies over the window, presses a button of it, or
// closes it.
func (s *soak) answerDialog() {
	top := s.win.Canvas().Overlays().Top()
	switch s.IntN(4) {
	case 0:
		s.fillField()
	case 1:
		s.tapOneOf(s.shownObjects())
	case 2:
		s.typeKey(fyne.KeyReturn)
	default:
		s.typeKey(fyne.KeyEscape)
		if s.win.Canvas().Overlays().Top() == top { // it has no use for Escape
			top.Hide()
		}
	}
}
