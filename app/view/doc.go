// Package view draws a site as a map: the ground in relief, contours, the paths
// that water takes, standing water, and everything that is drawn on the plan.
//
// A Scene holds what is shown and a Camera where it is seen from; Draw composes
// the two onto an image of premultiplied RGBA whose top left pixel is (0, 0).
// Ground coordinates are metres, east and north. Screen coordinates are device
// pixels, right and down, from the image's top left corner; the middle of the
// first pixel is at (0.5, 0.5).
//
// The window's map is drawn by Tiles: square pieces of the map, kept by what they
// show, look and scale, laid on each frame; labels and signs are arranged for all in
// view and laid over them. See drawMap for what a layer owes to that.
//
// Colours, line widths and type sizes all come from a Palette, which can be
// scaled for dense displays and for print. A Scene is not changed once it has
// been handed over, so several goroutines may draw one.
package view
