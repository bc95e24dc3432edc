package trace

import (
	"math"
	"testing"

	"tubewright/geom"
)

// crotch returns what rounds off the inner corner between two straight edges
// that leave c: a curve that touches either n away.
func crotch(c geom.Point, degA, degB, n float64) geom.Contour {
	a, b := at(c, degA, n), at(c, degB, n)
	return geom.Contour{Start: c, Curves: []geom.Curve{
		{Kind: geom.LineTo, To: a}, {Kind: geom.QuadTo, C1: c, To: b}, {Kind: geom.LineTo, To: c},
	}}
}

// A bar runs straight to the stem it ends on, though the crotches on its two
// sides are rounded off and, the stem leaning, not alike.
func TestABarIsStraightUpToARoundedCrotch(t *testing.T) {
	const half = 4.0
	foot := geom.Point{X: 40, Y: 50}
	for deg := 60.0; deg <= 110; deg += 10 {
		o := pen{half, false}.outline([][]geom.Point{{at(foot, deg, 50), at(foot, deg+180, 50)}, {foot, at(foot, 0, 70)}})
		for _, side := range []float64{1, -1} { // the edge of the bar meets the stem's
			c := geom.Point{Y: foot.Y + side*half}
			sin, cos := math.Sincos(deg * math.Pi / 180)
			c.X = foot.X + (half+side*half*cos)/sin
			o = append(o, crotch(c, 0, deg+90-90*side, 2.5))
		}
		r := mustTrace(t, o, 100)
		if len(r.Strokes) != 2 || len(r.Junctions) != 1 {
			t.Errorf("%v°: %d strokes, %d junctions", deg, len(r.Strokes), len(r.Junctions))
			continue
		}
		if d := r.Junctions[0].At.Dist(foot); d > 0.1 {
			t.Errorf("%v°: the bar meets the stem %.3f from where it was drawn to", deg, d)
		}
		for i, s := range r.Strokes {
			if len(s.Path.Segments) != 1 {
				t.Errorf("%v°: stroke %d has %d segments, a straight has one", deg, i, len(s.Path.Segments))
			}
		}
	}
}

// A stroke does not hook at an end that is no true half circle: here one side
// of the round is cut off.
func TestALopsidedEndDoesNotHook(t *testing.T) {
	for _, cut := range []float64{35, 45, 55} {
		a, b := geom.Point{X: 50, Y: 10}, geom.Point{X: 50, Y: 90}
		l := pen{5, false}.bar(a, b, false, false)
		var kept []geom.Point
		n := geom.UnitAt(geom.Angle(cut) * geom.Degree)
		for i, p := range l {
			if q := l[(i+len(l)-1)%len(l)]; q.Dist(p) > 20 { // the walls end where the round begins
				kept = append(kept, q.Add(p.Sub(q).Mul(0.25)), q.Add(p.Sub(q).Mul(0.75)))
			}
			if d := p.Sub(b).Dot(n); d > 3.75 { // push it back to a chord of the round
				p = p.Add(n.Mul(3.75 - d))
			}
			kept = append(kept, p)
		}
		r := mustTrace(t, geom.Outline{contourOf(kept)}, 100)
		if len(r.Strokes) != 1 || len(r.Strokes[0].Path.Segments) != 1 {
			t.Errorf("cut at %v°: %d strokes, the first of %d segments; a straight is one", cut, len(r.Strokes), len(r.Strokes[0].Path.Segments))
			continue
		}
		for _, p := range drawn(r)[0] {
			if off := math.Abs(p.X - a.X); off > 0.1 {
				t.Errorf("cut at %v°: %.3f beside its line at (%.1f, %.1f)", cut, off, p.X, p.Y)
				break
			}
		}
	}
}

// The corner between two straights is where their lines meet, though it is
// squared off outside and rounded inside, which no pen does.
func TestACornerIsWhereItsStraightsMeet(t *testing.T) {
	for _, n := range []float64{1, 1.5, 2} {
		c := geom.Point{X: 20, Y: 20}
		o := pen{4, false}.outline([][]geom.Point{{at(c, 90, 70), c, at(c, 0, 70)}})
		o = append(o, contourOf(pts(16, 20, 16, 19, 19, 16, 20, 16, 20, 20)), crotch(geom.Point{X: 24, Y: 24}, 0, 90, n))
		r := mustTrace(t, o, 100)
		if len(r.Strokes) != 1 || len(r.Strokes[0].Path.Segments) != 2 {
			t.Errorf("crotch of %v: %d strokes, the first of %d segments; want two straights", n, len(r.Strokes), len(r.Strokes[0].Path.Segments))
			continue
		}
		if at := r.Strokes[0].Path.Segments[0].End(); at.Dist(c) > 0.005 {
			t.Errorf("crotch of %v: the corner is %.3f from where it was drawn", n, at.Dist(c))
		}
	}
}
