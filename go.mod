module runnel

go 1.26.0

require (
	fyne.io/fyne/v2 v2.7.1 // indirect
	github.com/BurntSushi/toml v1.5.0 // indirect
	github.com/alecthomas/kong v1.17.0 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/lukeroth/gdal v0.0.0-20251112192847-aa5e8dc032a2 // indirect
	github.com/paulmach/orb v0.14.0 // indirect
	github.com/peterstace/simplefeatures v0.50.0 // indirect
	github.com/spf13/cobra v1.10.2 // indirect
	github.com/spf13/pflag v1.0.9 // indirect
	github.com/tidwall/geoindex v1.7.0 // indirect
	github.com/tidwall/rtree v1.10.0 // indirect
	golang.org/x/exp/typeparams v0.0.0-20231108232855-2478ac86f678 // indirect
	golang.org/x/image v0.30.0 // indirect
	golang.org/x/mod v0.41.0 // indirect
	golang.org/x/sync v0.23.0 // indirect
	golang.org/x/tools v0.51.0 // indirect
	honnef.co/go/tools v0.8.2 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)

tool honnef.co/go/tools/cmd/staticcheck
