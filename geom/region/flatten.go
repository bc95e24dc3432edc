package region

import (
	"math"

	"tubewright/geom"
)

// maxPieces bounds how finely one curve is cut, so that absurd input costs
// bounded memory. 4096 chords hold a curve to about 1e-7 of its size.
const maxPieces = 4096

// Flatten replaces every curve of o by chords no further than tol (mm, > 0)
// from it. Chord ends lie on the curve. Contours of fewer than three points
// are left out; a contour that is not closed is closed by a straight.
func Flatten(o geom.Outline, tol float64) [][]geom.Point {
	var loops [][]geom.Point
	for _, c := range o {
		loop := []geom.Point{c.Start}
		at := c.Start
		for _, k := range c.Curves {
			n := pieces(at, k, tol)
			for i := 1; i < n; i++ {
				loop = append(loop, k.At(at, float64(i)/float64(n)))
			}
			loop = append(loop, k.To)
			at = k.To
		}
		if len(loop) >= 3 {
			loops = append(loops, loop)
		}
	}
	return loops
}

// pieces returns how many equal parameter steps hold k to tol: the distance
// of a Bézier piece from its chord is at most the second difference of its
// control points over 8, times degree·(degree−1), and falls with the square
// of the number of steps (the usual convex-hull bound on the second derivative).
func pieces(from geom.Point, k geom.Curve, tol float64) int {
	var d float64
	switch k.Kind {
	case geom.QuadTo:
		d = secondDifference(from, k.C1, k.To) / 4
	case geom.CubicTo:
		d = max(secondDifference(from, k.C1, k.C2), secondDifference(k.C1, k.C2, k.To)) * 0.75
	}
	n := math.Ceil(math.Sqrt(d / tol))
	if !(n > 1) {
		return 1
	}
	return int(min(n, maxPieces))
}

func secondDifference(a, b, c geom.Point) float64 {
	return math.Hypot(a.X-2*b.X+c.X, a.Y-2*b.Y+c.Y)
}
