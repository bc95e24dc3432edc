package fit

import (
	"math"

	"tubewright/geom"
)

const (
	roundedBy = 0.4  // tolerances by which a corner is cut
	roundStep = 0.25 // radians, at most, from point to point of the rounding
	sharpest  = 3    // radians: what turns more turns back, and is no corner
)

// softened returns the polyline with a small arc of points in place of each
// corner, within roundedBy of the tolerance. A closed one (the first point
// again at the end) that starts in a corner is started where it turns least.
func softened(pts []geom.Point, tol float64, closed bool) []geom.Point {
	if n := len(pts) - 1; closed && pts[0].Sub(pts[n-1]).TurnTo(pts[1].Sub(pts[0])).Abs() > turnLimit {
		pts = fromStraightest(pts)
	}
	out := make([]geom.Point, 1, len(pts))
	out[0] = pts[0]
	for i := 1; i+1 < len(pts); i++ {
		u, v := pts[i].Sub(pts[i-1]), pts[i+1].Sub(pts[i])
		turn := float64(u.TurnTo(v))
		a := math.Abs(turn)
		if a <= turnLimit || a > sharpest {
			out = append(out, pts[i])
			continue
		}
		half := a / 2
		tangent := min(roundedBy*tol/(1/math.Cos(half)-1)*math.Tan(half), 0.45*u.Norm(), 0.45*v.Norm())
		from := pts[i].Add(u.Unit().Mul(-tangent))
		arc := geom.ArcThrough(from, u, pts[i].Add(v.Unit().Mul(tangent)))
		n := int(math.Ceil(a/roundStep)) + 1
		for k := range n + 1 {
			out = append(out, arc.PointAt(arc.Length()*float64(k)/float64(n)))
		}
	}
	return append(out, pts[len(pts)-1])
}

// fromStraightest starts a closed polyline at the vertex where it turns least.
func fromStraightest(pts []geom.Point) []geom.Point {
	n := len(pts) - 1
	best, at := math.Inf(1), 0
	for i := range n {
		turn := pts[i].Sub(pts[(i+n-1)%n]).TurnTo(pts[i+1].Sub(pts[i])).Abs()
		if float64(turn) < best-1e-9 {
			best, at = float64(turn), i
		}
	}
	if at == 0 {
		return pts
	}
	out := append(append([]geom.Point(nil), pts[at:n]...), pts[:at]...)
	return append(out, pts[at])
}
