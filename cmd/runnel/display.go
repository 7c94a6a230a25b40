package main

import (
	"errors"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"
)

var errNoDisplay = errors.New("there is no display to open a window on; the commands work without one, runnel --help lists them")

// display reports a computer on which no window can open. The toolkit itself
// would end the program there without a word for the person.
func display() error {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		return nil
	}
	if name := os.Getenv("WAYLAND_DISPLAY"); name != "" && answers("unix", waylandSocket(name)) {
		return nil
	}
	if answersX(os.Getenv("DISPLAY")) {
		return nil
	}
	return errNoDisplay
}

func waylandSocket(name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(os.Getenv("XDG_RUNTIME_DIR"), name)
}

// answersX reports whether an X server answers at a display named as in X(7):
// host:number.screen, the host and the screen left out for one's own.
func answersX(name string) bool {
	colon := strings.LastIndexByte(name, ':')
	if colon < 0 {
		return false
	}
	host := name[:colon]
	screenless, _, _ := strings.Cut(name[colon+1:], ".")
	number, err := strconv.Atoi(screenless)
	if err != nil {
		return false
	}
	if host == "" || host == "unix" {
		socket := "/tmp/.X11-unix/X" + strconv.Itoa(number)
		return answers("unix", socket) || answers("unix", "@"+socket)
	}
	if filepath.IsAbs(host) { // a socket named in full
		return answers("unix", name)
	}
	return answers("tcp", net.JoinHostPort(strings.Trim(host, "[]"), strconv.Itoa(6000+number)))
}

func answers(network, address string) bool {
	c, err := net.DialTimeout(network, address, 2*time.Second)
	if err != nil {
		return false
	}
	c.Close()
	return true
}
