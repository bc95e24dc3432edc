package depthview

import (
	"math"
	"testing"

	"tubewright/geom"
)

// A chord of an arc of radius R that turns by t stands R(1-cos(t/2)) off it: no
// curve, however wide, may be drawn with corners to be seen.
func TestCurvesAreDrawnRound(t *testing.T) {
	for _, r := range []float64{5, 15, 60, 250, 2000} {
		a := geom.Arc3{Centre: geom.Point3{X: 3, Z: -20}, From: geom.Vec3{X: r}, Axis: geom.Vec3{Z: 1}, Angle: 2}
		pts := points(a)
		for i := 1; i < len(pts); i++ {
			middle := pts[i-1].Add(pts[i].Sub(pts[i-1]).Mul(0.5))
			if off := r - middle.Dist(a.Centre); off > 0.05 {
				t.Fatalf("radius %v: a chord stands %.3f mm off the arc", r, off)
			}
		}
		if end := pts[len(pts)-1].Dist(a.PointAt(a.Length())); pts[0].Dist(a.PointAt(0)) > 1e-9 || end > 1e-9 || math.IsNaN(end) {
			t.Errorf("radius %v: the points do not run from end to end", r)
		}
	}
}
