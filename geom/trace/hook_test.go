package trace

import (
	"math"
	"testing"

	"tubewright/geom"
)

// The two straights of a corner meet in it, though its outside is rounded more
// tightly than the pen that drew it would: no hook past the corner and back.
func TestACornerRoundedTightlyHasNoHook(t *testing.T) {
	const half = 4.0
	c := geom.Point{X: 20, Y: 20}
	for _, share := range []float64{0.15, 0.3, 0.5, 0.7} {
		r := share * half
		l := pts(16+r, 16, 90, 16, 90, 24, 24, 24, 24, 90, 16, 90)
		l = turn(l, 16+r, 16+r, r, 180, 270)
		res := mustTrace(t, geom.Outline{contourOf(l)}, 100)
		if len(res.Strokes) != 1 || len(res.Strokes[0].Path.Segments) != 2 {
			t.Errorf("rounded by %v: %d strokes, the first of %d segments; want two straights", r, len(res.Strokes), len(res.Strokes[0].Path.Segments))
			continue
		}
		if at := res.Strokes[0].Path.Segments[0].End(); at.Dist(c) > 0.005 {
			t.Errorf("rounded by %v: the corner is %.3f from where it was drawn", r, at.Dist(c))
		}
	}
}

// A bowl thinner than its stem, whose middle therefore never comes to the
// stem's, runs into the stem along it.
func TestAThinBowlTouchesItsStem(t *testing.T) {
	const half, thin, round = 4.0, 3.5, 25.0
	for _, gap := range []float64{0.3, 0.6, 0.8} {
		c := geom.Point{X: 20 + gap + round, Y: 50}
		o := pen{half, false}.outline([][]geom.Point{{{X: 20, Y: 5}, {X: 20, Y: 95}}})
		o = append(o, contourOf(turn(nil, c.X, c.Y, round+thin, 0, 357)), contourOf(turn(nil, c.X, c.Y, round-thin, 357, 0)))
		r := mustTrace(t, o, 100)
		if len(r.Strokes) != 2 || len(r.Junctions) != 2 {
			t.Errorf("gap of %v: %d strokes, %d junctions", gap, len(r.Strokes), len(r.Junctions))
			continue
		}
		for _, s := range r.Strokes {
			if s.Ends[0].Kind != EndJunction {
				continue
			}
			for _, d := range [2]geom.Vec{s.Path.StartDir(), s.Path.EndDir()} {
				if off := math.Abs(d.X); off > 0.1 {
					t.Errorf("gap of %v: the bowl comes to its stem at %.1f°", gap, math.Asin(off)*180/math.Pi)
				}
			}
			for _, g := range s.Path.Segments {
				if a, ok := g.(geom.Arc); ok && a.Radius < round/2 {
					t.Errorf("gap of %v: the bowl has an arc of radius %.2f", gap, a.Radius)
				}
			}
		}
	}
}
