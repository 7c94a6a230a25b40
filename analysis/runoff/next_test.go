package runoff

import (
	"context"
	"math"
	"reflect"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/geo/plan"
)

// TestTheNextSurfaceIsThatOfTheWholeSite holds a surface that takes over from one
// before to one that is made from nothing, over grounds that are changed step by step.
func TestTheNextSurfaceIsThatOfTheWholeSite(t *testing.T) {
	taken := 0
	rapid.Check(t, func(r *rapid.T) {
		b := shaped(t, 24, 18, func(east, north float64) float64 { return 5 + math.Round(north*2)/20 })
		place := func(name string) orb.Point {
			return orb.Point{rapid.Float64Range(-1, 25).Draw(r, name), rapid.Float64Range(-1, 19).Draw(r, name)}
		}
		for range rapid.IntRange(0, 8).Draw(r, "features") {
			p, q := place("from"), place("to")
			box := orb.Bound{Min: p, Max: p}.Union(q.Bound()).ToPolygon()
			switch kind := rapid.SampledFrom(waterKinds).Draw(r, "kind"); plan.SpecOf(kind).Shape {
			case plan.PointShape:
				b.draw(kind, p, nil)
			case plan.AreaShape:
				b.draw(kind, box, nil)
			default:
				b.draw(kind, orb.LineString{p, q}, nil)
			}
		}
		ground := b.Ground
		var before *Surface
		for range 4 {
			whole, err := Of(context.Background(), &b.Site, ground)
			if err != nil {
				r.Fatal(err)
			}
			next, err := before.Next(context.Background(), &b.Site, ground)
			if err != nil {
				r.Fatal(err)
			}
			if before != nil && &next.Weight[0] == &before.Weight[0] {
				taken++
			}
			if !reflect.DeepEqual(next, whole) {
				r.Fatalf("taken over it is %+v, from nothing %+v", next, whole)
			}
			before, ground = next, ground.Clone()
			for range rapid.IntRange(1, 30).Draw(r, "cells") {
				c := rapid.IntRange(0, len(ground.V)-1).Draw(r, "cell")
				ground.V[c] = b.Ground.V[c] + rapid.SampledFrom([]float32{-0.4, -0.1, 0, 0.3}).Draw(r, "change")
			}
		}
	})
	if taken == 0 {
		t.Error("nothing was ever taken over")
	}
}

// waterKinds are those that stand on a site before anything is designed.
var waterKinds = []plan.Kind{
	plan.Roof, plan.Downpipe, plan.Paving, plan.Cover, plan.Drain, plan.Inlet, plan.Kerb, plan.Wall, plan.Culvert,
}
