// Package certainty tells how sure a water path is, given how far the survey
// may be off.
//
// A survey gives one ground out of many that it might as well have given. Each
// draw is such a ground: the one surveyed with an error laid over it, which is
// routed like any other. The share of the draws in which a cell carries flow is
// how sure it is that water runs there: 1 in the bed of a steep valley, little
// anywhere on a plane. This is the Monte Carlo way of [OksanenSarjakoski2005]
// and [HunterGoodchild1997].
//
// The error is normal with a mean of nought and alike in every direction. It is as
// large everywhere, or in each cell as large as it is known to be there: then one
// field of errors is stretched cell by cell, and places still agree as far as its
// reach. Errors h apart are correlated by exp(-(h/reach)²), so by 1/e at
// the reach. A steady lift of the whole survey moves no water and is not asked
// for.
package certainty
