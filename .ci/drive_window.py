"""The window that drive.py drives: its keyboard, its pointer, and its trace."""

import json
import os
import pathlib
import subprocess
import sys
import time

PATIENCE = 60  # seconds for anything to come about
PACE = 0.016  # seconds between two places of a drag: a pointer's, seen sixty times a second


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
        self.wait_for("started")
        self.focus()

    def focus(self):
        found = subprocess.run(["xdotool", "search", "--sync", "--onlyvisible", "--pid", str(self.process.pid)],
                               check=True, capture_output=True, text=True, timeout=PATIENCE)
        self.id = found.stdout.split()[0]
        xdo("windowfocus", "--sync", self.id)

    def events(self):
        lines = self.trace.read_text().splitlines(keepends=True)
        return [json.loads(line) for line in lines if line.endswith("\n")]

    def newest(self, event, **having):
        """The newest event of a name."""
        for e in reversed(self.events()):
            if fits(e, event, having):
                return e
        fail(f"the window has not said {event} {having or ''}", self)

    def mark(self):
        """Events from now on are those that wait_for looks at."""
        self.seen = len(self.events())

    def since(self, event):
        """The events of a name since the mark."""
        return [e for e in self.events()[self.seen:] if e["event"] == event]

    def wait_for(self, event, **having):
        """Waits for an event since the mark, and returns it."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            for e in self.events()[self.seen:]:
                if fits(e, event, having):
                    return e
            if self.process.poll() is not None:
                fail(f"the program ended while {event} was awaited", self)
            time.sleep(0.02)
        fail(f"{event} {having or ''} did not come about in {PATIENCE} s", self)

    def quiet(self, least=0.6):
        """Waits until nothing has been said for a while [s]."""
        last, since = -1, time.monotonic()
        while time.monotonic() - since < least:
            n = len(self.events())
            if n != last:
                last, since = n, time.monotonic()
            time.sleep(0.05)

    def key(self, *keys):
        for key in keys:
            xdo("key", key)

    def find(self, words, command):
        """Runs a command by the box that finds commands."""
        self.mark()
        self.key("ctrl+p")
        self.wait_for("command", name="Find a command…")
        self.mark()
        xdo("type", "--delay", 12, words)
        self.key("Return")
        return self.wait_for("command", name=command)

    def press(self, keys, event, **having):
        """Presses keys and waits for what comes of it."""
        self.mark()
        self.key(keys)
        return self.wait_for(event, **having)

    def click(self, at):
        xdo("mousemove", "--window", self.id, *pixel(at), "sleep", 0.05, "click", 1)
        time.sleep(0.45)  # a person's pause, so that two clicks are not a double one

    def drag(self, start, *ends, steps=12):
        """Presses at one place and goes to others, each in some steps, with the
        button still down; returns how long that took [s]."""
        xdo("mousemove", "--window", self.id, *pixel(start), "sleep", 0.1, "mousedown", 1)
        way = []
        for end in ends:
            for i in range(1, steps + 1):
                at = [a + i / steps * (b - a) for a, b in zip(start, end)]
                way += ["mousemove", "--window", self.id, *pixel(at), "sleep", PACE]
            start = end
        began = time.monotonic()
        xdo(*way)
        return time.monotonic() - began

    def let_go(self):
        xdo("mouseup", 1)

    def screen(self, place):
        """Where a place on the ground is seen in the window."""
        v = self.newest("view")
        return v["x"] + (place[0] - v["west"]) * v["scale"], v["y"] + (v["north"] - place[1]) * v["scale"]

    def shot(self, name):
        """Takes a picture, where a folder for them is given."""
        if folder := os.environ.get("SHOTS"):
            subprocess.run(["import", "-window", self.id, str(pathlib.Path(folder) / f"{name}.png")], check=True)

    def end(self):
        """Ends the program in good order, and sees that its log holds no fault."""
        self.process.terminate()
        self.process.wait(PATIENCE)
        for fault in ("panic", "Error in Fyne call thread", "fatal error"):
            if fault in self.log.read_text():
                fail(f"the window's log holds {fault!r}", self)


def fits(event, name, having):
    return event["event"] == name and all(event.get(k) == v for k, v in having.items())


def pixel(at):
    return [round(v) for v in at]


def fail(words, window):
    """Says what is wrong, with the end of the trace and the log, and ends."""
    sys.stderr.write("".join(window.trace.read_text().splitlines(keepends=True)[-25:]))
    sys.stderr.write("".join(window.log.read_text().splitlines(keepends=True)[-25:]))
    if window.process.poll() is None:
        window.shot("failed")
        window.process.kill()
    sys.exit("drive: " + words + ".")
