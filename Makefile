# Runnel's targets. Each first installs what it needs and does not find
# (Debian and Ubuntu, as root or by sudo), and says nothing where all is there.
# They are: run test demo outside bench lint screenshots, and build, smoke, drive,
# soak, bench-go and bench-window.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := build

# What the program is built with, what it needs to run a window, and what the
# checks of the real window, the outside check and the benchmark need besides.
BUILD_NEEDS  := gcc g++ pkg-config libgdal-dev libgl1-mesa-dev xorg-dev
WINDOW_NEEDS := libgl1-mesa-dri
SCREEN_NEEDS := $(BUILD_NEEDS) $(WINDOW_NEEDS) xvfb xdotool imagemagick python3
OUTSIDE_NEEDS := $(BUILD_NEEDS) python3-skimage python3-scipy python3-gdal
BENCH_NEEDS  := $(BUILD_NEEDS) gdal-bin

# The ci tag draws Fyne in software, so tests compile no OpenGL.
GO_TEST := go test -tags ci

NEEDED := needs-build needs-window needs-screen needs-outside needs-bench
.PHONY: build run demo test soak outside bench bench-go bench-window lint smoke drive screenshots $(NEEDED)

$(NEEDED):
	@.ci/needs $(NEEDS)
needs-build:   NEEDS := $(BUILD_NEEDS)
needs-window:  NEEDS := $(BUILD_NEEDS) $(WINDOW_NEEDS)
needs-screen:  NEEDS := $(SCREEN_NEEDS)
needs-outside: NEEDS := $(OUTSIDE_NEEDS)
needs-bench:   NEEDS := $(BENCH_NEEDS)

build: needs-build
	go build -o bin/runnel ./cmd/runnel

# The main job: the window on the demo site; with no display, the whole job
# headless, its products in out/.
run: needs-window build
	@if [[ -n "$${DISPLAY:-}$${WAYLAND_DISPLAY:-}" ]]; then \
		exec bin/runnel --demo; \
	else \
		echo "There is no display, so the whole job runs without a window; the products go to out/."; \
		exec bin/runnel demo out; \
	fi

demo: build
	bin/runnel demo out

test: needs-build
	$(GO_TEST) -shuffle=on ./...

# Very many random events in the window; RUNNEL_SEED repeats a run.
soak: needs-build
	FYNE_CACHE=2s RUNNEL_SOAK=$(or $(EVENTS),20000) $(GO_TEST) -count=1 -timeout 60m -v -run TestASoak ./app/ui

# Holds what runnel says of water, and the grounds that it makes of contours, to
# general-purpose libraries. ON names folders of more rasters to do it on.
outside: needs-outside build
	/usr/bin/python3 -B .ci/outside.py bin/runnel $(ON)
	/usr/bin/python3 -B .ci/outside_surface.py bin/runnel $(ON)

# The water engine's speed, its targets beside it. MAX is the largest ground in
# million cells.
bench: needs-bench
	go run ./cmd/bench -max $(or $(MAX),100)

bench-go: needs-build
	$(GO_TEST) -run '^$$' -bench . -benchmem ./analysis/... ./app/view

# What a person feels of the window: frames while the map is in the hand, and how
# often figures and map follow a thing that is dragged.
bench-window: needs-build
	$(GO_TEST) -run '^$$' -bench TheMapInHand -benchtime 192x ./app/ui
	$(GO_TEST) -run '^$$' -bench UpdatesWhileDragging -benchtime 1x ./app/ui

lint: needs-build
	@unformatted=$$(gofmt -l .); if [[ -n "$$unformatted" ]]; then echo "gofmt these: $$unformatted"; exit 1; fi
	go vet -tags ci ./...
	go tool staticcheck -tags ci ./...
	CGO_ENABLED=0 go build ./analysis/... $$(go list ./geo/... | grep -v /geo/gdal)

# Opens the built window once on a screen of its own and sees that it draws.
smoke: needs-screen build
	.ci/smoke

# Does the whole job in the built window by pointer and keyboard, kills it in the
# middle of a drag, and holds what it brings back to the command line's figures.
drive: needs-screen build
	.ci/drive

screenshots: needs-screen build
	.ci/screenshots assets/screenshots
