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

// Two legs that short turns at the top join become one corner where their lines
// meet, if that lies in the ink.
func TestShortTurnsAreOneCorner(t *testing.T) {
	for _, inside := range []bool{true, false} {
		var d draft
		for _, p := range pts(10, 0, 13, 15, 16, 30, 17, 35, 17.8, 39, 18.2, 41, 18.4, 42, 18.7, 42.2, 19.3, 42.2, 19.6, 42, 19.8, 41, 20.2, 39, 21, 35, 22, 30, 25, 15, 28, 0) {
			d.add(p, 4, false)
		}
		d.gather(func(geom.Point) float64 {
			if inside {
				return 2
			}
			return 1
		})
		if !inside {
			if len(d.corners) != 0 || len(d.pts) != 16 {
				t.Errorf("a corner near the outline: %d corners, %d centres", len(d.corners), len(d.pts))
			}
			continue
		}
		if len(d.corners) != 1 {
			t.Fatalf("%d corners, want one", len(d.corners))
		}
		if got, want := d.pts[d.corners[0]], (geom.Point{X: 19, Y: 45}); got.Dist(want) > 1e-9 {
			t.Errorf("the corner is at %v, the legs meet at %v", got, want)
		}
	}
}

// An arm whose centres run along a stroke beside it is moved over to it and
// never steps across.
func TestAnArmBesideAStrokeIsMovedOver(t *testing.T) {
	const r = 2.0
	a := arm{p: geom.Point{X: -1}, d: geom.Vec{X: 1}, r: r}
	for x := 0.0; x < 6*r; x++ {
		a.back = append(a.back, geom.Point{X: -1 - x})
		a.ext = append(a.ext, geom.Point{X: x})
	}
	line := pts(-30, 1, 30, 1)
	far := boundary{pts: []wallPoint{{at: geom.Point{X: -30, Y: -9}}, {at: geom.Point{X: 30, Y: -9}}}}
	_, fill, ok := glide(&a, []host{{line: line}}, []boundary{far})
	if !ok || fill[len(fill)-1].Y != 1 {
		t.Fatalf("the arm ends at %v", fill)
	}
	last := a.p
	for i, p := range fill {
		if turn := math.Abs(p.Sub(last).Heading().Radians()); turn > 10*math.Pi/180 {
			t.Errorf("centre %d is stepped to at %.1f°", i, turn*180/math.Pi)
		}
		last = p
	}
	if end := fill[len(fill)-1].Sub(fill[len(fill)-2]); math.Abs(end.Y) > 0.05*end.X {
		t.Errorf("it comes to the stroke in the direction %v", end)
	}
}

// Of two centres in one place a draft keeps the one of the exact axis.
func TestTwoCentresInOnePlaceAreOne(t *testing.T) {
	var d draft
	for i, p := range pts(0, 0, 5, 0, 5, 0.05, 10, 0.05, 15, 0.05) {
		d.add(p, 4, i != 1)
	}
	d.tidy()
	if len(d.pts) != 4 || d.pts[1] != (geom.Point{X: 5, Y: 0.05}) || !d.trusted[1] {
		t.Errorf("kept %v, trusted %v", d.pts, d.trusted)
	}
}
