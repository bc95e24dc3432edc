package mount

import (
	"math"
	"testing"

	"tubewright/geom"
)

// Every place on the outline of a keep-out is its reach from it, whichever way its
// points go round.
func TestOutlineKeepsItsReach(t *testing.T) {
	square := []geom.Point{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 100}, {X: 0, Y: 100}}
	clockwise := []geom.Point{square[3], square[2], square[1], square[0]}
	distance := func(pts []geom.Point, filled bool, q geom.Point) float64 {
		d := pts[0].Dist(q)
		for i := 1; i < len(pts) || filled && i == len(pts); i++ {
			l := geom.Line{A: pts[i-1], B: pts[i%len(pts)]}
			d = min(d, l.PointAt(l.Nearest(q)).Dist(q))
		}
		return d
	}
	for _, k := range []struct {
		name   string
		pts    []geom.Point
		filled bool
		length float64
	}{
		{"a circle", square[:1], false, 2 * math.Pi * 10},
		{"a line", square[:2], false, 80 + 2*math.Pi*10},
		{"an area", square, true, 280 + 2*math.Pi*10},
		{"an area clockwise", clockwise, true, 280 + 2*math.Pi*10},
	} {
		paths := outline(k.pts, k.filled, 10)
		if len(paths) != 1 || math.Abs(paths[0].Length()-k.length) > 1e-6 {
			t.Fatalf("%s: %d outlines, %v mm, want %v", k.name, len(paths), paths[0].Length(), k.length)
		}
		for _, q := range paths[0].Samples(3) {
			if d := distance(k.pts, k.filled, q); math.Abs(d-10) > 1e-6 {
				t.Errorf("%s: %v is %.3f mm from it", k.name, q, d)
			}
		}
	}
}
