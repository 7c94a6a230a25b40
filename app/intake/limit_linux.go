package intake

import (
	"fmt"
	"os"
	"syscall"
	"time"
)

// confine bounds this process for the rest of its life.
func confine(l Limits) error {
	held, err := held()
	if err != nil {
		return err
	}
	// Where the computer itself runs short, this process is the one to end. It is
	// as well bounded where the kernel does not take the wish.
	_ = os.WriteFile("/proc/self/oom_score_adj", []byte("1000"), 0o644)
	// At the hard limit the kernel kills; a signal at a softer one goes unheard in Go.
	seconds := uint64((l.Processor + time.Second - 1) / time.Second)
	room := held + uint64(l.Memory)
	if err := syscall.Setrlimit(syscall.RLIMIT_CPU, &syscall.Rlimit{Cur: seconds, Max: seconds}); err != nil {
		return err
	}
	return syscall.Setrlimit(syscall.RLIMIT_AS, &syscall.Rlimit{Cur: room, Max: room})
}

// held returns the address space that this process takes [bytes]. Go's runtime
// claims the more part of it as it starts, and uses little.
func held() (uint64, error) {
	text, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		return 0, err
	}
	var pages uint64
	if _, err := fmt.Sscan(string(text), &pages); err != nil {
		return 0, err
	}
	return pages * uint64(os.Getpagesize()), nil
}
