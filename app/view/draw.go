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
	if err := newCanvas(dst, c, p).drawScene(ctx, s); err != nil {
		return nil, err
	}
	return dst, nil
}

// drawScene lays the layers from the ground up. Labels find their places first,
// since contours leave gaps for theirs, and are written last.
func (k *canvas) drawScene(ctx context.Context, s *Scene) error {
	x := s.index()
	features := s.features()
	k.dug = x.cut.deepest > 0
	labels := k.arrange(s, x)
	shown := func(l Layers, draw func(context.Context) error) func(context.Context) error {
		if !s.Show.Has(l) {
			return func(context.Context) error { return nil }
		}
		return draw
	}
	stage := func(of stage) func(context.Context) error {
		return shown(Drawn, func(ctx context.Context) error { return k.drawStage(ctx, features, of) })
	}
	return steps(ctx,
		func(ctx context.Context) error { return k.drawGround(ctx, s, x) },
		stage(covers),
		shown(Certainty, func(ctx context.Context) error { return k.drawSure(ctx, s.Sure) }),
		shown(Contours, func(ctx context.Context) error { return k.drawContours(ctx, x, k.contourGaps(s, labels)) }),
		shown(Hollows, func(ctx context.Context) error { return k.drawHollows(ctx, s) }),
		shown(Water, func(ctx context.Context) error { return k.drawPaths(ctx, s) }),
		shown(Drawn, func(ctx context.Context) error { return k.drawCut(ctx, x.cut) }),
		stage(beds),
		shown(Standing, func(ctx context.Context) error { return k.drawPond(ctx, x.pond, k.look.Pond) }),
		shown(Stormwater, func(ctx context.Context) error { return k.drawStorm(ctx, s.Storm) }),
		stage(ways), stage(tall), stage(marks),
		func(context.Context) error { k.frameGround(s); return nil },
		shown(Fates, func(ctx context.Context) error { return k.drawTrails(ctx, s.Trails) }),
		shown(Cautions, func(context.Context) error { k.drawCautions(s); return nil }),
		func(context.Context) error { k.drawLabels(labels); return nil },
		shown(Fates, func(context.Context) error { k.drawBadges(s.Trails); return nil }),
	)
}
