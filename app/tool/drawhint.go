package tool

import (
	"errors"
	"fmt"
	"strings"

	"runnel/geo/plan"
)

func (t *draw) hint() string {
	switch {
	case t.said != "":
		return t.said
	case t.homeless():
		return t.refusal()
	}
	return t.near.on(t.cursor.cue, t.next())
}

// next says what a press would do.
func (t *draw) next() string {
	label := strings.ToLower(t.spec.Label)
	switch {
	case t.spec.Shape == plan.PointShape:
		return fmt.Sprintf("Click where the %s stands", label)
	case len(t.points) == 0:
		return t.first(label)
	case t.manner() == Round:
		return "Click where the circle is to reach; or type its radius; Escape gives up"
	case t.cursor.closing:
		return "Click to close the outline"
	case spans(t.spec.Kind) && t.manner() == Straight:
		return "Click where it ends; Escape gives up"
	case t.closable():
		return "Click the next point; or finish: the first, a double click or Enter; Backspace takes the last one back"
	case t.spec.Shape == plan.LineShape && len(t.points) >= 2:
		return "Click the next point; double-click or Enter to finish; Backspace takes the last one back"
	}
	return "Click the next point; Backspace takes the last one back, Escape gives up"
}

// first says where a drawing begins, and how it may be drawn otherwise.
func (t *draw) first(label string) string {
	switch t.manner() {
	case Round:
		return fmt.Sprintf("Click the middle of the %s; or drag from there; Z for straight sides", label)
	case Curved:
		return fmt.Sprintf("Click where the %s begins; it is a smooth curve, Z for another way", label)
	}
	return fmt.Sprintf("Click where the %s begins", label)
}

// fault says why a feature cannot stand as it is; empty when it can.
func fault(f plan.Feature) string {
	if err := plan.Check(f); err != nil {
		return sentence(reason(err))
	}
	return ""
}

// reason leaves out the name of the feature, which is under the pointer.
func reason(err error) error {
	if inner := errors.Unwrap(err); inner != nil {
		return inner
	}
	return err
}

func sentence(err error) string {
	text := err.Error()
	return strings.ToUpper(text[:1]) + text[1:]
}
