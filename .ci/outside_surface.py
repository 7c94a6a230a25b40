"""Holds `runnel new --contours` to GDAL, SciPy, scikit-image and PROJ.

Usage: outside_surface.py RUNNEL [FOLDER...]

GDAL draws contours on grounds made here and on every raster of heights below the
folders named; runnel makes a ground of the contours again. It is compared with the
ground they were drawn on, beside what GDAL's own linear gridding makes of the same
vertices, in the cells where all three have a height:

  ratio    root of the mean square of the differences, runnel's over linear's
  hollows  pools of two cells or more, deeper than a millimetre, that touch no pool
           of the ground; pools are found by scikit-image's reconstruction
  flat     share of cells as high as all eight around them
  miss     farthest that runnel's surface, bilinear, is from a vertex of a contour [interval];
           beside no data GDAL bends its contours, and vertices there are left out

Besides, the contours in other formats must give the same ground, and positions must
come from longitude and latitude and back as PROJ has them.
"""

import pathlib
import statistics
import subprocess
import sys
import tempfile

import numpy
import outside_contours as contours
import outside_formats as formats
from osgeo import gdal
from scipy import ndimage
from skimage.morphology import reconstruction

RING = numpy.ones((3, 3))
SHALLOW, FEWEST = 0.001, 2  # a pool that counts is deeper [m] and has so many cells
# What a ground may have at most.
WORST_RATIO, MEDIAN_RATIO = 0.9, 0.75
HOLLOWS = 0.1  # of linear's; where that has few, one
FEW = 10
FLAT = 0.01
MISS = 0.1  # of the interval
SAME = 0.01  # grounds nowhere further apart are one ground [m]


def rebuilt(runnel, ground, path, folder, words=("--height", "elev")):
    """The heights that runnel makes of a file of contours, on the ground's own cells."""
    west, south, east, north = (repr(float(side)) for side in ground.bounds())
    site, out = folder / "site.gpkg", folder / "out.tif"
    new = ["new", site, "--force", "--contours", path, *words, "--cell", repr(float(ground.cell)), f"--bounds={west},{south},{east},{north}"]
    for arguments in (new, ["export", site, out]):
        run = subprocess.run([runnel, *arguments], capture_output=True, text=True)
        if run.returncode:
            raise contours.Unfit(f"WRONG: {(run.stderr.strip().splitlines() or [str(run.returncode)])[-1]}")
    raster = gdal.Open(str(out))
    if raster.ReadAsArray().shape != ground.z.shape or numpy.abs(numpy.subtract(raster.GetGeoTransform(), ground.transform())).max() > 1e-6:
        raise contours.Unfit("WRONG: the site's cells are not those asked for")
    return raster.ReadAsArray().astype(float)


def pools(z):
    """Numbers the pools that count; 0 is none. Water leaves at the edge and into no data."""
    known = ~numpy.isnan(z)
    top = numpy.nanmax(z)
    beside = ndimage.binary_dilation(numpy.pad(~known, 1, constant_values=True), RING)[1:-1, 1:-1]
    mask = numpy.where(known, z, top)
    filled = reconstruction(numpy.where(known & beside, z, top), mask, method="erosion", footprint=RING)
    pool, count = ndimage.label(filled > mask, RING)
    index = numpy.arange(1, count + 1)
    if not count:
        return pool
    small = (ndimage.maximum(filled - mask, pool, index) <= SHALLOW) | (ndimage.sum(pool > 0, pool, index) < FEWEST)
    pool[numpy.isin(pool, index[small])] = 0
    return pool


def spurious(z, real):
    """How many pools of z touch none of the real ones."""
    pool = pools(z)
    return len(numpy.setdiff1d(pool[pool > 0], pool[real > 0]))


def flat(z):
    """The share of cells that are exactly as high as all eight around them."""
    level = ndimage.maximum_filter(z, footprint=RING) == ndimage.minimum_filter(z, footprint=RING)
    return level[1:-1, 1:-1].mean()


def miss(ground, z, vertices):
    """The farthest that z is from a vertex between four cell centres with heights [m]."""
    column = (vertices[:, 0] - ground.west) / ground.cell - 0.5
    row = (ground.north - vertices[:, 1]) / ground.cell - 0.5
    known = ndimage.binary_erosion(~numpy.isnan(ground.z), RING, iterations=2, border_value=1)
    at = ndimage.map_coordinates(numpy.where(known, z, numpy.nan), [row, column], order=1, mode="constant", cval=numpy.nan)
    return numpy.nanmax(abs(at - vertices[:, 2]))


def rmse(z, truth):
    return numpy.sqrt(numpy.nanmean((z - truth) ** 2))


def compare(runnel, ground, interval, folder):
    """Rebuilds a ground from its contours and measures what came back."""
    path = folder / "contours.gpkg"
    path.unlink(missing_ok=True)
    contours.draw(ground, interval, path)
    ours, linear = rebuilt(runnel, ground, path, folder), contours.linear(ground, path)
    off = miss(ground, ours, contours.vertices(path)) / interval
    none = numpy.isnan(ground.z) | numpy.isnan(ours) | numpy.isnan(linear)
    truth, ours, linear = (numpy.where(none, numpy.nan, z) for z in (ground.z, ours, linear))
    real = pools(truth)
    return {
        "rmse": (rmse(ours, truth), rmse(linear, truth)),
        "hollows": (spurious(ours, real), spurious(linear, real)),
        "flat": (flat(ours), flat(linear)),
        "miss": off,
    }


def faults(m):
    """What is worse than it may be, a word each."""
    ours, linear = m["hollows"]
    return [word for word, bad in (
        ("ratio", m["rmse"][0] > WORST_RATIO * m["rmse"][1]),
        ("hollows", ours > max(HOLLOWS * linear, 1 if linear < FEW else 0)),
        ("flat", m["flat"][0] >= FLAT),
        ("miss", m["miss"] > MISS),
    ) if bad]


def line(name, interval, m):
    return (f"{name[-36:]:36} {interval:4} m {m['rmse'][0]:7.4f} {m['rmse'][1]:7.4f} {m['rmse'][0] / m['rmse'][1]:6.2f}"
            f" {m['hollows'][0]:5} {m['hollows'][1]:6} {100 * m['flat'][0]:6.2f} {100 * m['flat'][1]:6.2f} {m['miss']:6.3f}  {' '.join(faults(m))}")


def grounds(folders):
    """Each ground once: its name, and the ground or why there is none."""
    yield "smooth hills made here", contours.hills(2.5)
    yield "rough hills made here", contours.hills(2)
    seen = []
    for name, path in (found for folder in folders for found in contours.rasters(folder)):
        try:
            ground = contours.read(path)
            twin = next((n for n, g in seen if same(g, ground)), None)
            if twin:
                raise contours.Unfit(f"the same ground as {twin}")
            seen.append((name, ground))
            yield name, ground
        except contours.Unfit as why:
            yield name, why


def same(a, b):
    return a.z.shape == b.z.shape and numpy.array_equal(numpy.isnan(a.z), numpy.isnan(b.z)) and numpy.nanmax(abs(a.z - b.z)) < SAME


def table(runnel, folders, work):
    """Prints a line for each ground and interval; returns the ratios and the number of faults."""
    ratios, wrong = [], 0
    print(f"{'ground':36} {'every':>6} {'RMSE':>7} {'linear':>7} {'ratio':>6} {'holl.':>5} {'linear':>6} {'flat %':>6} {'linear':>6} {'miss':>6}")
    for name, ground in grounds(folders):
        try:
            if isinstance(ground, contours.Unfit):
                raise ground
            for interval in contours.intervals(ground):
                m = compare(runnel, ground, interval, work)
                ratios.append(m["rmse"][0] / m["rmse"][1])
                wrong += bool(faults(m))
                print(line(name, interval, m), flush=True)
        except contours.Unfit as why:
            wrong += str(why).startswith("WRONG")
            print(f"{name[-36:]:36} {why}", flush=True)
    return ratios, wrong


def main(runnel, *folders):
    with tempfile.TemporaryDirectory() as work:
        work = pathlib.Path(work)
        subprocess.run([runnel, "demo", work / "demo"], check=True, capture_output=True)
        demo = work / "demo.tif"
        subprocess.run([runnel, "export", work / "demo" / "site.gpkg", demo], check=True, capture_output=True)
        ratios, wrong = table(runnel, folders, work)
        trouble = formats.check(runnel, contours.hills(2), work, rebuilt) + formats.round_trip(runnel, demo, work)
    median = statistics.median(ratios) if ratios else numpy.inf
    print(f"Ratio of RMSE: {median:.2f} in the median (at most {MEDIAN_RATIO}), {max(ratios, default=numpy.inf):.2f} at worst (at most {WORST_RATIO}).")
    if wrong or trouble or median > MEDIAN_RATIO:
        sys.exit("\n".join([f"On {wrong} lines of the table the surface is worse than it may be.", *trouble]))
    print("ok: surfaces from contours are nearer the ground than GDAL's linear gridding, and hold few false hollows.")


if __name__ == "__main__":
    main(*sys.argv[1:])
