// Package gdal is the door between Runnel and files: it reads and writes
// rasters, drawings and the site file, and asks PROJ about reference systems.
// It is the only package that uses the GDAL library, and so the only one that
// needs C.
//
// Files are hostile until they are read. A path must name a regular file of
// this computer, its format must be on the package's own list, nothing that a
// file refers to is followed, the network is off, and sizes are looked at
// before memory is taken. Whatever is wrong with a file comes back as a
// sentence that says what to do.
//
// Axes are east before north, and longitude before latitude, in every
// reference system. Cells of no data are NaN.
//
// Every exported function may be called from any goroutine.
package gdal
