package tool

// ask is the tool that asks something of a place: it leaves the site as it is.
type ask struct {
	hint   string
	answer func(Pointer) string
	said   string
	down   bool
}

// NewAsk returns a tool that calls answer with each place that is clicked, and
// shows what it returns; until then it shows hint.
func NewAsk(hint string, answer func(Pointer) string) Tool { return &ask{hint: hint, answer: answer} }

func (t *ask) Down(Pointer) { t.down = true }

func (t *ask) Move(Pointer) {}

func (t *ask) Up(p Pointer) {
	if t.down {
		t.said = t.answer(p)
	}
	t.down = false
}

func (t *ask) Key(Key) bool { return false }

func (t *ask) Cancel() { t.down = false }

func (t *ask) Sketch() Sketch {
	s := Sketch{Hot: -1, Hint: t.hint}
	if t.said != "" {
		s.Hint = t.said
	}
	return s
}
