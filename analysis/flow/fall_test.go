package flow

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"golang.org/x/sys/cpu"
	"pgregory.net/rapid"

	"runnel/geo/grid"
)

// fallen is what a form of fall makes of a ground.
type fallen struct {
	fall       []grid.Dir
	ring       []lower // by cell
	pit, level []int32
	holed      []bool
}

// fell lets a ground's water fall by one form, two rows at a time. It reports
// false where the form refuses the ground.
func fell(t rapid.TB, ground grid.Ground, form func(r *Router, s *strip) bool) (f fallen, ok bool) {
	t.Helper()
	r := Router{rows: 2, workers: 1}
	if err := r.prepare(ground, Options{}); err != nil {
		t.Fatal(err)
	}
	for i := range r.plane {
		r.plane[i] = lower{0x5555, 0xaaaa, 0x6666, 0x9999} // of another ground
	}
	for i := range r.strips {
		if !form(&r, &r.strips[i]) {
			return f, false
		}
		f.pit, f.level = append(f.pit, r.strips[i].pit...), append(f.level, r.strips[i].level...)
	}
	for c := range int32(ground.Len()) {
		f.ring = append(f.ring, r.ringOf(c))
	}
	f.fall, f.holed = r.flow.Fall.V, r.holed
	return f, true
}

// The forms of fall.
func byHeights(r *Router, s *strip) bool { r.fallByHeights(s, &keys{}); return true }
func byKeys(r *Router, s *strip) bool    { return r.fallByKeys(s, &keys{}) }
func byVectors(r *Router, s *strip) bool { return r.fallByVectors(s, &vectors{}) }

// mustBe ends the test where f is not what is wanted.
func (f *fallen) mustBe(t *rapid.T, want *fallen, ground grid.Ground) {
	t.Helper()
	for c := range want.fall {
		if f.fall[c] != want.fall[c] || f.ring[c] != want.ring[c] {
			t.Fatalf("cell %d falls %d with %v lower, want %d with %v\nground\n%s",
				c, f.fall[c], f.ring[c], want.fall[c], want.ring[c], grid.Print(ground))
		}
	}
	if !slices.Equal(f.pit, want.pit) || !slices.Equal(f.level, want.level) || !slices.Equal(f.holed, want.holed) {
		t.Fatalf("pits %v, level cells %v, rows with holes %v; want %v, %v, %v\nground\n%s",
			f.pit, f.level, f.holed, want.pit, want.level, want.holed, grid.Print(ground))
	}
}

// palettes are heights that are hard on a form of fall when they meet.
var palettes = map[string][]float32{
	"equal":   {0, float32(math.Copysign(0, -1)), 0.25, 0.5, 0.75, 1, 3},
	"no data": {grid.NoData},
	"tiny":    {0x1p-21, 0x1p-21 + 5*0x1p-44, 0x1p-21 + 7*0x1p-44, 0x1p-21 + 12*0x1p-44, 0x1p-21 + 17*0x1p-44, -0x1p-21},
	"least":   {1e-45, -1e-45, 3e-45, 1e-38, 1e-20, -1e-12},
	"great":   {8848.5, -10994, 16383.999, 16384, -16384, 1e6, 1e30, -1e30, math.MaxFloat32, -math.MaxFloat32},
	// Falls from the first to the second over a corner and to any other over a side
	// are equally steep as far as a float64 can tell: 33461 √2 is nearly 47321.
	"equally steep": {8365.25, -3465, 1.8678471e-06, 1.8678472e-06, 1.8678475e-06, 1.8678476e-06},
	"surveyed":      {101.23, 101.26, 101.19, 101.2, 101.31, 101.4, 101.05, 102.2, 100.9},
}

// hardGrounds draws grounds of square cells, wider than a part more often than not.
func hardGrounds() *rapid.Generator[grid.Ground] {
	names := make([]string, 0, len(palettes))
	for name := range palettes {
		names = append(names, name)
	}
	slices.Sort(names)
	return rapid.Custom(func(t *rapid.T) grid.Ground {
		w, h := rapid.IntRange(1, 140).Draw(t, "w"), rapid.IntRange(1, 7).Draw(t, "h")
		size := rapid.SampledFrom([]float64{0.1, 0.25, 1, 3}).Draw(t, "size")
		var heights []float32
		for _, name := range rapid.SliceOfN(rapid.SampledFrom(names), 1, 3).Draw(t, "heights") {
			heights = append(heights, palettes[name]...)
		}
		g := grid.New[float32](grid.Frame{W: w, H: h, DX: size, DY: size})
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		for c := range g.V {
			g.V[c] = heights[random.IntN(len(heights))]
		}
		g.V[random.IntN(len(g.V))] = 1
		return g
	})
}

func TestEveryFormOfFallAnswersTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := hardGrounds().Draw(t, "ground")
		want, _ := fell(t, ground, byHeights)
		if got, ok := fell(t, ground, byKeys); ok {
			got.mustBe(t, &want, ground)
		}
		got, ok := fell(t, ground, byVectors)
		if ok != cpu.X86.HasAVX2 {
			t.Fatalf("vectors are used: %v, and the processor has them: %v", ok, cpu.X86.HasAVX2)
		}
		if ok {
			got.mustBe(t, &want, ground)
		}
	})
}

// What one form refuses goes on to the next, and the last names the place.
func TestAnInfiniteHeightIsRefusedByAllFormsButTheLast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grid.New[float32](grid.Square(rapid.IntRange(1, 140).Draw(t, "w"), 5, 0, 5, 1))
		if rapid.Bool().Draw(t, "holed") {
			ground.V[0] = grid.NoData
		}
		at := rapid.IntRange(1, ground.Len()-1).Draw(t, "at")
		ground.V[at] = float32(math.Inf(rapid.SampledFrom([]int{-1, 1}).Draw(t, "sign")))
		for name, form := range map[string]func(*Router, *strip) bool{"vectors": byVectors, "keys": byKeys} {
			if _, ok := fell(t, ground, form); ok {
				t.Fatalf("%s take the infinite height of cell %d\n%s", name, at, grid.Print(ground))
			}
		}
	})
}

func TestAFallOverASideAndOneOverACornerCanBeEquallySteep(t *testing.T) {
	heights := palettes["equally steep"]
	own, corner, over := float64(heights[0]), float64(heights[1]), 1/math.Hypot(1, 1)
	for _, side := range heights[2:] {
		if (own-corner)*over != own-float64(side) {
			t.Errorf("%v over a corner and %v over a side differ", own-corner, own-float64(side))
		}
	}
}
