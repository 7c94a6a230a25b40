package soil

import (
	"math"

	"runnel/geo/plan"
)

// Clog follows how a bed clogs over some days under water: from a share of its clean
// rate that is left towards what remains in the end, exponentially. It returns the share
// afterwards and the mean share over those days, both exactly. A bed whose time is not
// set does not clog.
func Clog(c plan.Clogging, share, days float64) (after, mean float64) {
	if !(c.Days > 0) {
		return share, share
	}
	return approach(share, c.Remains, days/c.Days)
}

// Recover follows how a bed that lies dry becomes clean again. One whose time is not set
// is clean at once.
func Recover(c plan.Clogging, share, days float64) (after, mean float64) {
	if !(c.Recovery > 0) {
		return 1, 1
	}
	return approach(share, 1, days/c.Recovery)
}

// approach goes from a share to its end over some times of the exponential, in one of
// which 63 % of the way is gone.
func approach(share, end, times float64) (after, mean float64) {
	if !(times > 0) {
		return share, share
	}
	gone := -math.Expm1(-times)
	return share + (end-share)*gone, end + (share-end)*gone/times
}
