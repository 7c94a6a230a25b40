//go:build !amd64

package flow

// vectors are for processors that have AVX2.
type vectors struct{}

// fallByVectors reports false, as on all processors without AVX2.
func (r *Router) fallByVectors(*strip, *vectors) bool { return false }
