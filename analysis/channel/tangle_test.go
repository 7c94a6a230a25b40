package channel

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// tangledLine draws a line of so many points anywhere on 100 m by 60 m.
func tangledLine(points int) orb.LineString {
	random := rand.New(rand.NewPCG(3, 0))
	var l orb.LineString
	for range points {
		l = append(l, at(10+100*random.Float64(), 10+60*random.Float64()))
	}
	return l
}

// rows winds up and down so many times and then crosses all of that once.
func rows(times int) orb.LineString {
	l := line(5, 5)
	for i := range times {
		x := 10 + 6*float64(i)
		l = append(l, at(x, 5), at(x, 30), at(x+3, 30), at(x+3, 5))
	}
	end := 10 + 6*float64(times)
	return append(l, at(end, 5), at(end, 17), at(2, 17))
}

func TestALineThatCrossesItselfAtManyPlaces(t *testing.T) {
	for times, c := range map[int]struct {
		said int
		last string
	}{
		2:  {4, "crosses itself 17.0 m and 141.0 m along it"},
		3:  {6, "crosses itself 158.0 m and 188.0 m along it"}, // the sixth by itself
		4:  {6, "crosses itself at 3 more places, 8 in all"},
		10: {6, "crosses itself at 15 more places, 20 in all"},
		11: {1, "crosses itself at 22 places, first 17.0 m along it, and is left out"},
	} {
		s := site(120, 40, 0.5)
		add(s, plan.Channel, rows(times), "bed_start", 9.6, "bed_end", 9.6)
		n, problems := NewNetwork(s, 1)
		found := about(problems, "crosses itself")
		if len(found) != c.said || len(about(found, c.last)) != 1 {
			t.Errorf("%d times up and down: %v", times, found)
		}
		if laid := len(n.lines) == 1; laid != (2*times <= tangled) {
			t.Errorf("%d times up and down it is laid out: %v", times, laid)
		}
	}
}

func TestATangleIsLeftOut(t *testing.T) {
	s := site(120, 80, 1)
	id := add(s, plan.Channel, tangledLine(2000))
	add(s, plan.Channel, line(10, 5, 50, 5))
	n, problems := NewNetwork(s, 1)
	if len(n.lines) != 1 || len(problems) != 1 || problems[0].ID != id || !strings.Contains(problems[0].Error(), "crosses itself at more than 2000 places") {
		t.Errorf("%d lines, and %v", len(n.lines), problems)
	}
}

func BenchmarkTangle(b *testing.B) {
	s := site(120, 80, 1)
	add(s, plan.Channel, tangledLine(20_000))
	for b.Loop() {
		NewNetwork(s, 1)
	}
}

func TestALineThatLiesOnItselfIsNotMeasured(t *testing.T) {
	for name, l := range map[string]orb.LineString{
		"there and back":               line(10, 20, 40, 20, 40, 20, 10, 20),
		"back for a part of it":        line(10, 20, 40, 20, 30, 20),
		"a spike in the middle of one": line(10, 20, 20, 20, 20, 30, 20, 20, 40, 20),
	} {
		s := site(60, 40, 0.25)
		id := add(s, plan.Channel, l, "bed_start", 9.6, "bed_end", 9.6)
		n, problems := NewNetwork(s, 1)
		lines, err := n.Measure(t.Context(), Step{})
		if err != nil || lines[0].Measure.Contact != 0 || len(problems) != 1 || problems[0].ID != id || len(about(problems, "turns right back on itself")) != 1 {
			t.Errorf("%s: %v m², %v (%v)", name, lines[0].Measure.Contact, problems, err)
		}
	}
}

// Two channels on one line are one trench: its soil and its length count once.
func TestTwoChannelsOnOneLine(t *testing.T) {
	s := site(60, 40, 0.25)
	one := line(10, 20, 50, 20)
	add(s, plan.Channel, one, "bed_start", 9.6, "bed_end", 9.6)
	_, alone := measured(t, s, Step{})
	add(s, plan.Channel, one, "bed_start", 9.6, "bed_end", 9.6)
	n, problems := NewNetwork(s, 1)
	if len(problems) != 1 || len(about(problems, "Channel 1 and Channel 2 lie too near to each other: their cuts overlap from 0.0 to 39.")) != 1 {
		t.Fatal(problems)
	}
	lines, err := n.Measure(t.Context(), Step{})
	if err != nil {
		t.Fatal(err)
	}
	a, b := lines[0].Measure, lines[1].Measure
	near(t, "contact", a.Contact+b.Contact, alone[0].Measure.Contact, 1e-6)
	near(t, "length", a.Length+b.Length, 40, 1e-9)
	near(t, "perimeter", a.Perimeter(), alone[0].Measure.Perimeter(), 1e-6)
}

// A zigzag closes up at each of its corners, on one side and on the other in turn.
func TestTheBendsOfAZigzagAreSaidInOrder(t *testing.T) {
	var zigzag orb.LineString
	for i := range 30 {
		zigzag = append(zigzag, at(10+0.5*float64(i), 20+0.4*float64(1-2*(i%2))))
	}
	s := site(60, 40, 0.25)
	channelOn(zigzag)(s)
	_, problems := NewNetwork(s, 1)
	found := about(problems, "bends too tightly")
	if len(found) != mostSaid+1 || !strings.Contains(found[mostSaid].Error(), "at 23 more places, 28 in all") {
		t.Fatal(found)
	}
	for i, p := range found {
		if planar.Distance(p.At, zigzag[i+1]) > 1e-6 {
			t.Errorf("bend %d shows at %v, want %v", i, p.At, zigzag[i+1])
		}
	}
}
