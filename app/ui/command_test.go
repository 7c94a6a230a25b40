package ui

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestNoTwoCommandsShareAShortcutOrAName(t *testing.T) {
	b := newBench(t)
	seen := map[string]string{}
	for _, c := range b.menu.commands {
		for _, key := range []string{shortcut(c.keys), "name " + c.name} {
			if key == "" {
				continue
			}
			if other, taken := seen[key]; taken {
				t.Errorf("%q and %q both have %s", other, c.name, key)
			}
			seen[key] = c.name
		}
		if c.letter == "F" {
			t.Errorf("%q has the letter that fits the map", c.name)
		}
	}
	// The toolkit keeps these for the fields that are typed in.
	for _, key := range []string{"Ctrl+C", "Ctrl+X", "Ctrl+V", "Ctrl+Shift+Z"} {
		if name, taken := seen[key]; taken {
			t.Errorf("%q takes %s from the fields", name, key)
		}
	}
}

func TestEveryMenuItemIsACommandAndEveryCommandIsFound(t *testing.T) {
	b := newBench(t)
	items := 0
	for _, menu := range b.menu.main.Items {
		for _, item := range menu.Items {
			if item.IsSeparator {
				continue
			}
			items++
			if !slices.ContainsFunc(b.menu.commands, func(c command) bool { return c.name+beforeKeys == item.Label }) {
				t.Errorf("%s, %s is no command", menu.Label, item.Label)
			}
		}
	}
	tucked := 0
	for _, c := range b.menu.commands {
		if c.tucked {
			tucked++
		}
	}
	if tucked == 0 || items != len(b.menu.commands)-tucked {
		t.Errorf("%d items stand in the menus, %d commands there are, %d of them in no menu", items, len(b.menu.commands), tucked)
	}
	if all := finds(b.menu.commands, ""); len(all) != len(b.menu.commands) {
		t.Errorf("the box lists %d of %d commands", len(all), len(b.menu.commands))
	}
	for _, c := range b.menu.commands {
		found := finds(b.menu.commands, c.name)
		if len(found) == 0 || found[0].command.name != c.name {
			t.Errorf("%q is not the first that its own name finds", c.name)
		}
		if c.do == nil {
			t.Errorf("%q does nothing", c.name)
		}
	}
}

func TestTheListOfKeysHasEveryShortcutAndEveryTool(t *testing.T) {
	b := newBench(t)
	shown := b.menu.keys()
	for _, c := range b.menu.commands {
		if held := shortcut(c.keys); held != "" && !strings.Contains(shown, "**"+held+"**  "+c.title()) {
			t.Errorf("the list has no %s for %q", held, c.name)
		}
	}
	for _, s := range steps {
		for _, tool := range toolsOf(s) {
			if tool.letter() == "" || !strings.Contains(shown, "**"+tool.letter()+"**  "+tool.word()) {
				t.Errorf("the list has no letter for %q", tool.word())
			}
		}
	}
}

// run runs a command by its name.
func (b *bench) command(name string) command {
	b.t.Helper()
	for _, c := range b.menu.commands {
		if c.name == name {
			return c
		}
	}
	b.t.Fatalf("there is no command %q", name)
	return command{}
}

func TestEveryCommandRunsOrSaysWhyItCannot(t *testing.T) {
	b := newBench(t)
	for _, c := range b.menu.commands {
		if why := c.why(); why != "" && !strings.HasSuffix(why, ".") {
			t.Errorf("%q cannot run because %q, which is no sentence", c.name, why)
		}
	}
	b.open()
	for _, c := range b.menu.commands {
		if c.quits {
			continue
		}
		b.run(c)
		for b.covered() {
			b.win.Canvas().Overlays().Top().Hide()
		}
		if strings.Contains(b.trace.String(), "mistake in the program") {
			t.Fatalf("%q runs into a mistake:\n%s", c.name, b.trace.String())
		}
	}
	b.settle()
}

func TestAMistakeInACommandIsASentenceAndTheWindowLives(t *testing.T) {
	b := newBench(t)
	b.open()
	b.run(command{name: "Fall over", do: func() { panic("no such cell") }})
	if !strings.Contains(b.dialogText(), "mistake in the program") || strings.Contains(b.dialogText(), "goroutine") {
		t.Errorf("the window says:\n%s", b.dialogText())
	}
	b.typeKey(fyne.KeyEscape)
	b.drawChannel()
}

func TestAFieldKeepsTheKeysOfItsText(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	name := b.newLine("Old name")
	b.ask(prompt{title: "Name", content: name, choices: []choice{{word: "Cancel"}, {word: "Set"}}})
	b.win.Canvas().Focus(name)
	test.Type(name, "x")
	b.menu.undo.Action()
	if _, ok := b.doc.Site().Plan.Find(f.ID); !ok || name.Text == "x" {
		t.Errorf("Ctrl+Z in a field: the channel is there %v, the field holds %q", ok, name.Text)
	}
}

func TestALetterPressesAToolOfItsStepAndNoOther(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.pane.TypedRune('c')
	if b.held != "channel" {
		t.Errorf("C takes up %q", b.held)
	}
	b.pane.TypedRune('w')
	if b.held != "channel" || b.step != 2 || !strings.Contains(b.status.next.Text, "Survey") {
		t.Errorf("W, of another step, takes up %q in step %d and says %q", b.held, b.step, b.status.next.Text)
	}
	b.run(b.command("Well"))
	if b.held != "well" || b.step != 0 {
		t.Errorf("the command takes up %q in step %d", b.held, b.step)
	}
}

func TestWhatFindsACommand(t *testing.T) {
	b := newBench(t)
	for _, c := range []struct{ typed, first string }{
		{"chan", "Channel"},
		{"CHAN", "Channel"},
		{"alternative new", "Add an empty scheme"}, // other words for it
		{"gfo", "Go further off"},                  // initials
		{"sav", "Save"},
		{"soil", "Setting: Soil…"}, // all of what is set, before "Soil zone"
		{"soil z", "Soil zone"},
		{"geo drawing", "Export: Drawing, GeoJSON…"},
		{"contrast dark", "High contrast, dark"},
		{"ape mea", "Tape measure"}, // letters within
	} {
		found := finds(b.menu.commands, c.typed)
		if len(found) == 0 || found[0].command.name != c.first {
			got := "nothing"
			if len(found) > 0 {
				got = found[0].command.name
			}
			t.Errorf("%q finds %q first, want %q", c.typed, got, c.first)
		}
	}
	if found := finds(b.menu.commands, "chan xyzzy"); len(found) != 0 {
		t.Errorf("every typed word must fit; %d commands are found", len(found))
	}
}

func TestTheBoxRunsWhatIsChosenByTheKeyboard(t *testing.T) {
	b := newBench(t)
	b.open()
	b.findCommand()
	field := b.win.Canvas().Focused().(*finderField)
	test.Type(field, "step")
	b.typeKey(fyne.KeyDown)
	b.typeKey(fyne.KeyDown)
	if field.f.at != 2 {
		t.Errorf("the arrows are at row %d", field.f.at)
	}
	want := field.f.found[2].command
	b.typeKey(fyne.KeyReturn)
	if b.covered() || !want.on() {
		t.Errorf("%q was chosen; the step is %s", want.name, steps[b.step].word())
	}
	b.board.Select(0)
	b.findCommand()
	field = b.win.Canvas().Focused().(*finderField)
	test.Type(field, "delete what")
	b.typeKey(fyne.KeyReturn)
	if shown := b.dialogText(); !b.covered() || !strings.Contains(shown, "Select something on the map first") {
		t.Errorf("a command that cannot run says:\n%s", shown)
	}
	b.typeKey(fyne.KeyEscape)
	if b.covered() {
		t.Error("Escape leaves the box")
	}
}
