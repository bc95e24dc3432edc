package condition

import (
	"math"
	"testing"

	"tubewright/geom"
)

// The tip of a traced A: two legs and the crumbs of the ink's round end.
func TestCrumbsInACornerBecomeTheCorner(t *testing.T) {
	tip := geom.Point{X: 50, Y: 130}
	p := geom.Path{Segments: []geom.Segment{
		geom.Line{A: geom.Point{}, B: geom.Point{X: 49, Y: 127.4}},
		geom.Line{A: geom.Point{X: 49, Y: 127.4}, B: geom.Point{X: 49.6, Y: 128.4}},
		geom.Line{A: geom.Point{X: 49.6, Y: 128.4}, B: geom.Point{X: 51, Y: 127.4}},
		geom.Line{A: geom.Point{X: 51, Y: 127.4}, B: geom.Point{X: 100}},
	}}
	lim := Limits{Diameter: 12}.withDefaults()
	out := joined(swept(p, lim).Segments)
	if len(out) != 2 || out[0].End().Dist(tip) > 1e-9 || out[1].Start().Dist(tip) > 1e-9 {
		t.Fatalf("swept to %+v, want a corner at %v", out, tip)
	}
	r := Stroke(p, Limits{Diameter: 12})
	if b := r.Path.Bounds(); math.Abs(b.Max.Y-tip.Y) > 1 {
		t.Errorf("the rounded tip is %.2f mm high, drawn %.2f", b.Max.Y, tip.Y)
	}
}
