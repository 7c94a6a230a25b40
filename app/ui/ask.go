package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// A prompt is a dialog that wants an answer. Escape presses the first of its
// buttons, which must change nothing, and Return the last.
type prompt struct {
	title   string
	content fyne.CanvasObject
	// size is at least how large it is [dp]; the zero Size is as its content.
	size    fyne.Size
	choices []choice
	// waits is set while the prompt only waits for work to end: Return, pressed
	// out of habit, must not give that up.
	waits bool
}

// A choice is a button of a prompt.
type choice struct {
	word string
	// do runs once the prompt is gone; nil does nothing.
	do func()
	// ready reports whether the answer can be taken; until it can the prompt
	// stays. Nil is always.
	ready func() bool
}

// closing is the one choice of what is only read.
func closing() []choice { return []choice{{word: tr("Close")}} }

// answers are what the keys press in a prompt that is shown.
type answers struct{ escape, enter func() }

// ask shows a prompt and returns what takes it away without an answer.
func (w *Window) ask(p prompt) (hide func()) {
	d := dialog.NewCustomWithoutButtons("", p.titled(), w.win)
	var buttons []fyne.CanvasObject
	var presses []func()
	for i, c := range p.choices {
		press := func() {
			if c.ready != nil && !c.ready() {
				return
			}
			d.Hide()
			if c.do != nil {
				c.do()
			}
		}
		b := newButton(c.word, press)
		b.keys = w.dialogKey
		if i == len(p.choices)-1 && i > 0 {
			b.Importance = widget.HighImportance
		}
		presses, buttons = append(presses, press), append(buttons, b)
	}
	d.SetButtons(buttons)
	if !p.size.IsZero() {
		d.Resize(p.size)
	}
	d.Show()
	over := w.win.Canvas().Overlays().Top()
	keys := answers{presses[0], presses[len(presses)-1]}
	if p.waits {
		keys.enter = func() {}
	}
	w.prompts[over] = keys
	d.SetOnClosed(func() { delete(w.prompts, over) })
	return d.Hide
}

// titleRise takes back the room that the toolkit leaves for a title of its own,
// which would not stand over what the prompt holds [dp].
const titleRise = -30

// titled puts the title over the content, where the content begins.
func (p prompt) titled() fyne.CanvasObject {
	inset := layout.NewCustomPaddedLayout(0, 2*gap, gap, gap)
	return container.New(layout.NewCustomPaddedLayout(titleRise, 0, 0, 0),
		container.NewBorder(container.New(inset, text(p.title, heading)), nil, nil, nil, p.content))
}

// askForm shows a prompt of fields, with what is wrong with them beneath. Its
// last choice leaves it standing until take finds nothing wrong.
func (w *Window) askForm(p prompt, items []*widget.FormItem, take func() error) {
	fault := widget.NewLabel("")
	fault.Wrapping, fault.Importance = fyne.TextWrapWord, widget.DangerImportance
	fault.Hide()
	p.content = container.NewVBox(widget.NewForm(items...), fault)
	p.choices[len(p.choices)-1].ready = func() bool {
		err := take()
		if err != nil {
			fault.SetText(sentence(w.units.told(err.Error())))
			fault.Show()
		}
		return err == nil
	}
	w.ask(p)
}

// dialogKey gives a key to the dialog on top, and reports whether it had a use
// for it.
func (w *Window) dialogKey(e *fyne.KeyEvent) bool {
	over := w.win.Canvas().Overlays().Top()
	if over == nil {
		return false
	}
	keys, ours := w.prompts[over]
	switch {
	case e.Name == fyne.KeyEscape && ours:
		keys.escape()
	case e.Name == fyne.KeyEscape:
		over.Hide()
	case (e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter) && ours:
		keys.enter()
	default:
		return false
	}
	return true
}

// A button is the toolkit's, pressed by Return as well as by the space bar.
type button struct {
	widget.Button
	// keys takes what the button has no use for; nil where nothing does.
	keys func(*fyne.KeyEvent) bool
}

func newButton(words string, do func()) *button {
	b := &button{}
	b.Text, b.OnTapped = words, do
	b.ExtendBaseWidget(b)
	return b
}

// TypedKey presses the button.
func (b *button) TypedKey(e *fyne.KeyEvent) {
	switch {
	case e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter:
		b.Tapped(nil)
	case b.keys == nil || !b.keys(e):
		b.Button.TypedKey(e)
	}
}

// A picker is the toolkit's list of words to choose from, in a dialog: Return
// and Escape are the dialog's.
type picker struct {
	widget.Select
	keys func(*fyne.KeyEvent) bool
}

func (w *Window) newPicker(words []string) *picker {
	p := &picker{keys: w.dialogKey}
	p.Options = words
	p.ExtendBaseWidget(p)
	return p
}

// TypedKey answers the dialog.
func (p *picker) TypedKey(e *fyne.KeyEvent) {
	if !p.keys(e) {
		p.Select.TypedKey(e)
	}
}
