//go:build unix

package action

import (
	"runtime"
	"syscall"
)

// peakBytes returns the most memory that the program has held so far.
func peakBytes() int64 {
	var use syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &use) != nil {
		return 0
	}
	if runtime.GOOS == "darwin" || runtime.GOOS == "ios" {
		return int64(use.Maxrss) // bytes there, kilobytes elsewhere
	}
	return int64(use.Maxrss) * 1024
}
