"""The same contours in several formats, and positions there and back, for outside_surface.py."""

import json
import subprocess

import numpy
import outside_contours as contours
from osgeo import gdal, ogr, osr

INTERVAL = 0.5  # [m]
# Formats that keep every digit give heights that are the same to a step or two of a
# 32-bit figure, 7.6 µm at 84 m.
SAME = 2e-5  # [m]
# KML keeps degrees, of which GDAL writes fifteen figures: 1e-13 degrees is 10 nm on the
# ground. The rest is for projecting there and back.
ROUNDED = 1e-4  # [m]
MILLIMETRE = 0.001
PLACES = 200


def translated(source, path, driver, **options):
    path.unlink(missing_ok=True)
    gdal.VectorTranslate(str(path), str(source), format=driver, **options)
    return path


def with_heights(source, path):
    """The contours with their height in every vertex and in no field."""
    flat = translated(source, path.with_suffix(".flat.gpkg"), "GPKG", zField="elev", geometryType="LINESTRING25D", layerName="contour")
    return translated(flat, path, "GPKG", SQLStatement="SELECT geom FROM contour", layerName="contour")


def forms(source, work, code):
    """Each format's name, file, words for runnel and tolerance [m]."""
    raised = with_heights(source, work / "raised.gpkg")
    yield "GeoJSON", translated(source, work / "c.geojson", "GeoJSON"), ["--height", "elev"], SAME
    yield "Shapefile", translated(source, work / "c.shp", "ESRI Shapefile"), ["--height", "elev"], SAME
    yield "heights in Z", raised, ["--height", "Z"], SAME
    yield "DXF", translated(raised, work / "c.dxf", "DXF"), ["--height", "Z", "--from-crs", code], SAME
    yield "KML", translated(source, work / "c.kml", "KML", dstSRS="EPSG:4326"), ["--height", "elev", "--crs", code], ROUNDED


def check(runnel, ground, work, rebuilt):
    """Has runnel make a ground of each format; returns what is wrong, a sentence each."""
    source, code = work / "formats.gpkg", f"EPSG:{ground.system.GetAuthorityCode(None)}"
    contours.draw(ground, INTERVAL, source)
    trouble = []
    try:
        want = rebuilt(runnel, ground, source, work)
        for name, path, words, tolerance in forms(source, work, code):
            got = rebuilt(runnel, ground, path, work, words)
            off = numpy.inf if (numpy.isnan(got) != numpy.isnan(want)).any() else numpy.nanmax(abs(got - want))
            print(f"{name:36} the same ground as GeoPackage's to {off:.1e} m (at most {tolerance:.0e})")
            if off > tolerance:
                trouble.append(f"Contours as {name} make another ground: {off:.1e} m apart.")
    except contours.Unfit as why:
        trouble.append(str(why))
    return trouble


def geographic():
    system = osr.SpatialReference()
    system.ImportFromEPSG(4326)
    system.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
    return system


def metres(degrees, near):
    """Differences in longitude and latitude as metres on the ground."""
    return degrees * [111320 * numpy.cos(numpy.radians(near[1])), 111320]


def round_trip(runnel, demo, work):
    """Brings wells in longitude and latitude into the demo site, and out again."""
    raster = gdal.Open(str(demo))
    system = contours.system_of(raster)
    back = osr.CoordinateTransformation(system, geographic())
    west, cell, _, north, _, _ = raster.GetGeoTransform()
    random = numpy.random.default_rng(1).random((PLACES, 2)) * [raster.RasterXSize, raster.RasterYSize]
    want = numpy.array([west, north]) + random * [cell, -cell]
    degrees = numpy.array([p[:2] for p in back.TransformPoints(want.tolist())])
    got, again = through(runnel, work, degrees)
    in_metres = abs(got - want).max()
    in_degrees = abs(metres(again - degrees, degrees[0])).max()
    print(f"{'longitude and latitude':36} to metres {1000 * in_metres:.4f} mm, and back {1000 * in_degrees:.4f} mm off PROJ (at most 1 mm)")
    if max(in_metres, in_degrees) > MILLIMETRE:
        return ["Positions are more than 1 mm off PROJ's."]
    return []


def through(runnel, work, degrees):
    """Where runnel has places given in degrees: in its site [m], and in what it exports [degrees]."""
    site, given, out = work / "demo" / "site.gpkg", work / "wells.geojson", work / "out.geojson"
    name = lambda i: f"round trip {i}"
    given.write_text(json.dumps({"type": "FeatureCollection", "features": [
        {"type": "Feature", "properties": {"name": name(i)}, "geometry": {"type": "Point", "coordinates": list(p)}}
        for i, p in enumerate(degrees)
    ]}))
    for words in (["add", "--as", "well", site, given], ["export", site, out]):
        subprocess.run([runnel, *words], check=True, capture_output=True)
    layer = ogr.Open(str(site))
    wells = {f.GetField("name"): f.GetGeometryRef().GetPoint_2D() for f in layer.GetLayerByName("well")}
    exported = {f["properties"].get("name"): f["geometry"]["coordinates"] for f in json.loads(out.read_text())["features"] if f["geometry"]["type"] == "Point"}
    order = [name(i) for i in range(len(degrees))]
    return numpy.array([wells[n] for n in order]), numpy.array([exported[n][:2] for n in order])
