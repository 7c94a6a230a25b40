package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// The toolkit gives the keyboard to what is pressed, and letters would then take up
// no tool. These pass the keyboard back to the map: a tick once it is pressed, the
// others with the first letter, as the arrows are theirs. What Tab has brought the
// keyboard to keeps it.

// A tick is the toolkit's box.
type tick struct {
	widget.Check
	leave func()
}

func (w *Window) newTick(word string, changed func(bool)) *tick {
	t := &tick{leave: w.focusMap}
	t.Text, t.OnChanged = word, changed
	t.ExtendBaseWidget(t)
	return t
}

// Tapped turns the box.
func (t *tick) Tapped(e *fyne.PointEvent) {
	t.Check.Tapped(e)
	t.leave()
}

// A pick is the toolkit's list of words.
type pick struct {
	widget.Select
	letter func(rune)
}

func (w *Window) newPick(words []string) *pick {
	p := &pick{letter: w.letterElsewhere}
	p.Options, p.PlaceHolder = words, several()
	p.ExtendBaseWidget(p)
	return p
}

// TypedRune passes a letter on.
func (p *pick) TypedRune(r rune) { p.letter(r) }

// A slide is the toolkit's slider.
type slide struct {
	widget.Slider
	letter func(rune)
}

func (w *Window) newSlide(most float64) *slide {
	s := &slide{letter: w.letterElsewhere}
	s.Max, s.Step = most, 1
	s.ExtendBaseWidget(s)
	return s
}

// TypedRune passes a letter on.
func (s *slide) TypedRune(r rune) { s.letter(r) }

// letterElsewhere gives the map the keyboard and a letter that was typed where there
// is no use for one.
func (w *Window) letterElsewhere(r rune) {
	if r != ' ' {
		w.typed(func() {
			w.focusMap()
			w.pane.TypedRune(r)
		})
	}
}
