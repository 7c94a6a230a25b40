package gdal

/*
#cgo pkg-config: gdal
#include <stdlib.h>
#include <string.h>
#include <cpl_conv.h>
#include <cpl_error.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

// The first failure of a group of calls says most: the later ones follow from it.
static __thread char failureText[1024];

static void keepFailure(CPLErr class, CPLErrorNum number, const char *text) {
	(void)number;
	if (class >= CE_Failure && failureText[0] == 0)
		strncpy(failureText, text && text[0] ? text : "no reason given", sizeof failureText - 1);
}

static void keepFailures(void) { CPLSetErrorHandler(keepFailure); }
static void forgetFailure(void) { failureText[0] = 0; CPLErrorReset(); }
static const char *failure(void) { return failureText; }

static double linearUnit(void *srs) { return OSRGetLinearUnits(srs, NULL); }
static double angularUnit(void *srs) { return OSRGetAngularUnits(srs, NULL); }
static double verticalUnit(void *srs) { return OSRGetTargetLinearUnits(srs, "VERT_CS", NULL); }
static void stripVertical(void *srs) { OSRStripVertical(srs); }
static const char *srsName(void *srs) { return OSRGetName(srs); }
static const char *srsCode(void *srs) {
	const char *name = OSRGetAuthorityName(srs, NULL);
	return name && EQUAL(name, "EPSG") ? OSRGetAuthorityCode(srs, NULL) : NULL;
}

// bestMatch returns the EPSG code of the system that srs is for certain, though it does not say so.
static int bestMatch(void *srs) {
	int count = 0, *sure = NULL, code = 0;
	OGRSpatialReferenceH *found = OSRFindMatches(srs, NULL, &count, &sure);
	if (count > 0 && sure[0] >= 90 && srsCode(found[0])) code = atoi(srsCode(found[0]));
	OSRFreeSRSArray(found);
	CPLFree(sure);
	return code;
}

static int layerCount(void *set) { return GDALDatasetGetLayerCount(set); }
static int deleteLayer(void *set, int i) { return GDALDatasetDeleteLayer(set, i); }
static void *straightened(void *shape) { return OGR_G_GetLinearGeometry(shape, 0, NULL); }
static void setNull(void *feature, int field) { OGR_F_SetFieldNull(feature, field); }
*/
import "C"

import (
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unsafe"

	"github.com/lukeroth/gdal"
)

// formats are the drivers that stay registered. None of them reaches the
// network or opens what a file points to.
var formats = append(slices.Concat(rasterFormats, vectorFormats, imageFormats), "MEM", "Memory")

// cacheBytes bounds GDAL's block cache, which else takes a twentieth of the memory.
const cacheBytes = 128 << 20

var start = sync.OnceFunc(func() {
	C.keepFailures()
	refuseNetwork()
	for key, value := range map[string]string{
		"OSR_DEFAULT_AXIS_MAPPING_STRATEGY": "TRADITIONAL_GIS_ORDER",
		"PROJ_NETWORK":                      "OFF",
		"GDAL_PAM_ENABLED":                  "NO", // neither read nor leave .aux.xml files
		"OGR_GEOJSON_MAX_OBJ_SIZE":          "64", // MB of one feature
		"GDAL_VRT_ENABLE_PYTHON":            "NO",
		"GTIFF_REPORT_COMPD_CS":             "YES", // what heights are above, also of files of before 2019
		"OGR_SQLITE_SYNCHRONOUS":            "OFF", // a new file is flushed once, before it takes its name
	} {
		gdal.CPLSetConfigOption(key, value)
	}
	gdal.SetCacheMax(cacheBytes)
	for i := gdal.GetDriverCount() - 1; i >= 0; i-- {
		if driver := gdal.GetDriver(i); !slices.Contains(formats, driver.ShortName()) {
			driver.Deregister()
		}
	}
})

var (
	errFault   = errors.New("the disk may be full, or what is there already damaged")
	errDamaged = errors.New("it is damaged or not whole; copy it again from where it came")
)

// do runs a group of GDAL calls on one system thread, since GDAL keeps its
// failures by thread. A failure that no call returned is an error too. What the
// library says of a failure is for its programmers, and no error repeats it.
// Groups are not nested.
func do(f func() error) error {
	start()
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	C.forgetFailure()
	err := f()
	if err == nil && failed() {
		return errFault
	}
	return err
}

// doOn is do for calls that read one file: the error starts with its name.
func doOn(full string, f func() error) error {
	err := do(f)
	if errors.Is(err, errFault) {
		err = errDamaged
	}
	if err != nil {
		return fmt.Errorf("%s: %w", filepath.Base(full), err)
	}
	return nil
}

// forget drops a failure that the caller has dealt with.
func forget() { C.forgetFailure() }

// failed reports whether a call since the group's start failed.
func failed() bool { return reason() != "" }

// reason is the text of the group's first failure so far. It is looked into,
// never shown.
func reason() string { return C.GoString(C.failure()) }

// failedOnSystem reports whether the group's first failure so far is a reference
// system that is not in PROJ's list.
func failedOnSystem() bool {
	text := strings.ToLower(reason())
	return strings.Contains(text, "crs not found") || strings.Contains(text, "not found in epsg")
}

// handle returns the C pointer inside a value of the wrapper, whose types are
// all structs of one pointer that they do not export.
func handle[T any](v T) unsafe.Pointer { return *(*unsafe.Pointer)(unsafe.Pointer(&v)) }

func linearUnit(sr gdal.SpatialReference) float64   { return float64(C.linearUnit(handle(sr))) }
func angularUnit(sr gdal.SpatialReference) float64  { return float64(C.angularUnit(handle(sr))) }
func verticalUnit(sr gdal.SpatialReference) float64 { return float64(C.verticalUnit(handle(sr))) }
func stripVertical(sr gdal.SpatialReference)        { C.stripVertical(handle(sr)) }
func nameOf(sr gdal.SpatialReference) string        { return C.GoString(C.srsName(handle(sr))) }

// epsgCode returns 0 where the system as a whole has no EPSG code.
func epsgCode(sr gdal.SpatialReference) int {
	code, err := strconv.Atoi(C.GoString(C.srsCode(handle(sr))))
	if err != nil {
		return 0
	}
	return code
}

// bestMatch returns 0 where no EPSG code is sure.
func bestMatch(sr gdal.SpatialReference) int { return int(C.bestMatch(handle(sr))) }

func layerCount(set gdal.Dataset) int { return int(C.layerCount(handle(set))) }

func deleteLayer(set gdal.Dataset, i int) error {
	if C.deleteLayer(handle(set), C.int(i)) != C.OGRERR_NONE {
		return fmt.Errorf("layer %d cannot be replaced", i+1)
	}
	return nil
}

// straightened returns a copy of a geometry with its arcs drawn as short
// segments. The caller destroys it.
func straightened(shape gdal.Geometry) gdal.Geometry {
	copied := C.straightened(handle(shape))
	return *(*gdal.Geometry)(unsafe.Pointer(&copied))
}

func setNull(f gdal.Feature, field int) { C.setNull(handle(f), C.int(field)) }
