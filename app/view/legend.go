package view

import (
	"fmt"
	"image"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// An Entry is one line of a legend.
type Entry struct {
	// Words is what it is called: a format that Args fill in.
	Words string
	Args  []any
	// Figures stand under the sample of a scale, which takes the whole width.
	Figures []string

	sample func(k *canvas, b orb.Bound)
	// at is where a figure stands, as a share of the width.
	at func(figure int) float64
}

// IsScale reports whether the entry is a scale with figures.
func (e Entry) IsScale() bool { return len(e.Figures) > 0 }

// Text is what the entry is called.
func (e Entry) Text() string { return fmt.Sprintf(e.Words, e.Args...) }

// said is what the entry is called in a language.
func (e Entry) said(t *Tongue) string {
	var figures []any
	for _, arg := range e.Args {
		if figure, ok := arg.(string); ok && len(figure) > 0 && figure[0] >= '0' && figure[0] <= '9' {
			arg = t.write(figure)
		}
		figures = append(figures, arg)
	}
	return fmt.Sprintf(t.say(e.Words), figures...)
}

// Sample draws a sample of what the entry is about on an image of w by h pixels
// without a ground.
func (e Entry) Sample(w, h int, p Palette) *image.RGBA {
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	if w > 0 && h > 0 {
		k := newCanvas(dst, Camera{Scale: 1}, p)
		e.draw(k, orb.Bound{Max: orb.Point{float64(w), float64(h)}}.Pad(-1.5*k.px))
	}
	return dst
}

// draw draws the sample in a box [px], with its figures at the box's foot.
func (e Entry) draw(k *canvas, b orb.Bound) {
	if !e.IsScale() {
		e.sample(k, b)
		return
	}
	bar := b
	bar.Max[1] = max(b.Min[1]+2*k.px, b.Max[1]-1.3*k.look.Type.Small)
	e.sample(k, bar)
	look := lettering{size: k.look.Type.Small, colour: k.look.Ink}
	for i, figure := range e.Figures {
		figure = k.look.Tongue.write(figure)
		width := k.letters.measure(figure, look)
		x := b.Min[0] + e.at(i)*(b.Max[0]-b.Min[0]) - width/2
		k.write(figure, look, upright(max(b.Min[0], min(b.Max[0]-width, x)), b.Max[1]-0.25*look.size))
	}
}

// A lister lists the entries of a legend.
type lister struct{ all []Entry }

// put adds an entry that is shown.
func (l *lister) put(shown bool, e Entry) {
	if shown {
		l.all = append(l.all, e)
	}
}

func swatch(words string, sample func(*canvas, orb.Bound), args ...any) Entry {
	return Entry{Words: words, Args: args, sample: sample}
}

// ramp is a scale whose figures stand evenly from its one end to the other.
func ramp(words string, sample func(*canvas, orb.Bound), figures []string, args ...any) Entry {
	at := func(i int) float64 { return float64(i) / float64(max(len(figures)-1, 1)) }
	return Entry{Words: words, Args: args, Figures: figures, sample: sample, at: at}
}

// Legend lists what a scene shows as a camera sees it, the water first.
func (s *Scene) Legend(c Camera) []Entry {
	l := &lister{}
	s.listWater(l, c)
	s.listGround(l)
	if s.Show.Has(Drawn) {
		present := map[plan.Kind]bool{}
		for _, f := range s.features() {
			present[f.Kind] = true
		}
		for _, spec := range plan.Specs() {
			l.put(present[spec.Kind], swatch(spec.Label, sampleKind(spec)))
		}
		if s.Ghost != nil {
			l.put(true, swatch("Ghost of %s", sampleGhost, s.Ghost.Name))
		}
	}
	l.put(s.Show.Has(Cautions) && len(s.Faults) > 0, swatch("Cannot be measured as it is drawn", sampleFault))
	l.put(s.Show.Has(Cautions) && len(s.Cautions) > 0, swatch("Caution: to be checked", sampleCaution))
	return l.all
}

func (s *Scene) listWater(l *lister, c Camera) {
	deepest := s.index().pond.deepest
	l.put(s.Show.Has(Standing) && deepest > 0, ramp("Standing water, depth", samplePond, s.depthFigures(deepest)))
	s.listDays(l)
	deepest = s.Storm.Deepest()
	if deepest > 0 {
		l.put(s.Show.Has(Stormwater), ramp("Standing after %s of rain, depth", samplePond, s.depthFigures(deepest), rainText(s.Storm.Rain, s.Units)))
	}
	if d := s.Drainage; d != nil && len(d.reaches) > 0 {
		scale := s.pathScale(c)
		l.put(s.Show.Has(Water), ramp("Water path, by the area that drains to it", samplePath(scale.Thick > scale.Thin), s.pathFigures(scale)))
	}
	for i, g := range grades {
		l.put(s.Show.Has(Certainty) && s.Sure != nil, swatch(g.words, sampleSure(i)))
	}
	for _, t := range s.Trails {
		l.put(s.Show.Has(Fates), swatch("Water of %s", sampleTrail(t.Number), t.Name))
	}
	l.put(s.Show.Has(Hollows) && s.Ponding != nil && len(s.Ponding.Hollows) > 0, swatch("Hollow that ponds", sampleHollow))
}

func (s *Scene) listGround(l *lister) {
	heights := s.Show.Has(Heights) && s.Heights != nil
	l.put(heights, ramp("Height", sampleHeights, s.heightFigures()))
	slopes := s.Show.Has(Slopes) && s.Slopes != nil && !heights
	l.put(slopes, slopeEntry())
	if s.Show.Has(Doubts) && s.Doubt != nil {
		l.put(!heights && !slopes, ramp("How far off heights may be", sampleDoubts, s.doubtFigures()))
		l.put(s.Doubt.TooLittle > 0, swatch("Too thin to say how it drains", sampleThin))
	}
	l.put(s.Show.Has(Shade) && s.index().unknown, swatch("Ground not known", sampleUnknown))
	l.put(len(s.patches()) > 0, swatch("Ground worked out, not measured", samplePatch))
	l.put(s.Show.Has(Contours) && len(s.Contours) > 0, swatch(everyContour, sampleContours, s.intervalFigure()))
}

func sampleCaution(k *canvas, b orb.Bound) { k.cautionMark(b.Center()) }

func sampleFault(k *canvas, b orb.Bound) { k.faultMark(b.Center()) }
