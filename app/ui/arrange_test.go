package ui

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/app/site"
	"runnel/app/tool"
	"runnel/geo/plan"
)

// twoKerbs draws two kerbs and returns them.
func (b *bench) twoKerbs() (list []plan.Feature) {
	for _, north := range []float64{20, 60} {
		b.takeUp(drawer(plan.Kerb))
		b.press(b.at(40, north))
		b.press(b.at(55, north+5))
		b.pane.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		f, ok := b.selected()
		if !ok {
			b.t.Fatal("no kerb is drawn")
		}
		list = append(list, f)
	}
	b.takeUp(selecting)
	return list
}

func TestAChannelIsDrawnAsACurve(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.choose(drawer(plan.Channel))
	b.press(b.at(30, 70))
	b.press(b.at(45, 45))
	b.press(b.at(30, 20))
	b.key(fyne.KeyReturn)
	f, _ := b.selected()
	if !f.Curved() || len(f.Line()) <= len(f.Knots) {
		t.Errorf("the channel has %d knots and %d points", len(f.Knots), len(f.Line()))
	}
	b.board.Select(f.ID)
	b.run(b.command("Make sides straight"))
	if now, _ := b.selected(); now.Curved() || len(now.Line()) != len(f.Knots) {
		t.Errorf("straight it is %+v", now)
	}
	if text, _ := b.doc.UndoText(); text != "Undo straighten "+f.Title() {
		t.Errorf("the menu says %q", text)
	}
}

func TestZChangesTheMannerOfDrawing(t *testing.T) {
	b := newBench(t)
	b.open()
	b.choose(drawer(plan.Island))
	for _, want := range []tool.Manner{tool.Round, tool.Straight, tool.Curved} {
		b.pane.TypedRune('z')
		if got := b.board.Manner(plan.Island); got != want {
			t.Errorf("the manner is %d, want %d", got, want)
		}
		if shown := texts(b.drawbar.object); !strings.Contains(shown, mannerWords(want)) {
			t.Errorf("the slip over the map says %q", shown)
		}
	}
	b.takeUp(selecting)
	if why := b.command("Straight, curved or round").why(); why == "" {
		t.Error("the selecting tool has a manner of drawing")
	}
}

func TestFieldsOfSeveralAreChangedTogether(t *testing.T) {
	b := newBench(t)
	b.open()
	kerbs := b.twoKerbs()
	b.board.Select(kerbs[0].ID)
	height := b.ledger.parts[0].(*selectedPart).typed("height")
	height.answer.SetText("0.3")
	height.answer.FocusLost()
	if text, _ := b.doc.UndoText(); text != "Undo change height of "+kerbs[0].Title() {
		t.Errorf("the menu says %q", text)
	}
	b.board.Select(kerbs[0].ID, kerbs[1].ID)
	part := b.ledger.parts[0].(*selectedPart)
	height = part.typed("height")
	if height.answer.Text != "" || height.answer.PlaceHolder != "several values" {
		t.Errorf("heights that differ are shown as %q, %q", height.answer.Text, height.answer.PlaceHolder)
	}
	if part.title.text.Text != "2 things" {
		t.Errorf("the ledger is headed %q", part.title.text.Text)
	}
	height.answer.SetText("0.5")
	height.answer.FocusLost()
	for _, k := range kerbs {
		if f, _ := b.doc.Site().Plan.Find(k.ID); f.Num("height") != 0.5 {
			t.Errorf("%s is %g m high", f.Title(), f.Num("height"))
		}
	}
	if text, _ := b.doc.UndoText(); text != "Undo change height of 2 things" {
		t.Errorf("the menu says %q", text)
	}
	if height.answer.Text != "0.5" {
		t.Errorf("the field shows %q", height.answer.Text)
	}
}

func TestSeveralKindsShareTheFieldsThatTheyHaveAlike(t *testing.T) {
	var names []string
	for _, f := range sharedFields([]plan.Feature{{Kind: plan.Channel}, {Kind: plan.Drain}}) {
		names = append(names, f.Name)
	}
	if !slices.Equal(names, []string{"bed_width", "side_left", "side_right", "depth", "lining"}) {
		t.Errorf("a channel and a drain share %v", names)
	}
	if f := sharedFields([]plan.Feature{{Kind: plan.Channel}, {Kind: plan.Drain}})[0]; f.Low != 0.05 || f.High != 20 {
		t.Errorf("widths from %g to %g m", f.Low, f.High)
	}
	if got := sharedFields([]plan.Feature{{Kind: plan.Channel}, {Kind: plan.Well}}); len(got) != 0 {
		t.Errorf("a channel and a well share %v", got)
	}
}

func TestCommandsArrangeWhatIsSelected(t *testing.T) {
	b := newBench(t)
	b.open()
	b.twoKerbs()
	b.showScheme(plan.AsItIs)
	before := len(b.doc.Site().Plan.Features)
	b.run(b.command("Select everything"))
	if got := len(b.board.All()); got != before {
		t.Errorf("%d of %d things are selected", got, before)
	}
	b.run(b.command("Duplicate what is selected"))
	if got := len(b.doc.Site().Plan.Features); got != 2*before {
		t.Errorf("there are %d things, want %d", got, 2*before)
	}
	first, _ := b.selected()
	b.run(b.command("Nudge to the east"))
	if now, _ := b.selected(); math.Abs(planar.Distance(first.Line()[0], now.Line()[0])-0.1) > 1e-6 {
		t.Errorf("the nudge moved it from %v to %v", first.Line()[0], now.Line()[0])
	}
	for _, name := range []string{"Rotate clockwise by 15°", "Mirror east and west", "Mirror north and south", "Delete what is selected"} {
		b.run(b.command(name))
	}
	if got := len(b.doc.Site().Plan.Features); got != before {
		t.Errorf("there are %d things, want %d", got, before)
	}
	for _, ok := b.doc.UndoText(); ok; _, ok = b.doc.UndoText() {
		b.doc.Undo()
	}
	if got := len(b.doc.Site().Plan.Features); got != before-2 {
		t.Errorf("undo leads to %d things", got)
	}
}

// box is the box of figures that is open, with its fields.
func (b *bench) box() (fields []*plotEntry) {
	b.t.Helper()
	var walk func(fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		if e, ok := o.(*plotEntry); ok {
			fields = append(fields, e)
		}
		for _, part := range inside(o) {
			walk(part)
		}
	}
	top, ok := b.win.Canvas().Overlays().Top().(*widget.PopUp)
	if !ok {
		b.t.Fatal("no box is open")
	}
	walk(top.Content)
	return fields
}

func TestADigitOpensTheBoxOfFigures(t *testing.T) {
	b := newBench(t)
	b.open()
	b.takeUp(drawer(plan.Kerb))
	b.pane.TypedRune('1')
	if b.win.Canvas().Overlays().Top() != nil {
		t.Fatal("there is a box before anything is begun")
	}
	b.press(b.at(40, 20))
	start := b.pane.tool.Sketch().Marks[0]
	b.pane.TypedRune('1')
	fields := b.box()
	for _, r := range "2.5" {
		fields[0].TypedRune(r)
	}
	test.Type(fields[1], "85")
	if loose := b.pane.tool.Sketch().Side; math.Abs(loose.Length()-12.5) > 1e-9 {
		t.Errorf("the map shows a side of %g m", loose.Length())
	}
	fields[1].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	b.pane.TypedRune('4')
	fields = b.box()
	test.Type(fields[0], "x")
	fields[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	fields[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.win.Canvas().Overlays().Top() != nil {
		t.Error("Escape leaves the box open")
	}
	b.pane.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	f, _ := b.selected()
	sin, cos := math.Sincos(85 * math.Pi / 180)
	want := orb.Point{start[0] + 12.5*sin, start[1] + 12.5*cos}
	if len(f.Line()) != 2 || planar.Distance(f.Line()[1], want) > 1e-6 {
		t.Errorf("the kerb leads to %v, want %v", f.Line(), want)
	}
}

func TestWhatIsSaidBesideThePointer(t *testing.T) {
	b := newBench(t)
	b.open()
	b.takeUp(drawer(plan.Kerb))
	b.press(b.at(10, 10))
	b.press(b.at(20, 10))
	for _, c := range []struct {
		pull tool.Pull
		want string
	}{
		{tool.Square, "square to the last side"}, {tool.AlongContour, "along the contour"}, {tool.OnEdge, "on Old drain"},
		{tool.Foot, "square to Old drain"}, {tool.OnPoint, "a point of Old drain"}, {tool.Free, ""},
	} {
		if got := b.cueWords(tool.Cue{Pull: c.pull, ID: 1}); got != c.want {
			t.Errorf("pull %d is said as %q, want %q", c.pull, got, c.want)
		}
	}
	got := b.sideWords(tool.Side{From: orb.Point{0, 0}, To: orb.Point{3, 4}, Grade: -0.02})
	if got != "5.00\u00a0m at 36.9°, falls 2.0\u00a0%" {
		t.Errorf("the side is said as %q", got)
	}
}

// typed finds the row of a number or a text by its field.
func (p *selectedPart) typed(name string) *typedField {
	for _, row := range p.fields {
		if t, ok := row.(*typedField); ok && t.field.Name == name {
			return t
		}
	}
	return nil
}

// The level at the end is asked for where the bed runs between its ends, the fall where
// it runs at a grade, and the crest of the banks once they have a top.
func TestOnlyFieldsThatCountAreAskedFor(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	part := b.ledger.parts[0].(*selectedPart)
	seen := func(name string) bool { return part.typed(name).content().Visible() }
	if !seen("bed_end") || seen("grade") || seen("bank_width") {
		t.Error("a new channel is asked for other than the levels at its ends")
	}
	f, _ := b.selected()
	change := func(f plan.Feature) {
		if err := b.doc.Do(&site.Replace{After: f}); err != nil {
			t.Fatal(err)
		}
		b.ledger.refresh()
	}
	f = f.With("bed", plan.Value{Text: "at a grade"}).With("bank_top", plan.Value{Number: 12})
	if change(f); seen("bed_end") || !seen("grade") || !seen("bank_width") {
		t.Error("a graded channel with raised banks is not asked for fall and crest alone")
	}
}
