package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
)

// A brief is a line of text that takes the width that it is given. A name in it is cut
// short where it is too long for that, and the rest after it is said whole.
type brief struct {
	object *fyne.Container
	text   *canvas.Text
	name   string
	whole  func(name string) string
}

func newBrief(weight role) *brief {
	b := &brief{text: text("", weight), whole: itself}
	b.object = container.New(briefly{b}, b.text)
	return b
}

// itself is a name with nothing about it.
func itself(name string) string { return name }

// say changes the text to a name alone.
func (b *brief) say(name string) { b.sayWith(name, itself) }

// sayWith changes the text to a name and what whole writes about it.
func (b *brief) sayWith(name string, whole func(name string) string) {
	b.name, b.whole = name, whole
	b.fit()
}

func (b *brief) fit() {
	width := b.object.Size().Width
	say(b.text, fittingName(b.text, width, b.name, b.whole))
	b.text.Resize(fyne.NewSize(width, b.text.MinSize().Height))
}

// briefly lays out a brief, whatever the width.
type briefly struct{ of *brief }

// Layout implements fyne.Layout.
func (l briefly) Layout([]fyne.CanvasObject, fyne.Size) { l.of.fit() }

// MinSize implements fyne.Layout.
func (l briefly) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(0, l.of.text.MinSize().Height)
}

// fittingName returns what whole writes about a name of which as much is said as a
// text has room for.
func fittingName(t *canvas.Text, room float32, name string, whole func(string) string) string {
	said, letters := whole(name), []rune(name)
	for n := len(letters) - 1; n > 0 && fyne.MeasureText(said, t.TextSize, t.TextStyle).Width > room; n-- {
		said = whole(string(letters[:n]) + "…")
	}
	return said
}

// mostOfName is how many letters of a name a tab or a menu says.
const mostOfName = 24

// shortened returns a name of so many letters at most.
func shortened(name string, most int) string {
	if letters := []rune(name); len(letters) > most {
		return string(letters[:most-1]) + "…"
	}
	return name
}
