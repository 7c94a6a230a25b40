package flow

import (
	"context"

	"runnel/geo/grid"
)

// carve turns about, in each basin, the way from the cell that it is left by down
// to its floor ([Cordonnier2019], section on carving), so that the water of a full
// hollow keeps to the valley's line and leaves by the lowest pass. Where the
// floor is level its cells are led to the foot of that way.
func (r *Router) carve(ctx context.Context) error {
	err := r.each(ctx, func(s *strip, d *desk) {
		from, to := r.cells(s)
		d.flat.over(from, to)
		s.floor = s.floor[:0]
		level := s.level
		for i, pit := range s.pit {
			for len(level) > 0 && level[0] < pit {
				level = level[1:]
			}
			b := s.base + int32(i)
			switch {
			case len(level) == 0 || level[0] != pit:
				r.carveTo(b, pit)
			case !r.carveFloor(b, &d.flat):
				s.floor = append(s.floor, b)
			}
		}
		d.flat.forget()
	})
	if err != nil {
		return err
	}
	for i := range r.strips {
		for _, b := range r.strips[i].floor {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			err := r.acrossStrips(r.flow.Basins.Pit[b], func() bool { return r.carveFloor(b, &r.lake) })
			if err != nil {
				return err
			}
		}
		r.space.Release()
	}
	return nil
}

// carveTo turns about the way down to the one cell of basin b's floor.
func (r *Router) carveTo(b, pit int32) {
	fall, dir := r.flow.Fall.V, r.flow.Dir.V
	way := &r.flow.Basins.Way[b]
	c := way.From
	dir[c] = r.wayOut(way)
	for c != pit {
		d := fall[c]
		c += int32(r.offset[d&7])
		dir[c] = d.Back()
	}
}

// carveFloor is carveTo where the floor has many cells; it reports false where f
// does not cover it.
func (r *Router) carveFloor(b int32, f *flat) bool {
	z, fall, dir := r.flow.Ground.V, r.flow.Fall.V, r.flow.Dir.V
	way := &r.flow.Basins.Way[b]
	c, floor := way.From, z[r.flow.Basins.Pit[b]]
	dir[c] = r.wayOut(way)
	for z[c] > floor {
		d := fall[c]
		c += int32(r.offset[d])
		dir[c] = d.Back()
	}
	out := dir[c]
	if f.floor = 1; !r.gather(f, c) {
		f.clear()
		return false
	}
	f.gate = append(f.gate[:0], 0)
	r.spread(f, f.gate, &f.toward)
	for i := range f.toward {
		f.toward[i]--
	}
	r.superpose(f)
	f.toward[0] = 0
	r.follow(f, dir)
	dir[c] = out
	f.clear()
	return true
}

// wayOut returns the direction in which a basin is left.
func (r *Router) wayOut(way *Way) grid.Dir {
	w := r.flow.Fall.W
	if way.To < 0 {
		return wayOff(r.flow.Ground, int(way.From)%w, int(way.From)/w)
	}
	for d, off := range &r.offset {
		if way.From+int32(off) == way.To {
			return grid.Dir(d)
		}
	}
	panic("flow: the two sides of a pass are not neighbours")
}
