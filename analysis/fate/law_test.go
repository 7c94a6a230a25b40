package fate

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/analysis/runoff"
	"runnel/analysis/storm"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// anyGround is rough, with cells of no data, and flat in places or nowhere: on a
// flat an inlet draws water that would else run elsewhere.
func anyGround(t *rapid.T) grid.Ground {
	even := rapid.Bool().Draw(t, "even")
	g := grid.New[float32](grid.Square(rapid.IntRange(1, 12).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h"), 0, 0, 0.5))
	for i := range g.V {
		g.V[i] = float32(rapid.IntRange(0, 8).Draw(t, "z")) / 8
		if !even {
			g.V[i] += float32(i) / 2048
		}
		if i > 0 && rapid.IntRange(0, 15).Draw(t, "hole") == 0 {
			g.V[i] = grid.NoData
		}
	}
	return g
}

// anySurface sheds all the rain of each known cell, as one piece of paving, and
// has inlets and culverts that fall.
func anySurface(t *rapid.T, culverts int) *runoff.Surface {
	s := &runoff.Surface{Ground: anyGround(t)}
	s.Weight = make([]float64, len(s.Ground.V))
	all := runoff.Source{Feature: 99, Coefficient: 1}
	for i, z := range s.Ground.V {
		if !grid.IsNoData(z) {
			s.Weight[i] = 1
			all.Cells = append(all.Cells, int32(i))
		}
	}
	all.Area = float64(len(all.Cells)) * s.Ground.CellArea()
	s.Sources = []runoff.Source{all}
	for i := range rapid.IntRange(0, 3).Draw(t, "inlets") {
		s.Links = append(s.Links, runoff.Link{Feature: plan.ID(i + 1), From: rapid.SampledFrom(all.Cells).Draw(t, "inlet"), To: -1, Capacity: math.Inf(1)})
	}
	for i := range culverts {
		from, to := rapid.SampledFrom(all.Cells).Draw(t, "from"), rapid.SampledFrom(all.Cells).Draw(t, "to")
		if s.Ground.V[from] > s.Ground.V[to] {
			s.Links = append(s.Links, runoff.Link{Feature: plan.ID(i + 10), From: from, To: to, Capacity: math.Inf(1)})
		}
	}
	return s
}

func rained(t *rapid.T, s *runoff.Surface) plan.Site {
	site := plan.Site{Ground: s.Ground, Setting: plan.UsualSetting()}
	site.Setting.Storm = rapid.SampledFrom([]float64{0, 5, 50, 400, 2000}).Draw(t, "storm")
	return site
}

// flat reports whether two cells of a ground are at one height.
func flat(g grid.Ground) bool {
	seen := make(map[float32]bool)
	for _, z := range g.V {
		if seen[z] {
			return true
		}
		seen[z] = true
	}
	return false
}

// What ends in hollows, in inlets and over the edge is what the model of storms
// says stands, is linked and left.
func TestFatesComeToTheSumsOfTheStorm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySurface(t, 0)
		if flat(s.Ground) {
			s.Links = nil
		}
		site := rained(t, s)
		fates, err := Of(context.Background(), Input{Site: &site, Surface: s})
		if err != nil {
			t.Fatal(err)
		}
		var kept, taken, left float64
		for _, f := range fates {
			for _, p := range f.Parts {
				switch p.Kind {
				case Hollow, SmallHollows:
					kept += p.Storm
				case Inlet:
					taken += p.Storm
				default:
					left += p.Storm
				}
			}
		}
		result := poured(t, s, site.Setting.Storm*millimetre)
		linked := 0.0
		for _, v := range result.Linked {
			linked += v
		}
		b := result.Balance
		for _, c := range [][2]float64{{kept, b.Stored}, {taken, linked}, {left, b.Left - linked}} {
			if math.Abs(c[0]-c[1]) > 1e-9*max(1, b.In) {
				t.Fatalf("kept %v of %v, taken %v of %v, left %v of %v\n%s", kept, b.Stored, taken, linked, left, b.Left-linked, grid.Print(s.Ground))
			}
		}
	})
}

func poured(t *rapid.T, s *runoff.Surface, rain float64) *storm.Result {
	ctx := context.Background()
	f, err := flow.Route(ctx, s.Ground, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	tree, err := hollow.NewTree(ctx, f)
	if err != nil {
		t.Fatal(err)
	}
	surface := storm.Surface{Weight: s.Weight}
	for _, l := range s.Links {
		surface.Links = append(surface.Links, storm.Link{From: l.From, To: l.To, Capacity: l.Capacity})
	}
	m, err := storm.Prepare(ctx, f, tree, surface)
	if err != nil {
		t.Fatal(err)
	}
	result, err := m.Fill(ctx, rain)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// Shares are 1 together, the water of the parts is that of the source, and a path
// leads from where the water comes up to where it ends, cell by cell but for
// culverts.
func TestAllWaterEndsSomewhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySurface(t, rapid.IntRange(0, 4).Draw(t, "culverts"))
		site := rained(t, s)
		fates, err := Of(context.Background(), Input{Site: &site, Surface: s})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range fates {
			share, water, year := 0.0, 0.0, 0.0
			for _, p := range f.Parts {
				share, water, year = share+p.Share, water+p.Storm, year+p.Year
				checkPath(t, s, p)
			}
			if math.Abs(share-1) > 1e-9 || math.Abs(water-f.Storm) > 1e-9 || math.Abs(year-f.Year) > 1e-9 {
				t.Fatalf("shares %v, storm %v of %v, year %v of %v", share, water, f.Storm, year, f.Year)
			}
		}
	})
}

func checkPath(t *rapid.T, s *runoff.Surface, p Part) {
	long := 0
	for i := 1; i < len(p.Path); i++ {
		if math.Hypot(p.Path[i][0]-p.Path[i-1][0], p.Path[i][1]-p.Path[i-1][1]) > 1.5*s.Ground.DX {
			long++
		}
	}
	if long > len(p.Through) || len(p.Path) > len(s.Ground.V)+1 {
		t.Fatalf("the path leaps %d times through %d culverts: %v", long, len(p.Through), p.Path)
	}
}
