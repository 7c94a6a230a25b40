package ui

import (
	"encoding/json"
	"io"
	"sync"
)

// A trace writes what happens in the window as JSON, one object a line, for
// those who drive the window from outside and must wait for it.
type trace struct {
	mu sync.Mutex
	to io.Writer
}

// say writes one event with what belongs to it: names and values in turn.
func (t *trace) say(event string, pairs ...any) {
	if t.to == nil {
		return
	}
	line := map[string]any{"event": event}
	for i := 0; i+1 < len(pairs); i += 2 {
		line[pairs[i].(string)] = pairs[i+1]
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	// A reader of the trace that has gone away must not stop the work.
	_ = json.NewEncoder(t.to).Encode(line)
}
