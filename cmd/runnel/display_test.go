package main

import (
	"net"
	"path/filepath"
	"strconv"
	"testing"
)

func TestADisplayIsFoundOnlyWhereOneAnswers(t *testing.T) {
	server, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer server.Close()
	number := server.Addr().(*net.TCPAddr).Port - 6000
	socket := filepath.Join(t.TempDir(), "s:7")
	local, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	defer local.Close()
	for _, c := range []struct {
		name, display string
		want          bool
	}{
		{"none is named", "", false},
		{"the name has no number", "localhost:", false},
		{"the name is nonsense", "a display", false},
		{"no server answers", ":98765", false},
		{"a server answers at the port of the number", "127.0.0.1:" + strconv.Itoa(number), true},
		{"a screen is named too", "127.0.0.1:" + strconv.Itoa(number) + ".0", true},
		{"a socket is named in full", socket, true},
	} {
		if got := answersX(c.display); got != c.want {
			t.Errorf("%s: %q answers is %v", c.name, c.display, got)
		}
	}
}

func TestAWaylandSocketIsLookedForWhereSessionsKeepThem(t *testing.T) {
	t.Setenv("XDG_RUNTIME_DIR", "/run/user/7")
	for name, want := range map[string]string{"wayland-1": "/run/user/7/wayland-1", "/tmp/w": "/tmp/w"} {
		if got := waylandSocket(name); got != want {
			t.Errorf("%s is looked for at %s, want %s", name, got, want)
		}
	}
}
