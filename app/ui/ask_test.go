package ui

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// typeKey presses a key as the toolkit reports it: to what has the keyboard, else
// to the window.
func (b *bench) typeKey(name fyne.KeyName) {
	e := &fyne.KeyEvent{Name: name}
	if f := b.win.Canvas().Focused(); f != nil {
		f.TypedKey(e)
		return
	}
	b.win.Canvas().OnTypedKey()(e)
}

func TestReturnAndEscapeAnswerEveryPrompt(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	left := ""
	for _, c := range []struct {
		name string
		show func()
		key  fyne.KeyName
		want string
	}{
		{"Escape stays", func() { b.leave(func() { left = "left" }) }, fyne.KeyEscape, ""},
		{"Return confirms what is last", func() {
			b.ask(prompt{title: "Replace?", content: widget.NewLabel("It is there."), choices: []choice{{word: "Cancel"}, {word: "Replace", do: func() { left = "replaced" }}}})
		}, fyne.KeyReturn, "replaced"},
		{"Return closes what is only read", func() { b.tell("Note", "A text.") }, fyne.KeyReturn, ""},
		{"Enter of the number pad too", func() { b.about() }, fyne.KeyEnter, ""},
		{"Escape closes the recovery's question", func() {
			b.ask(prompt{title: "Bring back?", content: widget.NewLabel(""), choices: []choice{{word: "Not now", do: func() { left = "later" }}, {word: "Bring it back"}}})
		}, fyne.KeyEscape, "later"},
	} {
		left = ""
		b.win.Canvas().Unfocus()
		c.show()
		if !b.covered() {
			t.Fatalf("%s: nothing is shown", c.name)
		}
		b.typeKey(c.key)
		if b.covered() || left != c.want {
			t.Errorf("%s: covered %v, %q is done, want %q", c.name, b.covered(), left, c.want)
		}
	}
	if len(b.prompts) != 0 {
		t.Errorf("%d prompts are kept that are gone", len(b.prompts))
	}
}

func TestReturnPressesTheButtonThatHasTheKeyboard(t *testing.T) {
	b := newBench(t)
	pressed := 0
	button := newButton("Browse…", func() { pressed++ })
	button.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	button.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if pressed != 2 {
		t.Errorf("the button is pressed %d times, want 2", pressed)
	}
	hidden := false
	b.ask(prompt{title: "Sure?", content: widget.NewLabel(""), choices: []choice{{word: "No", do: func() { hidden = true }}, {word: "Yes"}}})
	b.win.Canvas().FocusNext()
	b.typeKey(fyne.KeyEscape)
	if !hidden || b.covered() {
		t.Error("Escape does nothing while a button has the keyboard")
	}
}

func TestAReturnOutOfHabitDoesNotGiveUpTheWork(t *testing.T) {
	b := newBench(t)
	given := false
	b.progress(job{doing: "Reading"}, func() { given = true })
	b.typeKey(fyne.KeyReturn)
	if given || !b.covered() {
		t.Error("Return gives up the work")
	}
	b.typeKey(fyne.KeyEscape)
	if !given || b.covered() {
		t.Error("Escape does not give it up")
	}
}

func TestAFormStaysUntilItsAnswersAreRight(t *testing.T) {
	b := newBench(t)
	width := b.newLine("wide")
	wrong := errors.New("the width is \"wide\"; give a number")
	b.askForm(prompt{title: "How wide?", size: fyne.NewSize(500, 200), choices: []choice{{word: "Cancel"}, {word: "Set"}}},
		[]*widget.FormItem{widget.NewFormItem("Width", width)}, func() error {
			if width.Text == "wide" {
				return wrong
			}
			return nil
		})
	b.win.Canvas().Focus(width)
	b.typeKey(fyne.KeyReturn)
	if !b.covered() || !strings.Contains(b.dialogText(), "give a number") {
		t.Fatalf("the form is gone, or says nothing:\n%s", b.dialogText())
	}
	test.Type(width, "3")
	b.typeKey(fyne.KeyReturn)
	if b.covered() || width.Text != "3" {
		t.Errorf("the form stays with %q; what was typed replaces what was marked", width.Text)
	}
}

func TestTypingReplacesWhatAFieldHeldWhenTheKeyboardCame(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	part := b.ledger.parts[0].(*selectedPart)
	width, side := part.typed("bed_width").answer, part.typed("side_left").answer
	b.win.Canvas().Focus(width)
	for _, r := range "3" {
		width.TypedRune(r)
	}
	b.win.Canvas().FocusNext()
	if b.win.Canvas().Focused() != side {
		t.Fatal("Tab does not lead to the next field")
	}
	side.TypedRune('1')
	b.win.Canvas().Unfocus()
	if f, _ := b.selected(); f.Num("bed_width") != 3 || f.Num("side_left") != 1 {
		t.Errorf("the bed is %g m wide, its side %g", f.Num("bed_width"), f.Num("side_left"))
	}
	test.Tap(side)
	if marked := side.SelectedText(); marked != "" && marked != side.Text {
		t.Errorf("%q of %q is marked", marked, side.Text)
	}
}

func TestAChooserGoesIntoFoldersAndTakesWhatItWasAskedFor(t *testing.T) {
	b := newBench(t)
	dir := t.TempDir()
	inner := filepath.Join(dir, "grounds")
	if err := os.Mkdir(inner, 0o777); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"hill.TIF", "letter.odt", ".hidden.tif"} {
		if err := os.WriteFile(filepath.Join(inner, name), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	b.app.Preferences().SetString(folderPreference, dir)
	took := ""
	b.askFile("Open a ground", rasterEnds, func(path string) { took = path })
	path, ok := b.win.Canvas().Focused().(*line)
	if !ok || path.Text != dir {
		t.Fatalf("the path begins as %v", path)
	}
	path.SetText(inner)
	b.typeKey(fyne.KeyReturn)
	shown := b.dialogText()
	if took != "" || !strings.Contains(shown, "hill.TIF") || strings.Contains(shown, "letter.odt") || strings.Contains(shown, "hidden") {
		t.Fatalf("the folder shows:\n%s", shown)
	}
	path.SetText("nothing.tif")
	b.typeKey(fyne.KeyReturn)
	if took != "" || !strings.Contains(b.dialogText(), "There is nothing at") {
		t.Errorf("a file that is not there: %q\n%s", took, b.dialogText())
	}
	path.SetText("hill.TIF")
	b.typeKey(fyne.KeyReturn)
	if took != filepath.Join(inner, "hill.TIF") || b.covered() {
		t.Errorf("%q is taken", took)
	}
	if b.lastFolder() != inner {
		t.Errorf("the next one begins in %s", b.lastFolder())
	}
}

func TestAFileThatIsPressedTwiceIsOpened(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "a.tif"), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	b := newBench(t)
	took := ""
	c := &chooser{path: b.newLine(""), list: widget.NewList(func() int { return 0 }, nil, nil), fault: widget.NewLabel(""),
		ends: rasterEnds, done: func(path string) { took = path }}
	c.enter(dir)
	c.pressed(0)
	if took != "" || c.path.Text != filepath.Join(dir, "a.tif") {
		t.Errorf("one press takes %q and shows %q", took, c.path.Text)
	}
	if c.pressed(0); took != filepath.Join(dir, "a.tif") {
		t.Errorf("two presses take %q", took)
	}
}

func TestASchemeIsRenamedByReturn(t *testing.T) {
	b := newBench(t)
	b.open()
	b.renameScheme(b.board.Scheme)
	name := b.win.Canvas().Focused().(*line)
	test.Type(name, "Long way round")
	b.typeKey(fyne.KeyReturn)
	if b.schemeName() != "Long way round" {
		t.Errorf("the scheme is %q", b.schemeName())
	}
}
