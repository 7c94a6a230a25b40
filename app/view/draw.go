package view

import (
	"context"
	"image"
)

// Draw composes the map: the scene's layers as the camera sees them on an image
// of w by h device pixels. It returns ctx's error soon after ctx ends.
func Draw(ctx context.Context, s *Scene, c Camera, w, h int, p Palette) (*image.RGBA, error) {
	if err := c.check(w, h); err != nil {
		return nil, err
	}
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	k, of := newCanvas(dst, c, p), newPlate(s)
	k.prepare(of)
	stand := k.arrange(of)
	if err := k.drawMap(ctx, of, stand.labels); err != nil {
		return nil, err
	}
	k.drawOver(of, stand)
	return dst, ctx.Err()
}

// drawMap lays the layers from the ground up, all but what stands over them:
// labels, signs and numbers. Contours leave gaps for the labels given.
//
// What a layer draws at a place must not hang on what else is in the picture, as
// the window draws its map in tiles: a line is drawn by its whole length, and what
// is let be for being out of sight is so by how far it reaches. And whatever it
// draws from must be in the scene's print, by which tiles are known: see print.go.
func (k *canvas) drawMap(ctx context.Context, p *plate, labels []label) error {
	s := p.Scene
	shown := func(l Layers, draw func(context.Context) error) func(context.Context) error {
		if !s.Show.Has(l) {
			return func(context.Context) error { return nil }
		}
		return draw
	}
	stage := func(turn stage) func(context.Context) error {
		return shown(Drawn, func(ctx context.Context) error { return k.drawStage(ctx, p, turn) })
	}
	return steps(ctx,
		func(ctx context.Context) error { return k.drawGround(ctx, s, p.x) },
		stage(covers),
		func(ctx context.Context) error { return k.drawPatches(ctx, s.patches()) },
		shown(Doubts, func(ctx context.Context) error { return k.drawThin(ctx, s.Doubt) }),
		shown(Certainty, func(ctx context.Context) error { return k.drawSure(ctx, s.Sure) }),
		shown(Contours, func(ctx context.Context) error { return k.drawContours(ctx, p.x, k.contourGaps(p, labels)) }),
		shown(Hollows, func(ctx context.Context) error { return k.drawHollows(ctx, s) }),
		shown(Water, func(ctx context.Context) error { return k.drawPaths(ctx, s) }),
		shown(Drawn, func(ctx context.Context) error { return k.drawCut(ctx, p.x.cut) }),
		stage(beds),
		shown(Standing, func(ctx context.Context) error { return k.drawPond(ctx, p.x.pond, k.look.Pond) }),
		shown(Stormwater, func(ctx context.Context) error { return k.drawStorm(ctx, s.Storm) }),
		shown(Days, func(ctx context.Context) error { return k.drawDays(ctx, p.x.days) }),
		shown(Drawn, func(ctx context.Context) error { return k.drawGhost(ctx, s.Ghost) }),
		stage(ways), stage(tall), stage(marks),
		func(context.Context) error { k.frameGround(s); return nil },
		shown(Fates, func(ctx context.Context) error { return k.drawTrails(ctx, s.Trails) }),
		func(ctx context.Context) error { return k.drawArrivals(ctx, s.Arrivals) },
	)
}

// drawOver lays what stands over the map.
func (k *canvas) drawOver(p *plate, stand arranged) {
	for _, g := range stand.signs {
		k.drawSign(g)
	}
	k.drawLabels(stand.labels)
	for i, at := range stand.badges {
		k.drawBadge(at, p.Trails[i].Number)
	}
}
