"""The grounds that outside.py makes: hand grids with known answers, hard cases."""

import numpy
from osgeo import gdal

none = numpy.nan


def table(text):
    return numpy.array([[float(cell) for cell in row.split()] for row in text.split("/")])


# Worked by hand, without ties; the accumulation leaves the cell itself out.
VALLEY = table("9 9 9 9 9 / 9 7 6 8 9 / 9 6 4 5 9 / 9 8 3 6 9 / 9 9 1 9 9")
VALLEY_CELLS = table("0 0 0 0 0 / 0 1 3 1 0 / 0 3 6 4 0 / 0 1 18 2 0 / 0 0 24 0 0")

# A grid that many textbooks reprint, from memory; its answer recounted by hand.
TEXTBOOK = table(
    "78 72 69 71 58 49 / 74 67 56 49 46 50 / 69 53 44 37 38 48 /"
    "64 58 55 22 31 24 / 68 61 47 21 16 19 / 74 53 34 12 11 12"
)
TEXTBOOK_CELLS = table("0 0 0 0 0 0 / 0 1 1 2 2 0 / 0 3 7 5 4 0 / 0 0 0 20 0 1 / 0 0 0 1 24 0 / 0 2 4 7 35 1")

# Two hollows side by side; the filled surface by two methods that agree.
PITS = table(
    "10 10 10 10 10 10 10 / 10 8 8 9 7 8 10 / 10 8 3 9 4 7 10 /"
    "10 8 4 9 5 7 10 / 10 8 8 9 7 8 6 / 10 10 10 10 10 10 10"
)
PITS_FILLED = table(
    "10 10 10 10 10 10 10 / 10 9 9 9 7 8 10 / 10 9 9 9 7 7 10 /"
    "10 9 9 9 7 7 10 / 10 9 9 9 7 8 6 / 10 10 10 10 10 10 10"
)

BOWL = table("5 5 5 5 5 / 5 2 2 2 5 / 5 2 1 2 4 / 5 2 2 2 5 / 5 5 5 5 5")
BOWL_FILLED = table("5 5 5 5 5 / 5 4 4 4 5 / 5 4 4 4 4 / 5 4 4 4 5 / 5 5 5 5 5")


def tilted_valley():
    """A valley down the middle column whose sides drain straight across."""
    row, column = numpy.indices((5, 7))
    cells = numpy.where(column == 3, 7 * (row + 1) - 1, numpy.minimum(column, 6 - column))
    return 10 + 2.0 * abs(column - 3) - 0.1 * row, cells


def flat_with_a_gap():
    """A level floor in a wall with one gap, by which all the other cells drain."""
    z, cells = numpy.full((7, 7), 9.0), numpy.full((7, 7), none)
    z[1:6, 1:6], z[6, 3], cells[6, 3] = 6, 5, 48
    return z, cells


def rough(h, w):
    """A tilted ground of noise: many small hollows, no ties."""
    row, column = numpy.indices((h, w))
    return 100 - 0.02 * (row + column) + numpy.random.default_rng(7).normal(0, 0.2, (h, w))


def islands(z):
    """z with holes of no data, one of them a single cell, one a ring round ground."""
    z = z.copy()
    z[20:40, 30:50] = none
    z[26:34, 36:44] = 50
    z[60, 60] = none
    z[5:9, 5] = none
    return z


def edged(z):
    """z with an edge of no data, as cut out along a ragged outline."""
    z = z.copy()
    row, column = numpy.indices(z.shape)
    z[numpy.hypot(row - z.shape[0] / 2, column - z.shape[1] / 2) > 0.4 * min(z.shape)] = none
    return z


def all_grounds():
    """Name, heights, cell width and height [m], the filled surface and accumulation if known."""
    noise, square = rough(120, 160), (1, 1)
    valley, valley_cells = tilted_valley()
    flat, flat_cells = flat_with_a_gap()
    plateau = numpy.maximum(noise, 99)
    peak = noise.copy()
    peak[50, 70], peak[51, 70:75] = 1e30, -1e3
    endless = noise.copy()
    endless[30, 40:60], endless[80, 90:99] = numpy.inf, -numpy.inf
    return [
        ("hand grid: valley", VALLEY, square, (None, VALLEY_CELLS)),
        ("hand grid: textbook", TEXTBOOK, square, (None, TEXTBOOK_CELLS)),
        ("hand grid: tilted valley", valley, square, (None, valley_cells)),
        ("hand grid: two pits", PITS, square, (PITS_FILLED, None)),
        ("hand grid: bowl", BOWL, square, (BOWL_FILLED, None)),
        ("hand grid: flat with a gap", flat, square, (None, flat_cells)),
        ("noise", noise, square, None),
        ("noise to 5 cm", numpy.round(noise * 20) / 20, square, None),
        ("plateau", plateau, square, None),
        ("islands of no data", islands(noise), square, None),
        ("an edge of no data", edged(noise), square, None),
        ("one value", numpy.full((40, 50), 3.0), square, None),
        ("one row", noise[:1], square, None),
        ("one column", noise[:, :1], square, None),
        ("one cell", noise[:1, :1], square, None),
        ("a height of 1e30", peak, square, None),
        ("infinite heights", endless, square, None),
        ("cells of 1 cm", noise, (0.01, 0.01), None),
        ("cells of 2 by 0.5 m", noise, (2, 0.5), None),
    ]


def write(folder):
    """Writes each ground as a GeoTIFF; yields its name, file and answers."""
    for name, z, (dx, dy), answer in all_grounds():
        path = str(folder / f"{name.replace(':', '')}.tif")
        raster = gdal.GetDriverByName("GTiff").Create(path, z.shape[1], z.shape[0], 1, gdal.GDT_Float32)
        raster.SetGeoTransform((0, dx, 0, z.shape[0] * dy, 0, -dy))
        raster.GetRasterBand(1).SetNoDataValue(none)
        raster.GetRasterBand(1).WriteArray(z)
        raster.FlushCache()
        del raster
        yield name, path, answer
