package channel

import "fmt"

// sectionsInMoats says which Sections that shape a channel's section stand in the moat
// of an island, whose arms have a bed of their own.
func (n *Network) sectionsInMoats() {
	for _, f := range n.sections {
		i := n.moatAt(f.Point())
		if i < 0 || !(fix{Feature: f}).shapes() && f.Text("surveyed") == "" {
			continue
		}
		n.wrong(f, f.Point(), fmt.Errorf("%s lies in the moat of %s, where the arms have their own bed; move it off, or set the arms' width", f.Title(), n.islands[i].Title()))
	}
}
