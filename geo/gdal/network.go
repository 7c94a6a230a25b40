package gdal

/*
#cgo pkg-config: gdal
#include <stdlib.h>
#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_http.h>
#include <cpl_string.h>

// Whoever asks gets an answer without contents. With none, the library would ask
// for itself.
static CPLHTTPResult *refuse(const char *url, CSLConstList options, GDALProgressFunc progress, void *progressArg,
		CPLHTTPFetchWriteFunc write, void *writeArg, void *data) {
	(void)url; (void)options; (void)progress; (void)progressArg; (void)write; (void)writeArg; (void)data;
	CPLHTTPResult *none = CPLCalloc(1, sizeof(CPLHTTPResult));
	none->nStatus = 1;
	none->pszErrBuf = CPLStrdup("the network is not reached");
	CPLError(CE_Failure, CPLE_AppDefined, "the network is not reached");
	return none;
}

static void refuseNetwork(void) { CPLHTTPSetFetchCallback(refuse, NULL); }

static void setHere(const char *key, const char *value) { CPLSetThreadLocalConfigOption(key, value); }
*/
import "C"

import "unsafe"

// refuseNetwork keeps the library off the network for good: a GeoJSON file may name
// a reference system by an address, and the library would fetch it.
func refuseNetwork() { C.refuseNetwork() }

// withOption calls f with one of the library's options set for this thread.
func withOption(key, value string, f func()) {
	k, v := C.CString(key), C.CString(value)
	defer C.free(unsafe.Pointer(k))
	defer C.free(unsafe.Pointer(v))
	C.setHere(k, v)
	defer C.setHere(k, nil)
	f()
}
