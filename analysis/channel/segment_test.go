package channel

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"
	"runnel/geo/plan"
)

func TestLaidLinesKeepTheirLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(0, 50)
		var l orb.LineString
		for range rapid.IntRange(2, 12).Draw(t, "points") {
			l = append(l, at(coordinate.Draw(t, "x"), coordinate.Draw(t, "y")))
		}
		segs := lay(l, rapid.SliceOfN(rapid.Float64Range(-5, 400), 0, 20).Draw(t, "cuts"))
		end := 0.0
		for i, s := range segs {
			if math.Abs(s.start-end) > 1e-6 || s.length <= 0 {
				t.Fatalf("segment %d starts at %v, not %v", i, s.start, end)
			}
			if i > 0 && s.a != segs[i-1].b {
				t.Fatalf("segment %d leaves a gap", i)
			}
			end += s.length
		}
		if total := planar.Length(l); math.Abs(end-total) > 1e-6*(1+total) {
			t.Fatalf("the segments are %v m, the line %v m", end, total)
		}
	})
}

func TestDoubledPointsAreLeftOut(t *testing.T) {
	segs := lay(line(0, 0, 1, 0, 1, 0, 1, 2), nil)
	if len(segs) != 2 || segs[1].start != 1 || segs[1].length != 2 {
		t.Errorf("laid as %+v", segs)
	}
}

func TestTurnsAreTangentsOfHalfTheAngle(t *testing.T) {
	for name, c := range map[string]struct {
		line orb.LineString
		want float64
	}{
		"straight on":          {line(0, 0, 1, 0, 2, 0), 0},
		"square to the left":   {line(0, 0, 1, 0, 1, 1), 1},
		"square to the right":  {line(0, 0, 1, 0, 1, -1), -1},
		"60 degrees":           {line(0, 0, 1, 0, 1.5, math.Sqrt(3)/2), math.Tan(math.Pi / 6)},
		"right back is capped": {line(0, 0, 1, 0, 0, 0), sharpest},
	} {
		if got := lay(c.line, nil)[0].turnB; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// The index must never hide the segment that is nearest.
func TestTheIndexFindsWhatALookAtEverySegmentFinds(t *testing.T) {
	s := site(90, 70, 0.5)
	add(s, plan.Channel, winding(12))
	add(s, plan.Channel, line(20, 5, 20, 65))
	add(s, plan.Island, orb.Polygon{circle(20, 50, 3, 24)})
	n, problems := NewNetwork(s, 1)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	slow := *n
	slow.index = index{west: n.index.west, south: n.index.south, size: 1e6, w: 1, h: 1, first: []int32{0, int32(len(n.segs))}}
	for i := range n.segs {
		slow.index.segs = append(slow.index.segs, int32(i))
	}
	for y := 0.0; y < 70; y += 0.37 {
		for x := 0.0; x < 90; x += 0.37 {
			p := at(x, y)
			if got, want := n.Proposed(p), slow.Proposed(p); math.Abs(got-want) > 1e-9 {
				t.Fatalf("the proposed ground at %v is %v by the index, %v without", p, got, want)
			}
		}
	}
}
