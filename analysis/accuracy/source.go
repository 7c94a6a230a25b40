package accuracy

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// A file is what is compared of a source with others: some of its heights.
type file struct {
	some  []place
	bound orb.Bound
	cloud *cloud
	// same is set where all of three heights or more are one.
	same bool
	// apart is how far its places lie from each other on the mean [m].
	apart float64
}

// enough is how many heights of a source are looked at.
const enough = 50_000

// measure finds where the heights of each source lie.
func (k *check) measure() []file {
	files := make([]file, len(k.Sources))
	all := make([]int, len(k.Sources))
	k.each(func(source int, _ place) { all[source]++ })
	count := make([]int, len(k.Sources))
	for i := range files {
		files[i] = file{same: all[i] >= 3, bound: orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}}
	}
	k.each(func(source int, p place) {
		f := &files[source]
		if count[source]%(all[source]/enough+1) == 0 {
			f.some = append(f.some, p)
		}
		count[source]++
		f.same = f.same && p.z == f.some[0].z
		f.bound = f.bound.Extend(orb.Point{p.x, p.y})
	})
	k.ranges = make([]span, len(k.Sources))
	for i, f := range files {
		k.ranges[i] = rangeOf(f.some)
		if n := len(f.some); n > 0 {
			b := f.bound
			files[i].apart = math.Sqrt(max((b.Max[0]-b.Min[0])*(b.Max[1]-b.Min[1]), tolerance) / float64(n))
		}
	}
	return files
}

// rangeOf says where heights lie, without those that may stand for none.
func rangeOf(some []place) span {
	var z []float64
	for _, p := range some {
		if !slices.Contains(none, p.z) {
			z = append(z, p.z)
		}
	}
	if len(z) == 0 {
		for _, p := range some {
			z = append(z, p.z)
		}
	}
	n := len(z)
	if n == 0 {
		return span{}
	}
	m := median(z)
	return span{z[n/20], m, z[n-1-n/20]}
}

// each visits the known heights of all sources.
func (k *check) each(visit func(source int, p place)) {
	for i, l := range k.Lines {
		if l.Source < 0 || l.Source >= len(k.Sources) || !tells(l) {
			continue
		}
		for j, p := range l.At {
			visit(l.Source, place{p[0], p[1], l.Height(j), int32(i)})
		}
	}
	for i, p := range k.Spots {
		if s := k.source(p); s >= 0 && !p.Out && placed(p.At) && finite(p.Z) {
			visit(s, place{p.At[0], p.At[1], p.Z, int32(i)})
		}
	}
}

// files finds the faults of whole sources. Each is held against those before it.
func (k *check) files() error {
	files, before := k.measure(), -1
	var around orb.Bound
	for i := range files {
		f := &files[i]
		if len(f.some) == 0 {
			continue
		}
		if f.same && k.Sources[i].Form != survey.Raster {
			k.add(Fault{Sort: AllAlike, At: f.bound.Center(), Sources: []int{i}, Says: fmt.Sprintf(
				"All heights of %s are %.2f m; see whether another column or field holds them.", k.name(i), f.some[0].z)})
			k.off[i] = true
			continue
		}
		if before >= 0 && apart(f.bound, around) > max(width(f.bound), width(around), 100) {
			k.away(i, before, f.bound, around)
			continue
		}
		f.cloud = newCloud(slices.Clone(f.some))
		for j := range i {
			if files[j].cloud != nil && !k.off[j] && k.compare(i, j, files) {
				break
			}
		}
		if before < 0 {
			before, around = i, f.bound
		}
		around = around.Union(f.bound)
	}
	return k.ctx.Err()
}

// compare holds a source against an earlier one, and reports whether it has a fault.
func (k *check) compare(i, j int, files []file) bool {
	f, g := files[i], files[j]
	if apart(f.bound, g.bound) > 0 {
		return k.unlike(i, j, files)
	}
	var off, ratio []float64
	h := hunt{cloud: g.cloud}
	for n := 0; n < len(f.some); n += len(f.some)/2000 + 1 {
		p := f.some[n]
		if hits := h.near(p.x, p.y, -1, 1); hits[0].square < square(2*g.apart) {
			off = append(off, p.z-hits[0].z)
			ratio = append(ratio, p.z/hits[0].z)
		}
	}
	if len(off) < fewest {
		return false
	}
	s := spread(off)
	if math.Abs(s.middle) < 3*normal*s.high+0.3 {
		return false
	}
	k.off[i] = true
	fault := Fault{Sort: Shifted, At: f.bound.Center(), Sources: []int{i}, Off: math.Abs(s.middle), Says: fmt.Sprintf(
		"The heights of %s lie %.2f m from those of %s beside them on the mean; see whether both are above the same datum and in the same unit.", k.name(i), s.middle, k.name(j))}
	r := median(ratio)
	if near(r, feet) || near(r, 1/feet) {
		fault.Sort, fault.Says = OddUnit, fmt.Sprintf(
			"The heights of %s are %.2f times those of %s beside them, as feet are of metres; see in which unit each file has its heights.", k.name(i), r, k.name(j))
	}
	k.add(fault)
	return true
}

// near reports whether a ratio is another to 3 %.
func near(r, want float64) bool { return math.Abs(r/want-1) < 0.03 }

// away adds the fault of a source that lies nowhere near those before, one of which
// is named.
func (k *check) away(i, before int, f, around orb.Bound) {
	far := apart(f, around) / 1000
	fault := Fault{Sort: Astray, At: f.Center(), Sources: []int{i}, Says: fmt.Sprintf(
		"%s lies %.1f km from %s; see whether both are in the coordinate system that was given for them.", k.name(i), far, k.name(before))}
	turned := orb.Bound{Min: orb.Point{f.Min[1], f.Min[0]}, Max: orb.Point{f.Max[1], f.Max[0]}}
	if apart(turned, around) <= max(width(f), width(around)) {
		fault.Says = fmt.Sprintf(
			"%s lies %.1f km from %s, and beside it with east and north exchanged; exchange the two columns.", k.name(i), far, k.name(before))
	}
	k.add(fault)
}

// apart returns how far two boxes lie from each other [m].
func apart(a, b orb.Bound) float64 {
	dx := max(0, a.Min[0]-b.Max[0], b.Min[0]-a.Max[0])
	dy := max(0, a.Min[1]-b.Max[1], b.Min[1]-a.Max[1])
	return math.Hypot(dx, dy)
}

// width is a box's longer side [m].
func width(b orb.Bound) float64 { return max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) }
