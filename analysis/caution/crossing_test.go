package caution

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// A channel of the letter alpha crosses itself once, where its straight sides do by
// hand; one that only bends does not, nor does a ring where it closes.
func TestAChannelThatCrossesItself(t *testing.T) {
	for name, test := range map[string]struct {
		line orb.LineString
		want []crossing
	}{
		"a bend":          {orb.LineString{{10, 10}, {30, 10}, {30, 20}}, nil},
		"a ring":          {orb.LineString{{10, 10}, {30, 10}, {30, 20}, {10, 10}}, nil},
		"an alpha":        {orb.LineString{{10, 10}, {30, 10}, {30, 20}, {20, 20}, {20, 4}}, []crossing{{orb.Point{20, 10}, 10, 50}}},
		"at its own bend": {orb.LineString{{10, 10}, {20, 10}, {30, 10}, {30, 20}, {20, 20}, {20, 4}}, []crossing{{orb.Point{20, 10}, 10, 50}}},
	} {
		got := selfCrossings(test.line)
		if len(got) != len(test.want) {
			t.Errorf("%s: crosses itself at %v, want %v", name, got, test.want)
			continue
		}
		for i, x := range got {
			if planar.Distance(x.at, test.want[i].at) > 1e-9 || x.first != test.want[i].first || x.second != test.want[i].second {
				t.Errorf("%s: crosses itself at %v, want %v", name, got, test.want)
			}
		}
	}
}

func TestTheCautionOfAChannelThatCrossesItselfHasItsPlace(t *testing.T) {
	s := site()
	before := measured(t, s, Limits{})
	if about(before, "channel crosses itself") != nil {
		t.Fatal("a straight channel is said to cross itself")
	}
	add(s, plan.Channel, line(5, 28, 30, 28, 30, 36, 20, 36, 20, 23), nil)
	got := about(measured(t, s, Limits{}), "channel crosses itself")
	if got == nil || planar.Distance(got.At, at(20, 28)) > 1e-9 || !strings.Contains(got.Measured, "15.0 m and 51.0 m along it") {
		t.Errorf("the caution is %+v", got)
	}
}
