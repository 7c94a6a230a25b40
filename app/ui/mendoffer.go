package ui

import (
	"context"

	"runnel/app/work"
	"runnel/geo/grid"
)

// mendOffers are the ledger's buttons that mend the ground, each shown where there is
// something to mend.
type mendOffers struct {
	w          *Window
	fill, bare *button
	// seeker counts the voids of the ground that was looked at last.
	seeker *work.Latest[voidsFound]
	of     grid.Ground
	voids  void
}

// voidsFound is what was found in a ground.
type voidsFound struct {
	of grid.Ground
	void
}

func newMendOffers(w *Window) *mendOffers {
	m := &mendOffers{w: w}
	m.fill = newButton(tr("Fill voids…"), w.askVoids)
	m.bare = newButton(tr("Take buildings and trees out…"), w.askBare)
	m.seeker = work.NewLatest(func(found voidsFound, err error) { w.post(func() { m.take(found, err) }) })
	return m
}

func (m *mendOffers) update() {
	if ground := m.w.doc.Site().Ground; !sameGround(ground, m.of) {
		m.of, m.voids = ground, void{}
		m.seeker.Request(func(context.Context) (voidsFound, error) { return voidsFound{ground, voidOf(ground)}, nil })
	}
	shown(m.fill, m.voids.holes > 0)
	shown(m.bare, m.w.needsCovers() == "")
}

func (m *mendOffers) take(found voidsFound, err error) {
	if err != nil || !sameGround(found.of, m.of) {
		return
	}
	m.voids = found.void
	shown(m.fill, m.voids.holes > 0)
}

// sameGround reports whether two grounds are one.
func sameGround(a, b grid.Ground) bool {
	return a.Frame == b.Frame && len(a.V) == len(b.V) && (len(a.V) == 0 || &a.V[0] == &b.V[0])
}
