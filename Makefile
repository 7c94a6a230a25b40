# Runnel's targets. Each first installs what it needs and does not find
# (Debian and Ubuntu, as root or by sudo), and says nothing where all is there.
# They are: run test demo bench lint screenshots, and build and smoke.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := build

# What the program is built with, what it needs to run a window, and what the
# checks of the real window need besides.
BUILD_NEEDS  := gcc g++ pkg-config libgdal-dev libgl1-mesa-dev xorg-dev
WINDOW_NEEDS := libgl1-mesa-dri
SCREEN_NEEDS := $(BUILD_NEEDS) $(WINDOW_NEEDS) xvfb xdotool imagemagick

# The ci tag draws Fyne in software, so tests compile no OpenGL.
GO_TEST := go test -tags ci

.PHONY: build run demo test bench lint smoke screenshots needs-build needs-window needs-screen

needs-build needs-window needs-screen:
	@.ci/needs $(NEEDS)
needs-build:  NEEDS := $(BUILD_NEEDS)
needs-window: NEEDS := $(BUILD_NEEDS) $(WINDOW_NEEDS)
needs-screen: NEEDS := $(SCREEN_NEEDS)

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

bench: needs-build
	$(GO_TEST) -run '^$$' -bench . -benchmem ./analysis/... ./app/view

lint: needs-build
	@unformatted=$$(gofmt -l .); if [[ -n "$$unformatted" ]]; then echo "gofmt these: $$unformatted"; exit 1; fi
	go vet -tags ci ./...
	go tool staticcheck -tags ci ./...
	CGO_ENABLED=0 go build ./analysis/... $$(go list ./geo/... | grep -v /geo/gdal)

# Opens the built window once on a screen of its own and sees that it draws.
smoke: needs-screen build
	.ci/smoke

screenshots: needs-screen build
	.ci/screenshots assets/screenshots
