// Bench measures the water engine on generated grounds and prints one table,
// the targets beside the figures. It is for those who work on Runnel.
//
// Usage:
//
//	bench [-max MCELLS]
//
// The grounds are analysis/synthetic's: as surveyed ("site") and kept to 5 cm
// ("flat"), of 1, 4, 25 and 100 million cells up to the largest asked for. The
// yardstick is `gdaldem hillshade` on the same ground, written as an
// uncompressed GeoTIFF into memory where there is room. Times are medians of
// several rounds, in each of which the yardstick and the engine take turns.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	most := flag.Int("max", 100, "the largest ground, in million cells")
	file := flag.String("once", "", "read a raster, route it once and end: what the bench itself starts")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	run := func() error { return bench(ctx, *most) }
	if *file != "" {
		run = func() error { return readAndRoute(ctx, *file) }
	}
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// bench measures every ground of up to most million cells and prints the table,
// what there is of it when it is cut short.
func bench(ctx context.Context, most int) error {
	folder, err := temporary()
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	var t table
	err = measureAll(ctx, &t, most, folder)
	return errors.Join(err, t.write(os.Stdout))
}

func measureAll(ctx context.Context, t *table, most int, folder string) error {
	for _, kind := range []string{"site", "flat"} {
		for _, mcell := range []int{1, 4, 25, 100} {
			if mcell > most {
				continue
			}
			fmt.Fprintf(os.Stderr, "%s, %d million cells\n", kind, mcell)
			if err := measure(ctx, newGround(kind, mcell), folder, t.column(kind, mcell)); err != nil {
				return fmt.Errorf("%s of %d million cells: %w", kind, mcell, err)
			}
		}
	}
	return nil
}

// measure takes all figures of one ground.
func measure(ctx context.Context, g ground, folder string, c *column) error {
	if err := g.write(ctx, folder); err != nil {
		return err
	}
	defer os.Remove(g.file)
	for _, part := range []func(context.Context, ground, *column) error{route, oneShot, edits, hollows, sureness} {
		if err := part(ctx, g, c); err != nil {
			return err
		}
	}
	return nil
}
