package intake

import (
	"os"
	"strings"
	"syscall"
	"testing"
	"time"
)

func init() {
	acts["crash"] = func() (answer, error) {
		syscall.Kill(os.Getpid(), syscall.SIGSEGV)
		time.Sleep(time.Hour)
		return answer{}, nil
	}
	acts["take memory"] = func() (answer, error) {
		for held := [][]byte{}; ; {
			held = append(held, make([]byte, 64<<20))
		}
	}
	acts["compute"] = func() (answer, error) {
		for begun := time.Now(); time.Since(begun) < time.Hour; {
		}
		return answer{}, nil
	}
}

func TestACrashIsOneSentence(t *testing.T) {
	if said := readAs(t, t.Context(), "crash", Limits{}); !strings.Contains(said, "broke the reader off") {
		t.Errorf("it says %q", said)
	}
}

func TestAChildThatTakesTooMuchSaysWhatOf(t *testing.T) {
	if said := readAs(t, t.Context(), "take memory", Limits{Memory: 512 << 20}); !strings.Contains(said, "more than 0.5 GB of memory") {
		t.Errorf("of memory: %q", said)
	}
	if said := readAs(t, t.Context(), "compute", Limits{Processor: time.Second}); !strings.Contains(said, "more than 1s of computing") {
		t.Errorf("of time: %q", said)
	}
}
