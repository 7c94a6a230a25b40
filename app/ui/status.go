package ui

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"

	"runnel/app/tool"
)

// A status is the strip beneath the map: where the pointer is, what a drop does
// there, what the tool would do next, how far apart the contours are.
type status struct {
	object                      fyne.CanvasObject
	where, drop, next, contours *canvas.Text
	// flag and ground mark what next says while that is news.
	flag, ground *canvas.Rectangle
	upper, lower *strip
	// trouble says why there are no figures; empty when there are.
	trouble string
	// told is what was done last, which stands until its time.
	told  string
	until time.Time
}

// noticeFor is how long it stands below the map what was done.
const noticeFor = 5 * time.Second

func newStatus() *status {
	s := &status{where: text("", body), drop: rightText("", body), next: text("", caption), contours: rightText("", caption)}
	s.upper = &strip{keeps: s.where, gives: s.drop}
	s.flag, s.ground = canvas.NewRectangle(theme.Color(theme.ColorNamePrimary)), canvas.NewRectangle(theme.Color(theme.ColorNameSelection))
	s.flag.SetMinSize(fyne.NewSize(3, 0))
	s.lower = &strip{keeps: s.contours, gives: s.next}
	s.flag.Hide()
	s.ground.Hide()
	s.object = container.New(layout.NewCustomPaddedLayout(gap, gap, 3*gap, 3*gap), container.NewVBox(
		container.New(s.upper, s.where, s.drop),
		container.NewStack(s.ground, container.NewHBox(s.flag), container.New(s.lower, s.next, s.contours))))
	return s
}

// news shows what next says as large and as dark as all else that is read, with a bar
// before it; quietly is how hints are said.
func (s *status) news(loud loudness) {
	if (s.next.TextSize == theme.Size(theme.SizeNameText)) == (loud == aloud) {
		return
	}
	like, inset := text("", caption), float32(0)
	if loud == aloud {
		like, inset = text("", body), 2*gap
	}
	s.next.TextSize, s.next.Color = like.TextSize, like.Color
	s.next.Move(fyne.NewPos(inset, 0))
	s.next.Resize(fyne.NewSize(s.lower.width-inset, s.next.Size().Height))
	s.lower.inset = inset
	shown(s.flag, loud == aloud)
	shown(s.ground, loud == aloud)
	s.next.Refresh()
}

// loudness is how something is said beneath the map.
type loudness uint8

const (
	quietly loudness = iota
	aloud
)

// A strip lays one text at the left and one at the right. One keeps its width, as
// long as the strip has it; the other is said as fully as the rest allows.
type strip struct {
	keeps, gives *canvas.Text
	// kept and ways are the ways to say what keeps and what gives, the fullest first.
	kept, ways []string
	// inset is how far from the left edge what gives begins [dp].
	inset, width float32
}

// say changes both texts.
func (s *strip) say(kept []string, ways ...string) {
	s.kept, s.ways = kept, ways
	s.fit()
}

// saySecond changes what gives.
func (s *strip) saySecond(ways ...string) { s.say(s.kept, ways...) }

func (s *strip) fit() {
	room := s.width - s.inset
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
		left := float32(0)
		if o == s.gives {
			left = s.inset
		}
		o.Resize(fyne.NewSize(size.Width-left, size.Height))
		o.Move(fyne.NewPos(left, 0))
	}
}

// MinSize implements fyne.Layout; the strip's width is the map's. It is as high as a
// text that is said aloud, so that news does not move the map.
func (s *strip) MinSize(objects []fyne.CanvasObject) fyne.Size {
	loud := fyne.MeasureText("", theme.Size(theme.SizeNameText), fyne.TextStyle{})
	size := fyne.NewSize(0, max(scaled(4*gap), loud.Height))
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
		s.news(aloud)
		s.lower.saySecond(s.trouble)
		return
	case k.Fault == "" && time.Now().Before(s.until):
		s.news(aloud)
		s.lower.saySecond(clauses(s.told)...)
		return
	}
	s.news(quietly)
	ways := s.ways(k, u)
	if len(ways) == 0 {
		ways = []string{
			tr("Drag to move the map, turn the wheel to come closer. Press a thing to select it."),
			tr("Drag to move the map, turn the wheel to come closer."),
		}
	}
	s.lower.saySecond(ways...)
}

// ways are the ways to say what the tool would do, the fullest first: the figures of
// what is drawn, then the hint, of which what is needed most stands first.
func (s *status) ways(k tool.Sketch, u units) (ways []string) {
	hint := k.Hint
	if k.Fault != "" {
		hint = k.Fault
	}
	figures := ""
	if k.Length > 0 {
		figures = u.length(k.Length) + "   "
	}
	if k.Area > 0 {
		figures += u.area(k.Area) + "   "
	}
	said := clauses(u.told(hint))
	if len(said) == 0 && figures == "" {
		return nil
	}
	if fall := u.fallWords(k.Fall); fall != "" {
		for _, words := range said {
			ways = append(ways, figures+fall+"   "+words)
		}
	}
	for _, words := range said {
		ways = append(ways, figures+words)
	}
	if figures == "" { // what is needed most is cut short before it is left out
		return ways
	}
	return append(ways, strings.TrimSpace(figures))
}

// clauses are a sentence, and it without its last parts, down to the first.
func clauses(sentence string) (all []string) {
	for sentence != "" {
		all = append(all, sentence)
		at := strings.LastIndex(sentence, "; ")
		sentence = sentence[:max(0, at)]
	}
	return all
}

// notice says for a while what was done.
func (s *status) notice(words string) {
	s.told, s.until = words, time.Now().Add(noticeFor)
	if s.trouble == "" {
		s.news(aloud)
		s.lower.saySecond(clauses(words)...)
	}
}

// fault says why the figures could not be worked out, until they can; nil takes
// it away.
func (s *status) fault(err error) {
	s.trouble = ""
	if err != nil {
		s.trouble = sentence(told(err.Error()))
		s.news(aloud)
		s.lower.saySecond(s.trouble)
	}
}
