//go:build !unix

package action

import "runtime"

// peakBytes returns the memory that the program has taken from the system, which
// it seldom gives back; that of the libraries beside it is not counted.
func peakBytes() int64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.Sys)
}
