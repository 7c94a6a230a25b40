package demo

import (
	"math"
	"testing"

	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/geo/plan"
)

// The two ways to the contact area and to the cut share the design alone. On finer
// cells they come together; run with -v it lists how. Of the trench's contact two
// thirds are the lane drain's, a ditch with a bed of 0.4 m.
func TestTheTwoWaysComeTogetherAsTheDemosCellsShrink(t *testing.T) {
	for _, size := range []float64{0.5, 0.25, 0.125} {
		s := Site()
		s.Ground = groundIn(size)
		for _, scheme := range s.Plan.Schemes {
			contact, cut := apart(t, &s, scheme)
			if size <= 0.25 && !(contact < 0.01) {
				t.Errorf("%s: contact differs by %.2f %% at cells of %v m", scheme.Name, 100*contact, size)
			}
			if size <= 0.25 && !(cut < 0.02) {
				t.Errorf("%s: the cut differs by %.2f %% at cells of %v m", scheme.Name, 100*cut, size)
			}
		}
	}
}

// apart returns how far the two ways differ in contact and in cut, as shares.
func apart(t *testing.T, s *plan.Site, scheme plan.Scheme) (contact, cut float64) {
	size := s.Ground.DX
	n, problems := channel.NewNetwork(s, scheme.ID)
	for _, p := range problems {
		t.Errorf("%s, cells of %v m: %v", scheme.Name, size, p)
	}
	lines, err := n.Measure(t.Context(), channel.Step{})
	if err != nil {
		t.Fatal(err)
	}
	along := 0.0
	for _, l := range lines {
		along += l.Measure.Contact
	}
	_, wet, err := earthwork.Stand(t.Context(), s.Ground, n)
	if err != nil {
		t.Fatal(err)
	}
	e, err := earthwork.EndAreas(t.Context(), s.Ground, n, 0)
	if err != nil {
		t.Fatal(err)
	}
	contact, cut = math.Abs(wet.Contact/along-1), math.Abs(e.Grid.Cut/e.AverageEnd.Cut-1)
	t.Logf("%-24s %.3f m: contact %.2f m² along the sections, %.2f m² on the ground (%.2f %%); cut %.3f m³ by average end areas, %.3f by prismoids, %.3f by cells (%.2f %%); sills on the grid %+.3f m³",
		scheme.Name, size, along, wet.Contact, 100*contact, e.AverageEnd.Cut, e.Prismoidal.Cut, e.Grid.Cut, 100*cut, e.Sills.Fill)
	return contact, cut
}
