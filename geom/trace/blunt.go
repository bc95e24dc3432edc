package trace

import (
	"math"

	"tubewright/geom"
)

const (
	bluntLeast = 0.6  // half-widths of ink that must be left around a corner
	bluntDepth = 16.0 // half-widths that the tip of a corner may lie outside the ink
	bluntMost  = 0.95 // of the way from the last trusted centre to the corner that its round may take
)

// blunted rounds a corner off where the outline cuts its tip away: an arc that
// touches both arms' lines and leaves ink around it, so that the strokes stay
// straight up to there.
func blunted(a, b *arm, fill []geom.Point, corner int, runs []boundary) ([]geom.Point, int) {
	r := min(a.r, b.r)
	c := fill[corner]
	from, to := a.p, b.p
	if corner > 0 {
		from = fill[corner-1]
	}
	if corner < len(fill)-1 {
		to = fill[corner+1]
	}
	u, v := from.Sub(c).Unit(), to.Sub(c).Unit()
	in := u.Add(v).Unit()
	if clearance(runs, c) >= -0.01*r || in == (geom.Vec{}) || math.Abs(u.Cross(v)) < 0.05 {
		return fill, corner
	}
	depth := 0.0
	for s := 0.05; s <= bluntDepth; s += 0.05 {
		if depth = s * r; clearance(runs, c.Add(in.Mul(depth))) >= bluntLeast*r {
			break
		}
	}
	sin := math.Abs(u.Cross(in)) // of half the angle between the arms
	tan := sin / u.Dot(in)
	radius := depth / (1/sin - 1)
	reach := min(radius/tan, bluntMost*a.p.Dist(c), bluntMost*b.p.Dist(c))
	radius = reach * tan
	var out []geom.Point
	for _, p := range fill[:corner] {
		if p.Dist(c) > reach {
			out = append(out, p)
		}
	}
	out = append(out, filletPoints(c, u, v, reach, radius)...)
	for _, p := range fill[corner+1:] {
		if p.Dist(c) > reach {
			out = append(out, p)
		}
	}
	return out, -1
}

// filletPoints returns points of the arc that touches the rays u and v from c
// at the way reach.
func filletPoints(c geom.Point, u, v geom.Vec, reach, radius float64) []geom.Point {
	p, q := c.Add(u.Mul(reach)), c.Add(v.Mul(reach))
	side := 1.0
	if u.Cross(v) < 0 {
		side = -1
	}
	m := p.Add(u.Left().Mul(side * radius))
	turn := q.Sub(m).Unit()
	first := p.Sub(m)
	whole := float64(first.TurnTo(turn))
	n := max(4, int(math.Ceil(math.Abs(whole)/(10*math.Pi/180))))
	out := make([]geom.Point, 0, n+1)
	for i := range n + 1 {
		out = append(out, m.Add(first.Turned(geom.Angle(whole*float64(i)/float64(n)))))
	}
	return out
}
