package tool

import "github.com/paulmach/orb"

// ask is the tool that asks something of a place: it leaves the site as it is.
type ask struct {
	hint   string
	answer func(Pointer) Answers
	at     orb.Point
	said   Answers
	down   bool
}

// Answers says now what a place was asked: lines for the map beside it, and a hint.
type Answers func() (lines []string, hint string)

// NewAsk returns a tool that calls answer with each place that is clicked, and
// shows what it says; until then it shows hint.
func NewAsk(hint string, answer func(Pointer) Answers) Tool { return &ask{hint: hint, answer: answer} }

func (t *ask) Down(Pointer) { t.down = true }

func (t *ask) Move(Pointer) {}

func (t *ask) Up(p Pointer) {
	if t.down {
		t.at, t.said = p.At, t.answer(p)
	}
	t.down = false
}

func (t *ask) Key(Key) bool { return false }

func (t *ask) Cancel() { t.down = false }

func (t *ask) Sketch() Sketch {
	s := Sketch{Hot: -1, Hint: t.hint}
	if t.said != nil {
		s.Answer, s.Hint = t.said()
		s.Answered = t.at
	}
	return s
}
