package pool

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// brimWidth is how wide a brim is taken to be, where it is not the end of a channel [m]: common
// practice for a low place of a bank, no source.
const brimWidth = 2.0

// outlets lists where a draft's water leaves, the lowest first and its brim last. What
// lies above the brim is left out: nothing gets there. Their To are numbers of drafts.
func (w *worker) outlets(d *draft) []Outlet {
	var all []Outlet
	for _, k := range d.bodies {
		b := &w.bodies[k]
		for _, s := range b.Spillways {
			o := Outlet{Kind: Spillway, ID: s.ID, Title: s.Title, At: s.At, Crest: s.Crest, Width: s.Width, To: -1}
			if f, ok := w.site.Plan.Find(s.ID); ok && f.Num("pipe") > 0 {
				o.Kind, o.Diameter = Pipe, f.Num("pipe")
			}
			all = append(all, o)
		}
		rest := w.restAt(d, k)
		for i := range b.Openings {
			o := &b.Openings[i]
			crest := max(d.floor, o.Rest())
			if len(d.bodies) > 1 {
				crest = max(crest, rest)
			}
			all = append(all, Outlet{Kind: Mouth, ID: o.Drain.ID, Title: o.Drain.Title(), At: o.At, Crest: crest, Width: w.mouthWidth(o, crest), To: -1})
		}
	}
	for _, p := range w.passes {
		if from, to := w.draftOf(p.From), w.draftOf(p.To); &w.drafts[from] == d && to != from {
			all = append(all, Outlet{Kind: Sill, ID: p.Sill, Title: p.Title, At: p.At, Crest: max(d.floor, p.Crest), Width: p.Width, To: to})
		}
	}
	brim := w.bodies[d.brim].Brim
	if math.IsInf(brim.Level, 1) {
		slices.SortStableFunc(all, func(a, b Outlet) int { return cmp.Compare(a.Crest, b.Crest) })
		return all
	}
	all = slices.DeleteFunc(all, func(o Outlet) bool { return o.Crest >= d.top })
	slices.SortStableFunc(all, func(a, b Outlet) int { return cmp.Compare(a.Crest, b.Crest) })
	wide := w.bodies[d.brim].BrimWidth
	if wide == 0 {
		wide = brimWidth
	}
	return append(all, Outlet{Kind: Brim, ID: brim.ID, Title: brim.Place, At: brim.At, Crest: brim.Level, Width: wide, To: -1})
}

// mouthWidth returns the width of the channel's section at a mouth, at a level [m].
func (w *worker) mouthWidth(o *channel.Opening, level float64) float64 {
	section, err := w.network.SectionAt(o.Channel, o.Chainage)
	if err != nil {
		return 0
	}
	return max(section.Bed, section.TopWidth(level-o.OwnBed))
}

// titled names bodies: their channels, with from where to where of one that sills part.
func (w *worker) titled(bodies []int) string {
	var titles []string
	for _, id := range w.lines(bodies) {
		title := w.features[id].Title()
		if from, to, whole := w.span(bodies, id); !whole {
			title = fmt.Sprintf("%s from %.0f to %.0f m", title, from, to)
		}
		titles = append(titles, title)
	}
	if last := len(titles) - 1; last > 0 {
		return strings.Join(titles[:last], ", ") + " and " + titles[last]
	}
	return strings.Join(titles, "")
}

// span returns from where to where bodies have part in a channel [m], and whether that
// is all of it.
func (w *worker) span(bodies []int, id plan.ID) (from, to float64, whole bool) {
	from, to = math.Inf(1), math.Inf(-1)
	first, last := from, to
	for k := range w.bodies {
		for _, p := range w.bodies[k].Parts {
			if p.ID != id {
				continue
			}
			first, last = min(first, p.From), max(last, p.To)
			if slices.Contains(bodies, k) {
				from, to = min(from, p.From), max(to, p.To)
			}
		}
	}
	return from, to, from == first && to == last
}
