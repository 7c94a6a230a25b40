"""What outside_surface.py rebuilds: rasters of heights made metric, and their contours."""

import pathlib

import numpy
from osgeo import gdal, ogr, osr

gdal.UseExceptions()
gdal.PushErrorHandler("CPLQuietErrorHandler")

# The most cells of a side that are rebuilt, and the fewest that are worth it.
LARGEST, SMALLEST = 1000, 48
INTERVALS = (0.5, 1, 2)  # [m]
FEWEST_LEVELS = 3
# Stands in where a raster names no reference system; its lengths are taken for metres.
STAND_IN = 32631


class Unfit(Exception):
    """A raster that no contours are drawn of, and why."""


class Ground:
    """Heights [m] on square cells, NaN for none, with the corner and cell of the north-west [m]."""

    def __init__(self, z, west, north, cell, system):
        self.z, self.west, self.north, self.cell, self.system = z, west, north, cell, system

    def bounds(self):
        rows, columns = self.z.shape
        return self.west, self.north - rows * self.cell, self.west + columns * self.cell, self.north

    def transform(self):
        return self.west, self.cell, 0, self.north, 0, -self.cell


def rasters(folder):
    """The files below a folder that may be rasters of heights."""
    for path in sorted(pathlib.Path(folder).rglob("*")):
        if path.suffix.lower() in (".tif", ".tiff", ".asc", ".hgt"):
            yield path.relative_to(folder).as_posix(), path


def system_of(raster):
    wkt = raster.GetProjection()
    system = osr.SpatialReference(wkt=wkt) if wkt else osr.SpatialReference()
    if not wkt:
        system.ImportFromEPSG(STAND_IN)
    system.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
    return system


def zone(raster, system):
    """The UTM zone of a raster's middle."""
    geographic = osr.SpatialReference()
    geographic.ImportFromEPSG(4326)
    geographic.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
    x, y = gdal.ApplyGeoTransform(raster.GetGeoTransform(), raster.RasterXSize / 2, raster.RasterYSize / 2)
    east, north, _ = osr.CoordinateTransformation(system, geographic).TransformPoint(x, y)
    utm = osr.SpatialReference()
    utm.ImportFromEPSG((32600 if north >= 0 else 32700) + int((east + 180) // 6) + 1)
    return utm


def height_unit(raster, system):
    """The length of a unit of height [m]: the band's, or else that of the coordinates."""
    unit = raster.GetRasterBand(1).GetUnitType().lower()
    if unit:
        return {"us-ft": 1200 / 3937, "us survey foot": 1200 / 3937, "ft": 0.3048, "foot": 0.3048}.get(unit, 1)
    return system.GetLinearUnits() if system.IsProjected() else 1


def memory(z, transform, system):
    raster = gdal.GetDriverByName("MEM").Create("", z.shape[1], z.shape[0], 1, gdal.GDT_Float64)
    raster.SetGeoTransform(transform)
    raster.SetProjection(system.ExportToWkt())
    band = raster.GetRasterBand(1)
    band.SetNoDataValue(numpy.nan)
    band.WriteArray(z)
    return raster


def heights(raster, system):
    """The first band's heights [m]; NaN where there is none."""
    band = raster.GetRasterBand(1)
    stored = band.ReadAsArray().astype(float)
    z = (stored * (band.GetScale() or 1) + (band.GetOffset() or 0)) * height_unit(raster, system)
    known = (band.GetMaskBand().ReadAsArray() != 0) & numpy.isfinite(z) & (abs(z) < 9000)
    return numpy.where(known, z, numpy.nan)


def metric(z, raster, system):
    """The heights on square cells of a system that keeps lengths in metres."""
    transform = raster.GetGeoTransform()
    _, a, b, _, c, d = transform
    conformal = system.IsProjected() and system.GetLinearUnits() == 1 and "Mercator_1SP" not in (system.GetAttrValue("PROJECTION") or "")
    if conformal and b == c == 0 and d < 0 < a and abs(a + d) < 1e-9 * a:
        return Ground(z, transform[0], transform[3], a, system)
    warped = gdal.Warp("", memory(z, transform, system), format="MEM", resampleAlg="bilinear",
                       dstSRS=zone(raster, system).ExportToWkt(), dstNodata=numpy.nan)
    west, cell, _, north, _, _ = warped.GetGeoTransform()
    return Ground(warped.ReadAsArray(), west, north, cell, system_of(warped))


def middle(known, most):
    """The slice that holds all that is known, and of that the middle."""
    places = numpy.flatnonzero(known)
    low, high = places[0], places[-1] + 1
    low += max(0, high - low - most) // 2
    return slice(low, min(high, low + most))


def clipped(ground):
    known = ~numpy.isnan(ground.z)
    if not known.any():
        raise Unfit("no cell has a height")
    rows, columns = middle(known.any(axis=1), LARGEST), middle(known.any(axis=0), LARGEST)
    z = ground.z[rows, columns]
    if min(z.shape) < SMALLEST:
        raise Unfit("too few cells")
    return aligned(z, ground.west + columns.start * ground.cell, ground.north - rows.start * ground.cell, ground)


def aligned(z, west, north, ground):
    """Moves heights by less than a cell, to where runnel lays cells: on whole multiples of one."""
    whole = lambda side: round(side / ground.cell) * ground.cell
    return Ground(z, whole(west), whole(north), ground.cell, ground.system)


def read(path):
    """The ground of a raster file, ready for contours."""
    try:
        raster = gdal.Open(str(path))
        if raster.RasterCount != 1 or raster.GetRasterBand(1).DataType == gdal.GDT_Byte:
            raise Unfit("no heights but a picture")
        if min(raster.RasterXSize, raster.RasterYSize) < SMALLEST:
            raise Unfit("too few cells")
        system = system_of(raster)
        z = heights(raster, system)
    except RuntimeError as error:
        raise Unfit(f"GDAL cannot read it: {str(error).splitlines()[0][:60]}") from None
    known = z[~numpy.isnan(z)]
    if (known == numpy.round(known)).all():
        raise Unfit("its heights are whole metres")
    return clipped(metric(z, raster, system))


def hills(power):
    """A ground made here: hills down to a few cells long, their heights as that power of
    their lengths, falling to the south."""
    rows, columns, relief, finest = 200, 240, 12, 6
    random = numpy.random.default_rng(3)
    y, x = numpy.meshgrid(numpy.fft.fftfreq(2 * rows), numpy.fft.rfftfreq(2 * columns), indexing="ij")
    wave = numpy.hypot(x, y)
    wave[0, 0] = 1  # the mean: as high as the shortest, that is nothing
    height = (random.normal(size=wave.shape) + 1j * random.normal(size=wave.shape)) * numpy.exp(-((wave * finest) ** 2)) / wave**power
    z = numpy.fft.irfft2(height)[:rows, :columns]
    z = 100 + z * relief / numpy.ptp(z) + 0.03 * numpy.arange(rows)[::-1, None]
    system = osr.SpatialReference()
    system.ImportFromEPSG(STAND_IN)
    return Ground(z, 500_000.0, 5_000_000.0, 1.0, system)


def intervals(ground):
    """The two closest intervals at which the contours lie no denser than the cells."""
    step = numpy.nanmedian(numpy.hypot(*numpy.gradient(ground.z)))
    low, high = numpy.nanmin(ground.z), numpy.nanmax(ground.z)
    levels = lambda interval: numpy.floor(high / interval) - numpy.ceil(low / interval) + 1
    fit = [i for i in INTERVALS if step <= i and levels(i) >= FEWEST_LEVELS][:2]
    if not fit:
        raise Unfit("its contours would lie denser than its cells, or are fewer than three")
    return fit


def draw(ground, interval, path):
    """Has GDAL draw the contours into a GeoPackage, the height in the field elev."""
    store = ogr.GetDriverByName("GPKG").CreateDataSource(str(path))
    layer = store.CreateLayer("contour", ground.system, ogr.wkbLineString)
    layer.CreateField(ogr.FieldDefn("number", ogr.OFTInteger))
    layer.CreateField(ogr.FieldDefn("elev", ogr.OFTReal))
    raster = memory(ground.z, ground.transform(), ground.system)
    layer.StartTransaction()
    gdal.ContourGenerate(raster.GetRasterBand(1), interval, 0, [], 1, numpy.nan, layer, 0, 1)
    layer.CommitTransaction()


def vertices(path):
    """East, north and height of every contour's every vertex, a row each."""
    rows = []
    store = ogr.Open(str(path))
    for feature in store.GetLayer(0):
        line = numpy.array(feature.GetGeometryRef().GetPoints())[:, :2]
        rows.append(numpy.column_stack([line, numpy.full(len(line), feature.GetField("elev"))]))
    return numpy.concatenate(rows)


def linear(ground, path):
    """What GDAL's linear gridding, a Delaunay triangulation, makes of the vertices."""
    west, south, east, north = ground.bounds()
    rows, columns = ground.z.shape
    grid = gdal.Grid("", str(path), format="MEM", outputType=gdal.GDT_Float64, width=columns, height=rows,
                     outputBounds=[west, north, east, south], zfield="elev", algorithm="linear:radius=0:nodata=nan")
    z = grid.ReadAsArray()
    return z if grid.GetGeoTransform()[5] < 0 else z[::-1]
