// Runnel maps how water runs over one small place, and shapes it to linger.
//
// Usage:
//
//	runnel [SITE]                           open the window, on a site if one is named
//	runnel --demo                           open the window on the demo site
//	runnel demo DIR                         write the demo site and all that is worked out of it
//	runnel water GROUND DIR                 water paths and hollows of an elevation raster
//	runnel new SITE --ground FILE           make a site: --crs EPSG:CODE --cell METRES
//	                                        --bounds W,S,E,N --height-unit UNIT --name NAME --force
//	runnel new SITE --contours FILE         or of contours, points, breaklines and an edge: --points FILE
//	                                        --breaklines FILE --edge FILE --height FIELD --columns ORDER
//	                                        --uses CODE=USE --from-crs EPSG:CODE --error METRES
//	                                        --tension SHARE --leave-out
//	runnel survey SITE                      what the ground rests on and how good it is: --json
//	runnel weather SITE FILE                bring a daily record in, or tell of the one it has: --date COLUMN
//	                                        --rain COLUMN --low COLUMN --high COLUMN --units UNIT --order ORDER
//	                                        --only-read --json
//	runnel set SITE NAME=VALUE…             change its settings, or list them: --json
//	runnel add SITE FILE --as KIND          add a drawing's features: --layer NAME=KIND
//	                                        --crs EPSG:CODE --scheme NAME --set FIELD=VALUE
//	runnel underlay SITE IMAGE              lay an image under the map: --crs EPSG:CODE
//	                                        --at PX,PY=E,N --fit NAME --opacity PERCENT --name NAME
//	runnel trace SITE EASTING NORTHING      follow a drop of water, as GeoJSON
//	runnel measure SITE                     measure a scheme and tell what its shape buys: --scheme NAME
//	                                        --level METRES --json
//	runnel levels SITE                      measure its channels at one level after another: --scheme NAME
//	                                        --step METRES --json --csv
//	runnel compare SITE                     measure every scheme beside the site as it is, and tell what soaks in:
//	                                        --draws N --json
//	runnel storm SITE                       lead the design storm through a scheme: --scheme NAME --rain MM
//	                                        --hours HOURS --json
//	runnel season SITE                      balance its water through the daily record: --scheme NAME --json
//	runnel account SITE                     tell what it puts back beside what the well gives up: --scheme NAME
//	                                        --draws N --json
//	runnel cautions SITE                    list what to look into before it is dug: --scheme NAME --json
//	runnel propose SITE                     propose courses for a channel: --from E,N --to E,N --scheme NAME
//	                                        --volume M3 --grade PCT --sides H:V --width MIN,MAX --radius M
//	                                        --setback M --strip M --count N --seed N --effort TIMES --json --write
//	runnel fates SITE                       where roofs' and paving's water ends: --scheme NAME --json
//	runnel methods                          how every figure is found, and from which source
//	runnel export SITE FILE                 write .geojson, .gpkg, .tif or .png: --scheme NAME --size WxH
//	runnel setout SITE FILE                 write where a scheme is pegged out, as .csv, .gpx, .dxf, .json
//	                                        or .txt: --scheme NAME --every METRES --offset METRES --table
//
// Results go to standard output and messages to standard error. The exit status
// is 0 when the command is done, 1 when it could not be done and 2 when it was
// not typed right.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"runnel/app/action"
	"runnel/app/intake"
	"runnel/cmd/runnel/hush"
)

func main() {
	intake.Serve()
	hush.Lift()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := action.Main(ctx, os.Args[1:], action.Streams{
		Out: os.Stdout, Err: os.Stderr, In: intake.Reader{Child: true},
	}, openWindow)
	stop()
	os.Exit(status)
}
