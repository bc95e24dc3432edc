package trace

import (
	"math"
	"testing"

	"tubewright/geom"
)

// at returns the point a way off in a direction given in degrees.
func at(p geom.Point, deg, way float64) geom.Point {
	return p.Add(geom.UnitAt(geom.Angle(deg) * geom.Degree).Mul(way))
}

// found traces strokes of a pen and says how far they were missed.
func found(t *testing.T, half float64, strokes ...[]geom.Point) (Result, float64) {
	t.Helper()
	r := mustTrace(t, pen{half, false}.outline(strokes), 100)
	got := drawn(r)
	return r, max(hausdorff(strokes, got, 1), hausdorff(got, strokes, 1))
}

// Two strokes go straight through each other however oblique their crossing.
// The limit is what the pen's polygon cuts off: its sagitta, and a little for
// the rounding of the fit.
func TestStraightThroughAnX(t *testing.T) {
	mid := geom.Point{X: 50, Y: 50}
	for deg := 20.0; deg <= 90; deg += 5 {
		r, off := found(t, 4, []geom.Point{at(mid, 90, 60), at(mid, 270, 60)}, []geom.Point{at(mid, 90-deg, 60), at(mid, 270-deg, 60)})
		if len(r.Strokes) != 2 || len(r.Junctions) != 1 || off > 0.05 {
			t.Errorf("an X of %v°: %d strokes, %d junctions, off by %.3f", deg, len(r.Strokes), len(r.Junctions), off)
			continue
		}
		for i, s := range r.Strokes {
			if len(s.Path.Segments) != 1 {
				t.Errorf("an X of %v°: stroke %d has %d segments, a straight has one", deg, i, len(s.Path.Segments))
			}
		}
		if d := r.Junctions[0].At.Dist(mid); d > 0.05/math.Sin(deg*math.Pi/180) {
			t.Errorf("an X of %v°: crosses %.3f from its middle", deg, d)
		}
	}
}

// The bar of a T is one straight, and its stem, carried on, meets the bar's
// line where the pen did.
func TestABarMeetsTheStemsLine(t *testing.T) {
	mid := geom.Point{X: 50, Y: 50}
	for deg := 25.0; deg <= 90; deg += 5 {
		r, off := found(t, 4, []geom.Point{at(mid, 90, 60), at(mid, 270, 60)}, []geom.Point{mid, at(mid, 90-deg, 70)})
		if len(r.Strokes) != 2 || len(r.Junctions) != 1 || off > 0.06 {
			t.Errorf("a T of %v°: %d strokes, %d junctions, off by %.3f", deg, len(r.Strokes), len(r.Junctions), off)
			continue
		}
		if d := r.Junctions[0].At.Dist(mid); d > 0.05/math.Sin(deg*math.Pi/180) {
			t.Errorf("a T of %v°: meets %.3f from its place", deg, d)
		}
		for i, s := range r.Strokes {
			if len(s.Path.Segments) != 1 {
				t.Errorf("a T of %v°: stroke %d has %d segments, a straight has one", deg, i, len(s.Path.Segments))
			}
		}
	}
}

// A V has no stem, however narrow.
func TestAVHasNoStem(t *testing.T) {
	tip := geom.Point{X: 50}
	for deg := 10.0; deg <= 150; deg += 10 {
		r, off := found(t, 4, []geom.Point{at(tip, 90+deg/2, 100), tip, at(tip, 90-deg/2, 100)})
		if len(r.Strokes) != 1 || len(r.Junctions) != 0 || freeEnds(r) != 2 || off > 0.06 {
			t.Errorf("a V of %v°: %d strokes, %d junctions, %d ends, off by %.3f", deg, len(r.Strokes), len(r.Junctions), freeEnds(r), off)
		}
	}
}

// A bowl runs into its stem along it: circle and stem are found as drawn, and
// where the bowl ends on the stem it has the stem's direction to 13°.
func TestABowlRunsIntoItsStem(t *testing.T) {
	for _, half := range []float64{3, 5} {
		for _, radius := range []float64{24, 30, 38} {
			bowl := turn(nil, radius, radius, radius, 180, -180)
			r, off := found(t, half, pts(0, 0, 0, 100), bowl)
			if off > 0.05*half {
				t.Errorf("half-width %v, bowl of %v: off by %.3f", half, radius, off)
			}
			for _, s := range r.Strokes {
				for k, e := range s.Ends {
					d := []geom.Vec{s.Path.StartDir(), s.Path.EndDir()}[k]
					if e.Kind == EndJunction && math.Abs(d.X) > math.Sin(13*math.Pi/180) {
						t.Errorf("half-width %v, bowl of %v: a stroke ends at the stem in the direction %v", half, radius, d)
					}
				}
			}
		}
	}
}

// Strokes that lie on each other as script has them are kept apart: a loop
// whose counter has filled up, the sides of a narrow V told only by their
// outer walls.
func TestMergedStrokesAreKeptApart(t *testing.T) {
	loop := append(turn(pts(2, 0), 9, 60, 7, 180, 0), geom.Point{X: 0, Y: 0})
	for _, tc := range []struct {
		name    string
		half    float64
		strokes [][]geom.Point
		limit   float64
	}{
		{"filled loop", 8, [][]geom.Point{append(pts(-30, -20), append(loop[1:len(loop)-1], geom.Point{X: 40, Y: -20})...)}, 0.5},
		{"W of narrow angles", 9, [][]geom.Point{pts(0, 100, 17, 0, 40, 100, 52, 0, 85, 100)}, 0.5},
	} {
		_, off := found(t, tc.half, tc.strokes...)
		if off > tc.limit {
			t.Errorf("%s: off by %.3f, limit %v", tc.name, off, tc.limit)
		}
	}
}

// The polygon of six corners on which a segment Voronoi of Boost 1.74 lost a
// vertex (boostorg/polygon issue 43, in units of 1e-6 here): the axis of the
// right limb must reach its foot.
func TestThePolygonOfSixCorners(t *testing.T) {
	o := geom.Outline{contourOf(pts(0, 10, 0.7, 1e-6, 0.7, 9, 9.1, 9, 9.1, 0, 10, 10))}
	r := mustTrace(t, o, 10)
	low := math.Inf(1)
	for _, s := range r.Strokes {
		for _, p := range s.Path.Samples(0.05) {
			if p.X > 8.5 {
				low = min(low, p.Y)
			}
		}
	}
	if low > 1 && len(r.Notes) == 0 {
		t.Errorf("the right limb is drawn down to %.2f of its foot at 0, and no note says why: %d strokes", low, len(r.Strokes))
	}
}
