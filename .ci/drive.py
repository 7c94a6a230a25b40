"""Drives the built window as a person would, and holds it to the command line.

Usage: drive.py PROGRAM FOLDER, on a screen (DISPLAY) of its own.

It opens the demo site, draws a channel and an island in a scheme of their own,
drags a point and the water's level, takes the last back, saves, kills the program
in the middle of a drag, takes up what was kept, writes GeoJSON, and compares
figures and drawing with those of the program without a window.
"""

import json
import math
import os
import pathlib
import signal
import subprocess
import sys
import time

from drive_window import PATIENCE, Window, fail

# The demo site's south-west corner, and places that lie so far east and north of
# it [m]: a channel along the contour, the middle of an island in it, and where the
# island reaches to.
CORNER = (523_400, 4_811_100)
CHANNEL = [(26, 52), (33, 47), (41, 46), (49, 43.5), (57, 44)]
ISLAND = (41, 46), (43.5, 46)
BEND = 1  # the channel's point that is dragged

# What the window's trace and the command line call the same figure.
FIGURES = {
    "contact": "contact_area_m2", "contactOnGround": "contact_area_on_ground_m2", "ratio": "contact_ratio_to_as_it_is",
    "wetBank": "wet_bank_m", "surface": "water_surface_m2", "storage": "storage_m3", "length": "length_m",
    "depth": "greatest_depth_m", "cut": "cut_m3", "fill": "fill_m3",
}


def ground(place):
    return tuple(c + v for c, v in zip(CORNER, place))


class Job:
    """The whole drive: the program, where it works, and what it has drawn."""

    def __init__(self, program, folder):
        self.program, self.folder = program, folder
        self.site = folder / "site.gpkg"
        # The dialogs begin in the person's own folder, and so here.
        os.environ["HOME"] = str(folder)

    def headless(self, *arguments):
        return subprocess.run([self.program, *map(str, arguments)], check=True, capture_output=True, text=True).stdout

    def open(self, *arguments):
        self.window = Window(self.program, self.folder, *arguments)

    def fail(self, words):
        fail(words, self.window)

    def settled(self):
        """The window's figures of the scheme, once it is at rest."""
        self.window.quiet()
        return self.window.newest("figures", scheme=self.scheme)

    def draw(self):
        """Draws a channel and an island in a scheme of their own."""
        w = self.window
        w.press("ctrl+3", "step", name="Shape")
        self.scheme = w.press("ctrl+shift+n", "scheme")["name"]
        w.quiet()
        w.find("channel", "Channel")
        for place in CHANNEL:
            w.click(w.screen(ground(place)))
        w.press("Return", "figures", scheme=self.scheme)
        self.channel = w.newest("selected")["id"]
        self.draw_island()

    def draw_island(self):
        w = self.window
        before = self.settled()["contact"]
        w.press("i", "tool", name="island")
        w.press("z", "command", name="Straight, curved or round")  # from curved, as is usual, to round
        w.mark()
        w.drag(*(w.screen(ground(place)) for place in ISLAND))
        w.let_go()
        self.island = w.wait_for("selected")["id"]
        w.press("Escape", "tool", name="select")
        w.shot("drawn")
        if self.island in (0, self.channel) or self.settled()["contact"] == before:
            self.fail("the island is not in the channel: the figures are as they were")

    def hold_bend(self, *ways, steps):
        """Drags the channel's bend so many pixels off and on, with the button still
        down; returns the updates a second on the way: of the figures, of the map."""
        w = self.window
        w.mark()
        at = w.screen(self.bend)
        if w.newest("selected")["id"] != self.channel:
            w.click(at)
            w.wait_for("selected", id=self.channel)
        w.mark()
        took = w.drag(at, *((at[0] + x, at[1] + y) for x, y in ways), steps=steps)
        rates = [len(w.since(event)) / took for event in ("figures", "shown")]
        scale = w.newest("view")["scale"]
        self.bend = (self.bend[0] + ways[-1][0] / scale, self.bend[1] - ways[-1][1] / scale)
        return rates

    def drag_bend(self):
        self.bend = ground(CHANNEL[BEND])
        before = self.settled()["contact"]
        rates = self.hold_bend((40, -10), (-20, -20), (10, -16), steps=30)
        self.window.let_go()
        if self.settled()["contact"] == before:
            self.fail("a point of the channel was dragged, and the figures are as they were")
        return rates

    def drag_water(self):
        """Drags the water in the long section, and takes that back."""
        w = self.window
        before = self.settled()
        grip = w.newest("grip", id=self.channel, field="water_level")
        w.mark()
        at = grip["x"], grip["y"]
        w.drag(at, (at[0], at[1] + 12))
        w.let_go()
        level = w.wait_for("level", id=self.channel)
        lower = self.settled()
        w.shot("lowered")
        if not (level["value"] < grip["level"] and lower["contact"] < before["contact"]):
            self.fail("the water was dragged down, and it touches as much as before")
        w.press("ctrl+z", "undone")
        self.same(self.settled(), before, "after the water's level was taken back")

    def save(self):
        w = self.window
        w.press("ctrl+s", "saved", path=str(self.site))
        self.saved = self.settled()
        self.as_headless(self.saved, self.site)

    def kill_while_dragging(self):
        """Kills the program with the button down, once the copy against a crash
        holds the drag."""
        self.hold_bend((-10, 9), steps=9)
        self.held = self.settled()
        if self.held["contact"] == self.saved["contact"]:
            self.fail("the drag that is to be cut short has changed nothing")
        self.wait_for_copy()
        self.window.process.send_signal(signal.SIGKILL)
        self.window.process.wait(PATIENCE)
        self.window.let_go()
        self.as_headless(self.saved, self.site)

    def wait_for_copy(self):
        copies = pathlib.Path(os.environ["XDG_CONFIG_HOME"]) / "runnel" / "recovery"
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            for copy in copies.glob("[!.]*.gpkg"):
                if close(self.measure(copy)[FIGURES["contact"]], self.held["contact"]):
                    return
            time.sleep(0.2)
        self.fail(f"no copy against a crash holds the drag after {PATIENCE} s")

    def recover(self):
        """Starts again, takes up what was kept and finds the drag in it."""
        self.open()
        w = self.window
        w.wait_for("recovery offered")
        w.press("Return", "shown")
        shown = w.newest("figures")["scheme"]
        for _ in range(3):  # on to the scheme, if another is shown first
            if shown == self.scheme:
                break
            shown = w.press("ctrl+Next", "scheme")["name"]
        w.wait_for("figures", scheme=self.scheme)
        self.same(self.settled(), self.held, "after the crash")
        w.shot("recovered")

    def export(self):
        w = self.window
        w.find("save", "Save")
        w.wait_for("saved", path=str(self.site))
        w.find("geojson", "Export: Drawing, GeoJSON…")
        subprocess.run(["xdotool", "type", "--delay", "12", "window.geojson"], check=True)
        w.press("Return", "exported", path=str(self.folder / "window.geojson"))

    def compare(self):
        """Holds the window's figures and drawing to the command line's."""
        self.as_headless(self.held, self.site)
        theirs = self.folder / "headless.geojson"
        self.headless("export", self.site, theirs)
        ours, wanted = (drawing(self.folder / name) for name in ("window.geojson", theirs.name))
        for number in sorted(ours.keys() | wanted.keys()):
            if ours.get(number) != wanted.get(number):
                self.fail(f"thing {number}: the window wrote {ours.get(number)}, the command line {wanted.get(number)}")
        for number, kind in ((self.channel, "channel"), (self.island, "island")):
            if ours.get(number, {}).get("properties", {}).get("kind") != kind:
                self.fail(f"the {kind} that was drawn, number {number}, is not in the drawing")
        return len(ours)

    def measure(self, site):
        return json.loads(self.headless("measure", site, "--scheme", self.scheme, "--json"))["schemes"][0]

    def as_headless(self, figures, site):
        measured = self.measure(site)
        for name, key in FIGURES.items():
            if not close(measured[key], figures[name]):
                self.fail(f"{name}: the window has {figures[name]}, the command line {measured[key]}")
        if len(measured["cautions"]) != figures["cautions"]:
            self.fail(f"the window has {figures['cautions']} cautions, the command line {len(measured['cautions'])}")

    def same(self, got, want, when):
        for name in [*FIGURES, "cautions"]:
            if not math.isclose(got[name], want[name], rel_tol=1e-9, abs_tol=1e-9):
                self.fail(f"{when}, {name} is {got[name]} and was {want[name]}")


def close(written, figure):
    """Whether a figure is what the command line has written, to three decimals."""
    return abs(written - figure) <= 0.0005 + 1e-9


def drawing(path):
    """The features of a drawing by their number."""
    return {f["id"]: f for f in json.loads(path.read_text())["features"]}


def main(program, folder):
    began = time.monotonic()
    job = Job(program, pathlib.Path(folder).resolve())
    job.headless("demo", job.folder)
    job.open(job.site)
    job.window.wait_for("shown")
    job.draw()
    figures, maps = job.drag_bend()
    job.drag_water()
    job.save()
    job.kill_while_dragging()
    job.recover()
    job.export()
    things = job.compare()
    job.window.end()
    print(f"ok: drawn, dragged, killed and brought back; {len(FIGURES)} figures and {things} things are the command line's "
          f"({time.monotonic() - began:.0f} s; {figures:.1f} updates of the figures and {maps:.1f} of the map a second while dragging, at a load of {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors).")


if __name__ == "__main__":
    main(*sys.argv[1:])
