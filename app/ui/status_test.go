package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"runnel/app/site"
	"runnel/app/tool"
	"runnel/geo/plan"
)

func TestADropThatMustRiseIsNotSaidToFall(t *testing.T) {
	for _, c := range []struct {
		fall   float64
		has    string
		hasNot string
	}{
		{0.12, "falls 0.12\u00a0m", "rise"}, {0, "falls 0.00\u00a0m", "rise"},
		{-0.12, "ust rise 0.12\u00a0m", "falls"},
	} {
		for _, said := range metric.drop(10.6, c.fall, telling{end: "leaves on the south edge"}) {
			if !strings.Contains(said, c.has) || strings.Contains(said, c.hasNot) || strings.Contains(said, "−") {
				t.Errorf("a fall of %g m: %q", c.fall, said)
			}
		}
	}
}

func TestTheTextsBelowTheMapNeverOverprint(t *testing.T) {
	b := newBench(t)
	b.open()
	if least := b.win.Content().MinSize(); least != fyne.NewSize(leastWidth, leastHeight) {
		t.Errorf("the window may be as small as %v", least)
	}
	b.win.Resize(fyne.NewSize(leastWidth, leastHeight))
	b.status.place([]string{"E\u00a0523\u2009411.2\u00a0m   N\u00a04\u2009811\u2009200.6\u00a0m   height\u00a084.12\u00a0m"},
		usFeet.drop(1234, -0.12, telling{end: "leaves where the ground is not known"}))
	b.status.lower.saySecond(strings.Repeat("It is a long way. ", 20))
	for _, s := range []*strip{b.status.upper, b.status.lower} {
		used := s.keeps.MinSize().Width + s.gives.MinSize().Width
		if s.gives.Text == "" || used > s.width {
			t.Errorf("%q and %q take %.0f of %.0f", s.keeps.Text, s.gives.Text, used, s.width)
		}
	}
}

func TestATextIsCutShortOnlyWhereNoWayToSayItFits(t *testing.T) {
	test.NewTempApp(t)
	words := text("", body)
	ways := []string{"A drop here runs far and falls", "Drop: far"}
	width := func(s string) float32 { return fyne.MeasureText(s, words.TextSize, words.TextStyle).Width }
	for _, c := range []struct {
		room float32
		want string
	}{{width(ways[0]), ways[0]}, {width(ways[0]) - 1, ways[1]}, {width("Drop:…") + 1, "Drop:…"}, {1, ""}} {
		if got := fitting(words, c.room, ways); got != c.want {
			t.Errorf("in %.0f it says %q, want %q", c.room, got, c.want)
		}
	}
}

func TestNothingIsSaidOfTheGroundBeforeItIsKnown(t *testing.T) {
	b := newBench(t)
	b.openDemo() // what the workers find waits in the queue
	for i := range steps {
		b.goTo(i)
		shown := texts(b.ledger.object)
		for _, claim := range []string{"No place on this ground", "None of the checks"} {
			if strings.Contains(shown, claim) {
				t.Errorf("%s: the ledger says %q of what is not known", steps[i].word(), claim)
			}
		}
		if !strings.Contains(shown, "Working…") {
			t.Errorf("%s: the ledger does not say that it is at work:\n%s", steps[i].word(), shown)
		}
	}
	if b.waiting.Text != "Working…" {
		t.Errorf("the map says %q", b.waiting.Text)
	}
	b.settle()
	b.goTo(1)
	b.until("the storm", b.rained)
	if shown := texts(b.ledger.object); strings.Contains(shown, "Working…") || b.waiting.Text != "" {
		t.Errorf("it is still said to be at work:\n%s", shown)
	}
}

func TestWhatIsRemovedIsSaidBelowTheMap(t *testing.T) {
	for name, remove := range map[string]func(*bench){
		"by the key":    func(b *bench) { b.pane.tool.Move(tool.Pointer{}); b.key(fyne.KeyDelete) },
		"by the button": func(b *bench) { b.removeSelected() },
	} {
		b := newBench(t)
		b.open()
		f := b.drawChannel()
		b.takeUp(selecting)
		remove(b)
		if _, still := b.doc.Site().Plan.Find(f.ID); still || b.status.next.Text != "Channel removed; Ctrl+Z brings it back" {
			t.Errorf("%s: still there %v, it says %q", name, still, b.status.next.Text)
		}
	}
}

func TestALetterTakesUpATool(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.pane.TypedRune('c')
	if b.held != drawer(plan.Channel) {
		t.Errorf("c takes up %q", b.held)
	}
	b.pane.TypedRune('Q')
	b.pane.TypedRune('t') // trees are not drawn in this step
	if b.held != selecting {
		t.Errorf("q and t leave %q", b.held)
	}
	for _, s := range steps {
		seen := map[string]instrument{"F": "fit", "Z": "bend"}
		for _, i := range toolsOf(s) {
			if before, twice := seen[i.letter()]; twice || i.letter() == "" {
				t.Errorf("%s has the letter %q, which is %q's", i, i.letter(), before)
			}
			seen[i.letter()] = i
		}
	}
	for _, want := range []string{"Ctrl+S", "Ctrl+Shift+N", "**C**  Channel", "**Delete**", "Ctrl+Z"} {
		if !strings.Contains(b.menu.keys(), want) {
			t.Errorf("the list of keys has no %q:\n%s", want, b.menu.keys())
		}
	}
}

func TestAHollowThatIsPressedIsOutlinedAndComesNear(t *testing.T) {
	b := newBench(t)
	s := valley()
	for y := 60; y < 70; y++ {
		for x := 20; x < 30; x++ {
			s.Ground.Set(x, y, 99)
		}
	}
	b.put(site.New(s, ""))
	b.settle()
	b.goTo(1)
	b.settle()
	var row *pressRow
	for _, o := range test.LaidOutObjects(b.ledger.object) {
		if found, ok := o.(*pressRow); ok && row == nil {
			row = found
		}
	}
	if row == nil {
		t.Fatalf("no hollow is listed:\n%s", texts(b.ledger.object))
	}
	row.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	want := b.scene.Ponding.Hollows[0].Outline.Bound()
	if got := b.pane.overlay.Outline; len(got) == 0 || got.Bound() != want {
		t.Fatalf("the map outlines %v, want %v", got, want)
	}
	seen := b.pane.camera.Bound(b.pane.width, b.pane.height)
	if wide := (want.Max[0] - want.Min[0]) * b.pane.camera.Scale; !seen.Contains(want.Min) || !seen.Contains(want.Max) || wide < 50 {
		t.Errorf("the hollow is %.0f px wide, of a map of %v where %v is seen", wide, want, seen)
	}
	b.pointOut(0)
	if b.pane.overlay.Outline != nil {
		t.Error("pressed again it is outlined still")
	}
	b.pointOut(0)
	b.escaped()
	if b.pane.overlay.Outline != nil || b.waters.hollow != 0 {
		t.Error("after Escape it is outlined still")
	}
}

func TestAHollowThatIsPointedOutStaysSoWhenABiggerOneIsDug(t *testing.T) {
	b := newBench(t)
	small, both := valley(), valley()
	dig := func(s plan.Site, east, wide int) {
		for y := 60; y < 60+wide; y++ {
			for x := east; x < east+wide; x++ {
				s.Ground.Set(x, y, 99)
			}
		}
	}
	dig(small, 20, 6)
	dig(both, 20, 6)
	dig(both, 60, 12)
	b.put(site.New(small, ""))
	b.settle()
	b.goTo(1)
	b.settle()
	b.pointOut(0)
	want := b.pane.overlay.Outline.Bound()
	if err := b.doc.Do(&site.SetGround{Ground: both.Ground, CRS: both.CRS}); err != nil {
		t.Fatal(err)
	}
	b.settle()
	if got := b.pane.overlay.Outline; len(got) == 0 || got.Bound() != want || b.waters.hollow != 2 {
		t.Errorf("hollow %d is outlined, at %v; want the second, at %v", b.waters.hollow, got, want)
	}
}

func TestTheIntervalOfTheContoursIsShownWithThem(t *testing.T) {
	b := newBench(t)
	b.open()
	if !strings.HasPrefix(b.status.contours.Text, "Contours every ") {
		t.Errorf("it says %q", b.status.contours.Text)
	}
	b.turnUnits()
	if !strings.HasSuffix(b.status.contours.Text, " ft") {
		t.Errorf("in US units it says %q", b.status.contours.Text)
	}
	b.turnLayer(layers()[1].of)
	if b.status.contours.Text != "" {
		t.Errorf("with no contours it says %q", b.status.contours.Text)
	}
}

// A letter that two tools share takes up the one of the step that is shown, and says
// where neither is that there is another step for it.
func TestALetterThatToolsShareTakesUpTheOneOfTheStep(t *testing.T) {
	b := newBench(t)
	b.open()
	for at, want := range map[int]plan.Kind{0: plan.Cover, 2: plan.Section} {
		b.goTo(at)
		b.pane.TypedRune('x')
		if b.held != drawer(want) {
			t.Errorf("x in step %d takes up %q, want %s", at, b.held, want)
		}
	}
	b.goTo(3)
	b.pane.TypedRune('q')
	b.pane.TypedRune('x')
	if b.held != selecting {
		t.Errorf("x in a step of neither takes up %q", b.held)
	}
}
