"""Holds `runnel water` to general-purpose libraries: scikit-image and SciPy.

Usage: outside.py RUNNEL [FOLDER...]

The grounds are the demo site's, those of testdata, hand grids with known
answers and hard cases made here, and every raster below the folders named.
What runnel writes is compared with answers that share nothing with it:

  filled.tif       scikit-image's morphological reconstruction by erosion, in
                   every cell
  area.tif         SciPy's sparse solve of (I - P') a = w, P from bearing.tif
  runoff.tif       the same with random weights, on grounds of up to a million
                   cells
  bearing.tif      no loop, every path ends off the ground, none climbs
  hollows.geojson  those that lie in no other are the pools that scipy.ndimage
                   finds, with their cells, levels and volumes
"""

import json
import pathlib
import subprocess
import sys
import tempfile

import numpy
import outside_grounds
from osgeo import gdal, osr
from scipy import ndimage, sparse
from scipy.sparse.linalg import spsolve
from skimage.morphology import reconstruction

gdal.UseExceptions()

RING = numpy.ones((3, 3))
# A height that runnel takes for no data though the file does not declare it.
LOWEST, HIGHEST = -9998, 1e30
# The most cells of a ground that is run again with weights of runoff.
MOST_WEIGHTED = 1_000_000


class Wrong(Exception):
    """An answer that is not the libraries'."""


def hold(true, sentence):
    if not true:
        raise Wrong(sentence)


def heights(raster):
    """The heights of a raster's first band as runnel takes them; NaN has none."""
    band = raster.GetRasterBand(1)
    stored = band.ReadAsArray().astype(float)
    shown = band.GetMaskBand().ReadAsArray() != 0
    z = (stored * (band.GetScale() or 1) + (band.GetOffset() or 0)).astype(numpy.float32)
    known = shown & numpy.isfinite(z) & (z > LOWEST) & (z <= numpy.float32(HIGHEST))
    return numpy.where(known, z, numpy.nan).astype(float)


def read(path):
    return gdal.Open(str(path)).ReadAsArray().astype(float)


def system(raster):
    wkt = raster.GetProjection()
    return osr.SpatialReference(wkt=wkt) if wkt else None


def cell_area(raster, area):
    """The plan area of a cell [m2] by the file's own transform, where its system
    keeps lengths as UTM does. Else the smallest area stands in: that of a cell
    nothing drains to, of which every ground has one."""
    s = system(raster)
    if s and not s.IsLocal() and s.GetAttrValue("PROJECTION") != "Transverse_Mercator":
        return numpy.nanmin(area)
    _, a, b, _, c, d = raster.GetGeoTransform()
    return abs(a * d - b * c) * (s.GetLinearUnits() if s else 1) ** 2


def height_metre(raster):
    """The length of a unit of height [m]: the band's, the vertical system's, or
    else that of the coordinates."""
    unit = raster.GetRasterBand(1).GetUnitType().lower()
    if unit:
        return {"us-ft": 1200 / 3937, "us survey foot": 1200 / 3937, "ft": 0.3048, "foot": 0.3048}.get(unit, 1)
    s = system(raster)
    return s.GetLinearUnits() if s and s.IsProjected() else 1


def receivers(raster, bearing, known):
    """The index of the cell that each drains to; bearing.size is off the ground."""
    _, a, b, _, c, d = raster.GetGeoTransform()
    compass = lambda x, y: numpy.degrees(numpy.arctan2(a * x + b * y, c * x + d * y))
    to = numpy.full(bearing.shape, -1)
    rows, columns = numpy.indices(bearing.shape)
    for x, y in [(0, -1), (1, 0), (0, 1), (-1, 0)]:
        # A step along a side, and the diagonal half a right angle on from it.
        turn = 45 * numpy.sign((compass(-y, x) - compass(x, y) + 180) % 360 - 180)
        for degrees, sx, sy in [(compass(x, y), x, y), (compass(x, y) + turn, x - y, y + x)]:
            here = known & (numpy.abs((bearing - degrees + 180) % 360 - 180) <= 1)
            ty, tx = rows[here] + sy, columns[here] + sx
            inside = (ty >= 0) & (ty < bearing.shape[0]) & (tx >= 0) & (tx < bearing.shape[1])
            target = numpy.where(inside, ty * bearing.shape[1] + tx, bearing.size)
            target[inside] = numpy.where(known[ty[inside], tx[inside]], target[inside], bearing.size)
            to[here] = target
    hold((to[known] >= 0).all(), "a cell with a height has no bearing")
    hold((bearing[~known] == -1).all(), "a cell of no data has a bearing")
    return to.ravel()


def check_filled(ground, filled):
    known = ~numpy.isnan(ground)
    hold((numpy.isnan(filled) == ~known).all(), "filled.tif has other cells of no data than the ground")
    highest = numpy.nanmax(ground)
    beside = ndimage.binary_dilation(numpy.pad(~known, 1, constant_values=True), RING)[1:-1, 1:-1]
    mask = numpy.where(known, ground, highest)
    marker = numpy.where(known & beside, ground, highest)
    want = reconstruction(marker, mask, method="erosion", footprint=RING)
    off = (filled != want) & known
    hold(not off.any(), f"filled.tif is not the reconstruction in {off.sum()} cells")


def check_paths(to, filled):
    """Follows all paths at once, each stride twice the last."""
    z = numpy.append(filled.ravel(), -numpy.inf)
    known = ~numpy.isnan(filled.ravel())
    hold((z[to[known]] <= z[:-1][known]).all(), "a path climbs on the filled surface")
    stride = numpy.append(to, to.size)
    for _ in range(to.size.bit_length()):
        stride = stride[stride]
    hold((stride[:-1][known] == to.size).all(), "a path runs in a loop and never leaves the ground")


def check_sum(name, to, got, weight):
    """Solves for the sum of the weights that drain through each cell with a
    height; returns how far the raster of a name is off."""
    known = numpy.flatnonzero(~numpy.isnan(got.ravel()))
    number = numpy.full(to.size + 1, -1)
    number[known] = numpy.arange(known.size)
    onto = number[to[known]]
    inside = onto >= 0
    ways = sparse.csc_matrix((numpy.ones(inside.sum()), (onto[inside], numpy.flatnonzero(inside))), shape=(known.size,) * 2)
    want = spsolve(sparse.identity(known.size, format="csc") - ways, weight.ravel()[known], permc_spec="MMD_AT_PLUS_A")
    off = (abs(got.ravel()[known] - want) / numpy.maximum(want, weight.max())).max()
    hold(off < 1e-9, f"{name} is off the sparse solve by {off:.1e}")
    return off


def check_runoff(runnel, path, to, cell):
    """Runs runnel again with a random weight a cell, none on three in ten;
    returns how far runoff.tif is off."""
    raster = gdal.Open(str(path))
    known = ~numpy.isnan(heights(raster))
    random = numpy.random.default_rng(known.size)
    share = (random.random(known.shape) * (random.random(known.shape) > 0.3)).astype(numpy.float32)
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        weights = gdal.GetDriverByName("GTiff").Create(str(folder / "weights.tif"), share.shape[1], share.shape[0], 1, gdal.GDT_Float32)
        weights.SetGeoTransform(raster.GetGeoTransform())
        weights.SetProjection(raster.GetProjection())
        weights.GetRasterBand(1).WriteArray(share)
        del weights
        run = subprocess.run([runnel, "water", path, folder, "--runoff", folder / "weights.tif"], capture_output=True, text=True)
        hold(run.returncode == 0, f"weights of runoff are refused: {run.stderr}")
        runoff = read(folder / "runoff.tif")
    hold((numpy.isnan(runoff) == ~known).all(), "runoff.tif has other cells of no data than the ground")
    return check_sum("runoff.tif", to, runoff, share.astype(float) * cell)


def near(a, b):
    """Whether two figures are the same, one of them written to six decimals."""
    return abs(a - b) <= 1e-6 * max(1, abs(a))


def check_hollows(features, ground, filled, unit):
    """Finds each hollow that is listed among the pools; returns how many there are."""
    pool, count = ndimage.label(filled > ground, RING)
    index = numpy.arange(1, count + 1)
    pools = {}
    if count:
        cells = ndimage.sum(pool > 0, pool, index)
        volume = ndimage.sum(filled - ground, pool, index) * unit
        level = ndimage.maximum(filled, pool, index)
        for n, z, v in zip(cells.tolist(), level.tolist(), volume.tolist()):
            pools.setdefault(int(n), []).append((z, v))
    outer = [f["properties"] for f in features if f["properties"]["parent"] is None]
    hold(len(outer) == count, f"{len(outer)} hollows that lie in no other are listed, and there are {count} pools")
    for p in outer:
        same = [q for q in pools.get(p["cells"], []) if near(q[0], p["level"]) and near(q[1], p["volume_m3"])]
        hold(same, f"no pool has the {p['cells']} cells and {p['volume_m3']} m3 of a hollow")
        pools[p["cells"]].remove(same[0])
    return count


def check(runnel, path):
    """Runs runnel on one ground and returns a line about it."""
    with tempfile.TemporaryDirectory() as folder:
        run = subprocess.run([runnel, "water", path, folder, "--depth=0", "--area=0", "--volume=0"], capture_output=True, text=True)
        if run.returncode:
            lines = run.stderr.strip().splitlines()
            hold(run.returncode == 1 and len(lines) == 1, f"it was refused in no one sentence: {run.stderr}")
            return None, "refused: " + lines[0].split(": ", 2)[-1]
        folder = pathlib.Path(folder)
        raster = gdal.Open(str(path))
        ground, filled, area = heights(raster), read(folder / "filled.tif"), read(folder / "area.tif")
        known = ~numpy.isnan(ground)
        check_filled(ground, filled)
        hold((numpy.isnan(area) == ~known).all(), "area.tif has other cells of no data than the ground")
        to = receivers(raster, read(folder / "bearing.tif"), known)
        check_paths(to, filled)
        cell = cell_area(raster, area)
        off = check_sum("area.tif", to, area, numpy.full(area.shape, cell))
        weighted = f"{check_runoff(runnel, path, to, cell):9.1e}" if area.size <= MOST_WEIGHTED else ""
        features = json.loads((folder / "hollows.geojson").read_text())["features"]
        pools = check_hollows(features, ground, filled, cell * height_metre(raster))
        line = f"{ground.shape[1]:5} x {ground.shape[0]:<5} {known.sum():9} {len(features):6} of {pools:<6} {off:9.1e} {weighted:>9}"
        return (filled, area / cell - 1), line


def check_answer(got, want):
    """Compares with a hand grid's own answer: the filled surface, what drains to each cell."""
    for name, g, w in zip(("filled surface", "accumulation"), got, want):
        hold(w is None or numpy.allclose(g[w == w], w[w == w]), f"the {name} is not the hand grid's own")


def rasters(folder):
    """The files below a folder that GDAL opens as rasters of heights."""
    for path in sorted(pathlib.Path(folder).rglob("*")):
        if path.suffix.lower() in (".tif", ".tiff", ".asc", ".hgt"):
            yield path.relative_to(folder).as_posix(), path, None


def grounds(runnel, work, folders):
    """Each ground's name, file and, for a hand grid, its answer."""
    subprocess.run([runnel, "demo", work / "demo"], check=True, capture_output=True)
    yield "the demo site", work / "demo" / "site.gpkg", None
    yield from rasters(pathlib.Path(__file__).parent.parent / "testdata")
    yield from outside_grounds.write(work)
    for folder in folders:
        yield from rasters(folder)


def main(runnel, *folders):
    faults = 0
    print(f"{'ground':44} {'size':13} {'heights':>9} {'hollows':>10} {'area off':>15} {'runoff':>9}")
    with tempfile.TemporaryDirectory() as work:
        for name, path, answer in grounds(runnel, pathlib.Path(work), folders):
            try:
                got, line = check(runnel, path)
                hold(got or not answer, line)
                if answer:
                    check_answer(got, answer)
            except Wrong as wrong:
                faults += 1
                line = f"WRONG: {wrong}"
            print(f"{name[-44:]:44} {line}", flush=True)
    if faults:
        sys.exit(f"On {faults} grounds the water is not as the libraries have it.")
    print("ok: filled equals scikit-image's reconstruction in every cell, area and runoff SciPy's solve; no path loops or climbs.")


if __name__ == "__main__":
    main(*sys.argv[1:])
