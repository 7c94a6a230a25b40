package ui

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"runnel/app/tool"
)

// A status is the strip beneath the map: where the pointer is, what a drop does
// there, what the tool would do next, how far apart the contours are.
type status struct {
	object                      fyne.CanvasObject
	where, drop, next, contours *canvas.Text
	upper, lower                *strip
	// trouble says why there are no figures; empty when there are.
	trouble string
	// told is what was done last, which stands until its time.
	told  string
	until time.Time
}

// noticeFor is how long it stands below the map what was done.
const noticeFor = 6 * time.Second

func newStatus() *status {
	s := &status{where: text("", body), drop: rightText("", body), next: text("", caption), contours: rightText("", caption)}
	s.upper = &strip{keeps: s.where, gives: s.drop}
	s.lower = &strip{keeps: s.contours, gives: s.next}
	s.object = container.New(layout.NewCustomPaddedLayout(gap, gap, 3*gap, 3*gap), container.NewVBox(
		container.New(s.upper, s.where, s.drop), container.New(s.lower, s.next, s.contours)))
	return s
}

// A strip lays one text at the left and one at the right. One keeps its width, as
// long as the strip has it; the other is said as fully as the rest allows.
type strip struct {
	keeps, gives *canvas.Text
	// kept and ways are the ways to say what keeps and what gives, the fullest first.
	kept, ways []string
	width      float32
}

// say changes both texts.
func (s *strip) say(kept []string, ways ...string) {
	s.kept, s.ways = kept, ways
	s.fit()
}

// saySecond changes what gives.
func (s *strip) saySecond(ways ...string) { s.say(s.kept, ways...) }

func (s *strip) fit() {
	room := s.width
	say(s.keeps, fitting(s.keeps, room, s.kept))
	if s.keeps.Text != "" {
		room -= s.keeps.MinSize().Width + 4*gap
	}
	say(s.gives, fitting(s.gives, room, s.ways))
}

// fitting returns the first of the ways that a text has room for, else the last
// cut short.
func fitting(t *canvas.Text, room float32, ways []string) string {
	fits := func(words string) bool { return fyne.MeasureText(words, t.TextSize, t.TextStyle).Width <= room }
	for _, words := range ways {
		if fits(words) {
			return words
		}
	}
	if len(ways) == 0 {
		return ""
	}
	letters := []rune(ways[len(ways)-1])
	for len(letters) > 0 && !fits(string(letters)+"…") {
		letters = letters[:len(letters)-1]
	}
	if len(letters) == 0 {
		return ""
	}
	return string(letters) + "…"
}

// Layout implements fyne.Layout.
func (s *strip) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if s.width != size.Width {
		s.width = size.Width
		s.fit()
	}
	for _, o := range objects {
		o.Resize(size)
		o.Move(fyne.NewPos(0, 0))
	}
}

// MinSize implements fyne.Layout; the strip's width is the map's.
func (s *strip) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(0, scaled(4*gap))
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
	return size
}

// place shows the pointer's place and the path of a drop, each way to say them;
// none when it is off the map.
func (s *status) place(where, drop []string) { s.upper.say(where, drop...) }

// interval says how far apart the contours are.
func (s *status) interval(words string) { s.lower.say([]string{words}, s.lower.ways...) }

// hint says what the tool would do next, or what is wrong with what is drawn.
func (s *status) hint(k tool.Sketch, u units) {
	switch {
	case s.trouble != "":
		s.lower.saySecond(s.trouble)
		return
	case k.Fault == "" && time.Now().Before(s.until):
		s.lower.saySecond(s.told)
		return
	}
	words := u.told(k.Hint)
	if k.Fault != "" {
		words = u.told(k.Fault)
	}
	if fall := u.fallWords(k.Fall); fall != "" {
		words = fall + "   " + words
	}
	if k.Area > 0 {
		words = u.area(k.Area) + "   " + words
	}
	if k.Length > 0 {
		words = u.length(k.Length) + "   " + words
	}
	ways := []string{words}
	if words == "" {
		ways = []string{
			tr("Drag to move the map, turn the wheel to come closer. Press a thing to select it."),
			tr("Drag to move the map, turn the wheel to come closer."),
		}
	}
	s.lower.saySecond(ways...)
}

// notice says for a while what was done.
func (s *status) notice(words string) {
	s.told, s.until = words, time.Now().Add(noticeFor)
	if s.trouble == "" {
		s.lower.saySecond(words)
	}
}

// fault says why the figures could not be worked out, until they can; nil takes
// it away.
func (s *status) fault(err error) {
	s.trouble = ""
	if err != nil {
		s.trouble = sentence(told(err.Error()))
		s.lower.saySecond(s.trouble)
	}
}
