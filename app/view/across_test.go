package view

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A channel runs north; what lies across it stands square to it, from bank to bank: half
// of 1 m and 0.5 m at 2:1 to the left and 1:1 to the right.
func TestWhatLiesAcrossAChannelStandsSquareToIt(t *testing.T) {
	c := plan.Feature{ID: 1, Kind: plan.Channel, Geometry: orb.LineString{{10, 0}, {10, 20}}, Fields: map[string]plan.Value{
		"bed_width": {Number: 1}, "depth": {Number: 0.5}, "side_left": {Number: 2}, "side_right": {Number: 1}}}
	s, ok := stanceOf(orb.Point{10.4, 7}, []plan.Feature{c})
	want := stance{of: 1, chainage: 7, on: orb.Point{10, 7}, ux: 0, uy: 1, left: 1.5, right: 1}
	if !ok || s != want {
		t.Errorf("it stands as %+v, want %+v", s, want)
	}
	if _, ok := stanceOf(orb.Point{13, 7}, []plan.Feature{c}); ok {
		t.Error("what lies 3 m off a channel stands across it")
	}
}

// A deck reaches over both banks and no further along the channel than its width.
func TestACrossingReachesFromBankToBank(t *testing.T) {
	site := plan.Site{Ground: grid.New[float32](grid.Square(80, 80, 0, 40, 0.5)), Plan: plan.Plan{
		Schemes: []plan.Scheme{{ID: 9, Name: "S"}},
		Features: []plan.Feature{
			{ID: 1, Scheme: 9, Kind: plan.Channel, Geometry: orb.LineString{{0, 20}, {40, 20}}},
			{ID: 2, Scheme: 9, Kind: plan.Crossing, Geometry: orb.Point{20, 20}, Fields: map[string]plan.Value{"width": {Number: 2}}},
		}}}
	s := &Scene{Site: &site, Scheme: 9, Ground: site.Ground, Show: Drawn, banks: map[plan.ID][2]float64{2: {3, 2}}}
	with := mustDraw(t, s, Camera{North: 40, Scale: 10}, 400, 400)
	site.Plan.Features = site.Plan.Features[:1]
	without := mustDraw(t, s, Camera{North: 40, Scale: 10}, 400, 400)
	low, high := orb.Point{400, 400}, orb.Point{}
	for y := range 400 {
		for x := range 400 {
			if i := with.PixOffset(x, y); !bytes.Equal(with.Pix[i:i+4], without.Pix[i:i+4]) {
				low = orb.Point{min(low[0], float64(x)), min(low[1], float64(y))}
				high = orb.Point{max(high[0], float64(x)), max(high[1], float64(y))}
			}
		}
	}
	// 3 m to the left, which is north, 2 m to the right, 1 m either way along; edges on top.
	for i, want := range []float64{190, 170, 210, 220} {
		if got := [4]float64{low[0], low[1], high[0], high[1]}[i]; math.Abs(got-want) > 4 {
			t.Errorf("side %d of the deck lies at %g px, want %g", i, got, want)
		}
	}
}

func TestAFaultHasItsMarkBeforeACaution(t *testing.T) {
	s := everythingScene(t)
	s.Faults = []orb.Point{s.Cautions[0].At}
	k := testCanvas(600, 450, Fit(s.Bound(), 600, 450))
	signs := k.signs(s)
	if len(signs) != 1 || !signs[0].fault {
		t.Errorf("the signs are %+v, want that of the fault alone", signs)
	}
}

// Of a section the design is told beside the water: its form, its sides, what is dug.
func TestACrossSectionTellsOfItsDesign(t *testing.T) {
	offs, ground, proposed := []float64{}, []float64{}, []float64{}
	for off := -3.0; off <= 3; off += 0.05 {
		offs, ground = append(offs, off), append(ground, 10)
		proposed = append(proposed, min(10, 9.5+max(0, math.Abs(off)-0.5)/2))
	}
	c := CrossSection{CrossSection: channel.CrossSection{Offset: offs, Ground: ground, Proposed: proposed, Level: 9.8, Water: slices.Repeat([]float64{9.8}, len(offs)), WettedPerimeter: 2.34, Area: 0.48, TopWidth: 2.2}}
	drawn := func() []byte {
		dst := testCanvas(420, 200, Camera{Scale: 1}).dst
		c.Draw(dst, Light())
		return dst.Pix
	}
	bare := drawn()
	c.Own = &OwnSection{Section: channel.Section{Bed: 1, Left: 2, Right: 2}, Level: 9.5, Cut: 1, Fill: math.NaN(), Speed: math.NaN(),
		Left: channel.Bank{Level: 10, Off: -1.5}, Right: channel.Bank{Level: 10, Off: 1.5}}
	if bytes.Equal(bare, drawn()) {
		t.Error("the design leaves no mark on the section")
	}
	k := newSide(testCanvas(420, 200, Camera{Scale: 1}).dst, SideView{}, Light(), Metres)
	if got := k.formOf(c)[0].text; got != "trapezoid, bed 1.00\u00a0m" {
		t.Errorf("its form is %q", got)
	}
	if got := k.earthOf(c.Own); len(got) != 1 || got[0].text != "cut 1.00\u00a0m²" {
		t.Errorf("its earth is %+v", got)
	}
	for i := range proposed { // an island on the line
		if math.Abs(offs[i]) < 0.3 {
			proposed[i] = 10
		}
	}
	if !c.parted() || k.formOf(c) != nil {
		t.Error("a section through an island tells of the channel's own form")
	}
}
