package tool

import (
	"testing"

	"github.com/paulmach/orb"
)

func TestAskAnswersEachClickAndNoDrag(t *testing.T) {
	var asked []orb.Point
	tool := NewAsk("click", func(p Pointer) Answers {
		asked = append(asked, p.At)
		return func() ([]string, string) { return []string{"3 m²"}, "answered" }
	})
	if got := tool.Sketch().Hint; got != "click" {
		t.Errorf("before a click it says %q", got)
	}
	press := Pointer{At: orb.Point{3, 4}, Reach: 1}
	tool.Up(press)
	tool.Down(press)
	tool.Cancel()
	tool.Up(press)
	if len(asked) != 0 {
		t.Errorf("a release with no press asks %v", asked)
	}
	tool.Down(press)
	tool.Up(press)
	if len(asked) != 1 || asked[0] != press.At {
		t.Errorf("a click asks %v", asked)
	}
	if s := tool.Sketch(); s.Hint != "answered" || len(s.Answer) != 1 || s.Answered != press.At || s.Gripped || s.Hot != -1 {
		t.Errorf("after a click it shows %+v", s)
	}
	if tool.Key(Enter) {
		t.Error("a key is taken")
	}
}
