package artwork

import (
	"math"

	"tubewright/geom"
)

// ellipseArc is an elliptical arc between two points, as path data gives it.
type ellipseArc struct {
	from, to     geom.Point
	rx, ry       float64
	turn         float64 // of the ellipse's x axis, radians
	large, sweep bool
}

// curves returns the arc as cubic pieces of at most a quarter turn (SVG 1.1,
// appendix F.6: the middle from the end points, radii enlarged where they are
// too small). An arc without a radius is a line.
func (e ellipseArc) curves() []geom.Curve {
	if e.from == e.to {
		return nil
	}
	if e.rx == 0 || e.ry == 0 {
		return []geom.Curve{{Kind: geom.LineTo, To: e.to}}
	}
	sin, cos := math.Sincos(e.turn)
	half := e.from.Sub(e.to).Mul(0.5)
	x, y := half.Dot(geom.Vec{X: cos, Y: sin}), half.Dot(geom.Vec{X: -sin, Y: cos})
	rx, ry := e.rx, e.ry
	off := math.Hypot(x/rx, y/ry) // of the ends from the middle, in radii
	if off > 1 {
		rx, ry, off = float64(rx*off), float64(ry*off), 1
	}
	k := math.Sqrt(max(0, (1-off)*(1+off))) / off
	if e.large == e.sweep {
		k = -k
	}
	cx, cy := k*rx*y/ry, -k*ry*x/rx
	centre := e.from.Lerp(e.to, 0.5).Add(geom.Vec{X: cx, Y: cy}.Turned(geom.Angle(e.turn)))
	first := math.Atan2((y-cy)/ry, (x-cx)/rx)
	way := math.Atan2((-y-cy)/ry, (-x-cx)/rx) - first
	switch {
	case e.sweep && way < 0:
		way += 2 * math.Pi
	case !e.sweep && way > 0:
		way -= 2 * math.Pi
	}
	out := ellipsePieces(centre, geom.Vec{X: rx * cos, Y: rx * sin}, geom.Vec{X: -ry * sin, Y: ry * cos}, first, way)
	out[len(out)-1].To = e.to
	return out
}

// ellipsePieces returns the arc of the ellipse with half axes a and b from an
// angle over a way, as cubic pieces: 4/3·tan(quarter of the angle) is the usual
// handle, within 3e-4 of the radius.
func ellipsePieces(c geom.Point, a, b geom.Vec, first, way float64) []geom.Curve {
	n := max(1, int(math.Ceil(math.Abs(way)/(math.Pi/2)-1e-9)))
	step := way / float64(n)
	handle := 4.0 / 3 * math.Tan(step/4)
	at := func(t float64) (geom.Point, geom.Vec) {
		sin, cos := math.Sincos(t)
		return c.Add(a.Mul(cos)).Add(b.Mul(sin)), a.Mul(-sin).Add(b.Mul(cos))
	}
	var out []geom.Curve
	for i := range n {
		p, dp := at(first + step*float64(i))
		q, dq := at(first + step*float64(i+1))
		out = append(out, geom.Curve{Kind: geom.CubicTo, C1: p.Add(dp.Mul(handle)), C2: q.Add(dq.Mul(-handle)), To: q})
	}
	return out
}
