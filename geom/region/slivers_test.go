package region

import (
	"math"
	"math/rand/v2"
	"testing"

	"tubewright/geom"
)

// Edges that run along each other at an odd angle, a hair apart or not at all,
// as where strips of artwork overlap, are settled: here slivers thinner than the
// tolerance on one side of a bar, which is all the ink there is.
func TestSliversAlongABarAreSettled(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 3))
	for k := range 1500 {
		u := geom.UnitAt(geom.Angle(rng.Float64() * 2 * math.Pi))
		at := func(x, y float64) geom.Point {
			return geom.Point{X: 50, Y: 50}.Add(u.Mul(x)).Add(u.Left().Mul(y))
		}
		loops := [][]geom.Point{{at(0, 0), at(20, 0), at(20, 3), at(0, 3)}}
		for range 6 {
			x, y := 0.7*float64(rng.IntN(20)), float64(rng.IntN(4))/1000
			l := sliver(at, x, x+1+0.31*float64(rng.IntN(20)), y, y+0.001+float64(rng.IntN(3))/1000, 1+rng.IntN(12))
			if rng.IntN(3) == 0 {
				l = reversed(l)
			}
			loops = append(loops, l)
		}
		r, err := FromLoops(loops, 0.01)
		if err != nil {
			t.Errorf("case %d: %v", k, err)
			continue
		}
		for range 40 {
			x, y := -1+22*rng.Float64(), -1+5*rng.Float64()
			if d := min(x, 20-x, y, 3-y); math.Abs(d) > 0.02 && r.Contains(at(x, y)) != (d > 0) {
				t.Errorf("case %d: (%.3f, %.3f) along the bar is on the wrong side", k, x, y)
			}
		}
	}
}

// sliver returns a box with n points along either long side.
func sliver(at func(x, y float64) geom.Point, x0, x1, y0, y1 float64, n int) []geom.Point {
	var l []geom.Point
	for i := range n {
		l = append(l, at(x0+(x1-x0)*float64(i)/float64(n), y0))
	}
	for i := range n {
		l = append(l, at(x1-(x1-x0)*float64(i)/float64(n), y1))
	}
	return l
}
