"""Drives the built window as a person would, and holds it to the command line.

Usage: drive.py PROGRAM, on a screen (DISPLAY) of its own.

It opens the demo site, draws a channel and an island, drags a point and the
water's level, takes the last back, saves, kills the program in the middle of a
drag, takes up what was kept, writes GeoJSON, and compares figures and drawing
with those of the program without a window.
"""

import json
import math
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time

PATIENCE = 60  # seconds for anything to come about


def xdo(*words):
    subprocess.run(["xdotool", *map(str, words)], check=True)


class Window:
    """The program in a window, known by what its trace says."""

    def __init__(self, program, folder, *arguments):
        self.trace = folder / "trace"
        self.log = folder / "log"
        with open(self.trace, "w") as trace, open(self.log, "a") as log:
            self.process = subprocess.Popen([program, "--trace", *map(str, arguments)], stdout=trace, stderr=log)
        self.seen = 0

    def focus(self):
        found = subprocess.run(["xdotool", "search", "--sync", "--onlyvisible", "--pid", str(self.process.pid)],
                               check=True, capture_output=True, text=True, timeout=PATIENCE)
        self.id = found.stdout.split()[0]
        xdo("windowfocus", "--sync", self.id)

    def events(self):
        lines = self.trace.read_text().splitlines(keepends=True)
        return [json.loads(line) for line in lines if line.endswith("\n")]

    def newest(self, event, **having):
        """The newest event of a name, or None."""
        for e in reversed(self.events()):
            if e["event"] == event and all(e.get(k) == v for k, v in having.items()):
                return e
        return None

    def mark(self):
        """Events from now on are those that wait_for looks at."""
        self.seen = len(self.events())

    def wait_for(self, event, **having):
        """Waits for an event since the mark, and returns it."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            for e in self.events()[self.seen:]:
                if e["event"] == event and all(e.get(k) == v for k, v in having.items()):
                    return e
            if self.process.poll() is not None:
                fail(f"the program ended while {event} was awaited", self)
            time.sleep(0.05)
        fail(f"{event} {having} did not come about in {PATIENCE} s", self)

    def quiet(self):
        """Waits until no event has come for half a second."""
        last, since = -1, time.monotonic()
        while time.monotonic() - since < 0.5:
            n = len(self.events())
            if n != last:
                last, since = n, time.monotonic()
            time.sleep(0.05)

    def key(self, *keys):
        for key in keys:
            xdo("key", "--window", self.id, key)
            time.sleep(0.1)

    def type(self, words):
        xdo("type", "--window", self.id, "--delay", 15, words)
        time.sleep(0.2)

    def to(self, x, y):
        xdo("mousemove", "--window", self.id, round(x), round(y))
        time.sleep(0.05)

    def click(self, x, y):
        self.to(x, y)
        xdo("click", 1)
        time.sleep(0.45)  # so that two clicks are not a double one

    def drag(self, start, end, let_go=True, steps=12):
        self.to(*start)
        xdo("mousedown", 1)
        for i in range(1, steps + 1):
            share = i / steps
            self.to(start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        if let_go:
            xdo("mouseup", 1)

    def screen(self, place):
        """Where a place on the ground is seen in the window."""
        v = self.newest("view")
        return v["x"] + (place[0] - v["west"]) * v["scale"], v["y"] + (v["north"] - place[1]) * v["scale"]

    def shot(self, path):
        subprocess.run(["import", "-window", self.id, str(path)], check=True)


def fail(words, window=None):
    if window:
        sys.stderr.write("".join(window.trace.read_text().splitlines(keepends=True)[-25:]))
        sys.stderr.write(window.log.read_text())
        if out := os.environ.get("SHOTS"):
            window.shot(pathlib.Path(out) / "failed.png")
        window.process.kill()
    sys.exit("drive: " + words)


def agree(what, got, want, within=1e-9):
    same = math.isclose(got, want, rel_tol=within, abs_tol=within) if isinstance(want, float) else got == want
    if not same:
        fail(f"{what}: the window has {got}, the command line {want}")
